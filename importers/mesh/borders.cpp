#include "mesh/borders.hpp"

#include "support/vectors.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <utility>
#include <vector>

namespace ridgeward::mesh {
namespace {

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::Point;
using importing::scaled;

constexpr std::size_t least_triangles = 16;
constexpr std::size_t least_sides = 4;
constexpr std::size_t nobody = static_cast<std::size_t>(-1);

/// A line in a plane.
struct Line {
  Point at{};
  Point along{};  ///< of length 1
};

using Run = std::vector<std::uint32_t>;

/// Along the longest spread of some corners.
Line line_through(const Triangles& mesh, const Run& run, const Point& normal) {
  Point middle{0.0, 0.0, 0.0};
  for (const std::uint32_t corner : run) {
    middle = plus(middle, scaled(mesh.points[corner], 1.0 / static_cast<double>(run.size())));
  }
  const Point reach = minus(mesh.points[run.back()], mesh.points[run.front()]);
  const Point level = minus(reach, scaled(normal, dot(reach, normal)));
  const Point u = scaled(level, 1.0 / std::max(length(level), 1e-12));
  const Point v = cross(normal, u);
  double uu = 0.0;
  double uv = 0.0;
  double vv = 0.0;
  for (const std::uint32_t corner : run) {
    const Point d = minus(mesh.points[corner], middle);
    uu += dot(d, u) * dot(d, u);
    uv += dot(d, u) * dot(d, v);
    vv += dot(d, v) * dot(d, v);
  }
  const double turn = std::atan2(2.0 * uv, uu - vv) / 2.0;
  return {middle, plus(scaled(u, std::cos(turn)), scaled(v, std::sin(turn)))};
}

double away_from(const Line& line, const Point& p) {
  return length(cross(line.along, minus(p, line.at)));
}

/// Where a line crosses another of its plane; none where they run nearly the same way.
std::optional<Point> crossing(const Line& a, const Line& b, const Point& normal) {
  const Point across = cross(normal, b.along);
  const double toward = dot(a.along, across);
  constexpr double least = 0.15;
  return std::abs(toward) < least
             ? std::nullopt
             : std::optional(plus(a.at, scaled(a.along, dot(minus(b.at, a.at), across) / toward)));
}

class Straightener {
 public:
  Straightener(Triangles& mesh, const std::vector<Region>& regions, Tops& tops, double tolerance_m)
      : mesh_(&mesh), regions_(&regions), tops_(&tops), tolerance_m_(tolerance_m) {}

  void run() {
    for (std::size_t top = 0; top < tops_->borders.size(); ++top) {
      for (const auto& ring : tops_->borders[top]) {
        for (std::size_t k = 0; k < ring.size(); ++k) {
          owner_.emplace(Side(ring[k], ring[(k + 1) % ring.size()]), top);
        }
      }
    }
    for (std::size_t top = 0; top < tops_->borders.size(); ++top) {
      if (region(top).triangles.size() >= least_triangles) {
        for (Run& ring : tops_->borders[top]) {
          straighten(top, ring);
        }
      }
    }
    for (const auto& [corner, places] : places_) {
      Point sum{0.0, 0.0, 0.0};
      for (const Point& place : places) {
        sum = plus(sum, scaled(place, 1.0 / static_cast<double>(places.size())));
      }
      mesh_->points[corner] = sum;
    }
  }

 private:
  const Region& region(std::size_t top) const { return (*regions_)[tops_->regions[top]]; }

  std::size_t beside(const Run& ring, std::size_t k) const {
    const auto at = owner_.find({ring[(k + 1) % ring.size()], ring[k % ring.size()]});
    return at == owner_.end() ? nobody : at->second;
  }
  /// Whether one line does for all.
  bool is_straight(const Run& run, const Line& line) const {
    double squares = 0.0;
    double most = 0.0;
    for (const std::uint32_t corner : run) {
      const double away = away_from(line, mesh_->points[corner]);
      squares += away * away;
      most = std::max(most, away);
    }
    constexpr double share = 0.6;
    return most < 2.0 * tolerance_m_ &&
           std::sqrt(squares / static_cast<double>(run.size())) < share * tolerance_m_;
  }
  /// Parts a run where it lies farthest from the line between its ends, until each is straight.
  void part(const Run& run, const Point& normal, std::vector<Run>& parts) const {
    if (run.size() < 3 || is_straight(run, line_through(*mesh_, run, normal))) {
      parts.push_back(run);
      return;
    }
    const Point from = mesh_->points[run.front()];
    const Point way = minus(mesh_->points[run.back()], from);
    const bool is_ring = length(way) < 1e-9;
    const Line line{from, scaled(way, 1.0 / std::max(length(way), 1e-12))};
    std::size_t farthest = 1;
    double most = -1.0;
    for (std::size_t k = 1; k + 1 < run.size(); ++k) {
      const Point& p = mesh_->points[run[k]];
      const double away = is_ring ? length(minus(p, from)) : away_from(line, p);
      if (away > most) {
        most = away;
        farthest = k;
      }
    }
    const auto middle = run.begin() + static_cast<std::ptrdiff_t>(farthest);
    part(Run(run.begin(), middle + 1), normal, parts);
    part(Run(middle, run.end()), normal, parts);
  }
  /// A corner moves no farther than noise has brought it.
  void place(std::uint32_t corner, const std::optional<Point>& at) {
    constexpr double most = 6.0;
    if (at && length(minus(*at, mesh_->points[corner])) < most * tolerance_m_) {
      places_[corner].push_back(*at);
    }
  }
  /// The line of a plane that it shares with another.
  std::optional<Line> shared(std::size_t top, std::size_t other, const Point& near) const {
    const Point along = cross(region(top).normal, region(other).normal);
    constexpr double least = 0.01;
    const std::optional<Point> at = onto({&region(top), &region(other)}, near);
    return length(along) < least || !at
               ? std::nullopt
               : std::optional(Line{*at, scaled(along, 1.0 / length(along))});
  }
  /// `before`, `after`: the tops beside the run's ends.
  Run straightened(std::size_t top, const Run& run, std::size_t before, std::size_t after) {
    const Point& normal = region(top).normal;
    std::vector<Run> parts;
    part(run, normal, parts);
    const bool is_sliver = run.front() == run.back() && parts.size() < 3;
    if (is_sliver || run.size() <= least_sides * parts.size()) {
      return run;
    }
    std::vector<Line> lines;
    lines.reserve(parts.size());
    for (const Run& one : parts) {
      lines.push_back(line_through(*mesh_, one, normal));
    }
    Run corners{run.front()};
    for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
      place(parts[i].back(), crossing(lines[i], lines[i + 1], normal));
      corners.push_back(parts[i].back());
    }
    const auto end = [&](std::uint32_t corner, const Line& line, std::size_t other) {
      const auto crease =
          other == nobody ? std::nullopt : shared(top, other, mesh_->points[corner]);
      place(corner, crease ? crossing(line, *crease, normal) : std::nullopt);
    };
    if (run.front() == run.back()) {
      place(run.front(), crossing(lines.back(), lines.front(), normal));
    } else {
      end(run.front(), lines.front(), before);
      end(run.back(), lines.back(), after);
      corners.push_back(run.back());
    }
    return corners;
  }
  /// The ring from a corner on where who is beside it changes.
  void straighten(std::size_t top, Run& ring) {
    std::size_t start = 0;
    while (start < ring.size() &&
           (beside(ring, start) == nobody) == (beside(ring, start + ring.size() - 1) == nobody)) {
      ++start;
    }
    if (start == ring.size()) {
      start = sharpest(ring);
      if (beside(ring, start) != nobody) {
        return;
      }
    }
    std::rotate(ring.begin(), ring.begin() + static_cast<std::ptrdiff_t>(start), ring.end());
    Run made;
    for (std::size_t k = 0; k < ring.size();) {
      if (beside(ring, k) != nobody) {
        made.push_back(ring[k++]);
        continue;
      }
      const std::size_t first = k;
      Run run{ring[k]};
      while (k < ring.size() && beside(ring, k) == nobody) {
        run.push_back(ring[++k % ring.size()]);
      }
      Run corners = straightened(top, run, beside(ring, first + ring.size() - 1), beside(ring, k));
      if (corners.size() > 1 && corners.back() == run.back() && run.front() != run.back()) {
        corners.pop_back();  // begins the next run
      }
      made.insert(made.end(), corners.begin(), corners.end());
    }
    ring = std::move(made);
  }
  /// The place of the corner that lies farthest out.
  std::size_t sharpest(const Run& ring) const {
    Point middle{0.0, 0.0, 0.0};
    for (const std::uint32_t corner : ring) {
      middle = plus(middle, scaled(mesh_->points[corner], 1.0 / static_cast<double>(ring.size())));
    }
    const auto at = std::max_element(ring.begin(), ring.end(), [&](auto a, auto b) {
      return length(minus(mesh_->points[a], middle)) < length(minus(mesh_->points[b], middle));
    });
    return static_cast<std::size_t>(at - ring.begin());
  }

  Triangles* mesh_;
  const std::vector<Region>* regions_;
  Tops* tops_;
  double tolerance_m_;
  std::map<Side, std::size_t> owner_;
  std::map<std::uint32_t, std::vector<Point>> places_;  ///< where sides want corners to lie
};

}  // namespace

void straighten(Triangles& mesh, const std::vector<Region>& regions, Tops& tops,
                double tolerance_m) {
  Straightener(mesh, regions, tops, tolerance_m).run();
}

}  // namespace ridgeward::mesh
