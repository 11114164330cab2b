#include "mesh/joints.hpp"

#include "mesh/grow.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace ridgeward::mesh {

namespace {

using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::scaled;

constexpr std::size_t most_steps = 4000000;

class Parter {
 public:
  Parter(Triangles& mesh, double tolerance_m) : mesh_(&mesh), tolerance_m_(tolerance_m) {
    std::set<Side> sides;
    for (const Triangle& t : mesh.corners) {
      for (std::size_t i = 0; i < 3; ++i) {
        sides.emplace(t.at(i), t.at((i + 1) % 3));
      }
    }
    double sum_m = 0.0;
    for (const Side& side : sides) {
      if (!sides.contains({side.second, side.first})) {
        loose_.push_back(side);
        sum_m += length(minus(at(side.second), at(side.first)));
      }
    }
    cell_m_ = std::max(sum_m / static_cast<double>(std::max<std::size_t>(loose_.size(), 1)),
                       4.0 * tolerance_m);
    std::set<std::uint32_t> corners;
    for (const Side& side : loose_) {
      corners.insert({side.first, side.second});
    }
    for (const std::uint32_t corner : corners) {
      cells_.emplace(cell_of(at(corner)), corner);
    }
  }

  std::size_t run() {
    for (const Side& side : loose_) {
      if (!look_along(side)) {
        return 0;
      }
    }
    if (on_.empty()) {
      return 0;
    }
    std::vector<Triangle> done;
    std::vector<Triangle> open(mesh_->corners.rbegin(), mesh_->corners.rend());
    while (!open.empty()) {
      const Triangle t = open.back();
      open.pop_back();
      if (!part(t, open)) {
        done.push_back(t);
      }
    }
    const std::size_t added = done.size() - mesh_->corners.size();
    mesh_->corners = std::move(done);
    return added;
  }

 private:
  using Cell = std::array<std::int64_t, 3>;
  const Point& at(std::uint32_t corner) const { return mesh_->points[corner]; }
  Cell cell_of(const Point& p) const {
    return {static_cast<std::int64_t>(std::floor(p[0] / cell_m_)),
            static_cast<std::int64_t>(std::floor(p[1] / cell_m_)),
            static_cast<std::int64_t>(std::floor(p[2] / cell_m_))};
  }
  /// Finds the corners on a side, in their order; false where that takes too long.
  bool look_along(const Side& side) {
    const Point& a = at(side.first);
    const Point way = minus(at(side.second), a);
    const double size = length(way);
    std::set<std::pair<double, std::uint32_t>> found;
    const auto steps = static_cast<std::size_t>(std::ceil(size / cell_m_));
    for (std::size_t step = 0; step <= steps; ++step) {
      const double share = static_cast<double>(step) / static_cast<double>(steps);
      for (const std::uint32_t corner : near(plus(a, scaled(way, share)))) {
        const double along = dot(minus(at(corner), a), way) / size;
        if (is_on(corner, a, way, along)) {
          found.emplace(along, corner);
        }
      }
    }
    for (const auto& [along, corner] : found) {
      on_[side].push_back(corner);
    }
    return steps_ < most_steps;
  }
  /// Corners in the cells around a place.
  std::vector<std::uint32_t> near(const Point& p) {
    const Cell middle = cell_of(p);
    std::vector<std::uint32_t> corners;
    for (std::int64_t n = 0; n < 27 && steps_ < most_steps; ++n) {
      const auto [from, to] = cells_.equal_range(
          {middle[0] + n % 3 - 1, middle[1] + n / 3 % 3 - 1, middle[2] + n / 9 - 1});
      for (auto one = from; one != to; ++one, ++steps_) {
        corners.push_back(one->second);
      }
    }
    return corners;
  }
  /// Between the ends of a side, and nearer to it than the tolerance.
  bool is_on(std::uint32_t corner, const Point& a, const Point& way, double along) const {
    const double size = length(way);
    const Point foot = plus(a, scaled(way, along / size));
    return along > tolerance_m_ && along < size - tolerance_m_ &&
           length(minus(at(corner), foot)) <= tolerance_m_;
  }
  /// Parts a triangle along its first side that has corners on it, unless that would turn a piece.
  bool part(const Triangle& t, std::vector<Triangle>& open) {
    const Point normal = normal_of(*mesh_, t);
    for (std::size_t i = 0; i < 3; ++i) {
      const std::uint32_t last = t.at((i + 1) % 3);
      const std::uint32_t tip = t.at((i + 2) % 3);
      const auto on = on_.find({t.at(i), last});
      if (on == on_.end()) {
        continue;
      }
      std::vector<Triangle> pieces;
      std::uint32_t from = t.at(i);
      for (const std::uint32_t to : on->second) {
        pieces.push_back({from, to, tip});
        from = to;
      }
      pieces.push_back({from, last, tip});
      const bool is_good = std::all_of(pieces.begin(), pieces.end(), [&](const Triangle& piece) {
        const Point own = normal_of(*mesh_, piece);
        return dot(own, normal) > 0.9 * length(own) * length(normal);
      });
      if (is_good) {
        open.insert(open.end(), pieces.begin(), pieces.end());
        return true;
      }
    }
    return false;
  }

  Triangles* mesh_;
  double tolerance_m_;
  double cell_m_ = 1.0;
  std::size_t steps_ = 0;
  std::vector<Side> loose_;
  std::multimap<Cell, std::uint32_t> cells_;
  std::map<Side, std::vector<std::uint32_t>> on_;
};

}  // namespace

std::size_t part_at_joints(Triangles& mesh, double tolerance_m) {
  return Parter(mesh, tolerance_m).run();
}

}  // namespace ridgeward::mesh
