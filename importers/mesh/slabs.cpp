#include "mesh/slabs.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <set>

namespace ridgeward::mesh {
namespace {

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::scaled;

/// Sides count: a place under the joint of two planes is covered.
bool is_over(const Triangles& mesh, const Triangle& t, const Point& p) {
  constexpr double hair_m2 = 1e-9;
  int left = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const Point& a = mesh.points[t.at(i)];
    const Point& b = mesh.points[t.at((i + 1) % 3)];
    const double twice = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
    left += twice > -hair_m2 ? 1 : 0;
  }
  return left == 3;
}

struct Extent {
  double low_x;
  double low_y;
  double high_x;
  double high_y;
};

Extent extent_of(const Triangles& mesh, const Triangle& t) {
  const auto [west, east] =
      std::minmax({mesh.points[t[0]][0], mesh.points[t[1]][0], mesh.points[t[2]][0]});
  const auto [south, north] =
      std::minmax({mesh.points[t[0]][1], mesh.points[t[1]][1], mesh.points[t[2]][1]});
  return {west, south, east, north};
}

struct Placed {
  std::size_t region;
  std::size_t triangle;
  Extent extent;
};

std::vector<Placed> facing_up(const Triangles& mesh, const std::vector<Region>& regions) {
  std::vector<Placed> all;
  for (std::size_t r = 0; r < regions.size(); ++r) {
    if (regions[r].normal[2] >= least_upward) {
      for (const std::size_t t : regions[r].triangles) {
        all.push_back({r, t, extent_of(mesh, mesh.corners[t])});
      }
    }
  }
  return all;
}

/// As large as triangles are on average; none reaches over more than 200 by 200.
double size_of_cells(const std::vector<Placed>& all) {
  double sizes = 0.0;
  double widest = 0.0;
  for (const Placed& one : all) {
    const double wide =
        std::max(one.extent.high_x - one.extent.low_x, one.extent.high_y - one.extent.low_y);
    sizes += wide;
    widest = std::max(widest, wide);
  }
  const double count = std::max(static_cast<double>(all.size()), 1.0);
  return std::max({1e-3, sizes / count, widest / 200.0});
}

constexpr std::size_t most_regions = 2000;  // more are no slabs, and each is held against each

class Trimmer {
 public:
  Trimmer(Triangles& mesh, const std::vector<Region>& regions,
          const std::vector<std::size_t>& undersides, Tops& tops)
      : mesh_(&mesh), regions_(&regions), undersides_(&undersides), tops_(&tops) {}

  Trimmed run() {
    if (tops_->regions.size() > most_regions || undersides_->size() > most_regions) {
      return {};
    }
    for (std::size_t i = 0; i < tops_->borders.size(); ++i) {
      each_side(i, [&](Side side) { owner_.emplace(side, i); });
    }
    cuts_.resize(tops_->borders.size());
    for (std::size_t i = 0; i < tops_->borders.size(); ++i) {
      find_cuts(i);
    }
    if (strips_.empty()) {
      return {};
    }
    std::vector<Border> carried;
    for (std::size_t i = 0; i < tops_->borders.size(); ++i) {
      carried.push_back(carried_on(i));
    }
    tops_->borders = std::move(carried);
    for (const std::size_t strip : strips_) {
      made_.area_m2 += region(strip).area_m2;
    }
    made_.strips = strips_.size();
    for (const std::size_t strip : strips_) {
      tops_->regions.erase(tops_->regions.begin() + static_cast<std::ptrdiff_t>(strip));
      tops_->borders.erase(tops_->borders.begin() + static_cast<std::ptrdiff_t>(strip));
    }
    return made_;
  }

 private:
  const Region& region(std::size_t top) const { return (*regions_)[tops_->regions[top]]; }
  const Point& point(std::uint32_t corner) const { return mesh_->points[corner]; }

  template <class Take>
  void each_side(std::size_t top, Take take) const {
    for (const auto& ring : tops_->borders[top]) {
      for (std::size_t k = 0; k < ring.size(); ++k) {
        take(Side(ring[k], ring[(k + 1) % ring.size()]));
      }
    }
  }
  /// Of the slab whose top this is; none where no parallel underside lies near.
  std::optional<double> thickness_m(std::size_t top) const {
    constexpr double most_m = 0.8;
    constexpr double least_parallel = 0.9994;  // 2 degrees
    const Region& own = region(top);
    std::optional<double> least;
    for (const std::size_t u : *undersides_) {
      const Region& under = (*regions_)[u];
      const Triangle& any = mesh_->corners[under.triangles.front()];
      const double thick = -off(own, point(any[0]));
      if (dot(under.normal, own.normal) > least_parallel && thick > 0.01 && thick < most_m &&
          under.area_m2 > own.area_m2 / 2.0 && thick < least.value_or(most_m)) {
        least = thick;
      }
    }
    return least;
  }
  /// Strips within a hole are its reveals: the top ends there.
  void cut(std::size_t top, const std::vector<Side>& sides, double thick) {
    const std::set<Side> holes = sides_of_holes(top);
    for (const Side& side : sides) {
      if (!holes.contains(side)) {
        cuts_[top].emplace(side, thick);
      }
    }
  }
  /// Holes turn the other way around.
  std::set<Side> sides_of_holes(std::size_t top) const {
    std::set<Side> sides;
    for (const auto& ring : tops_->borders[top]) {
      importing::Ring corners;
      for (const std::uint32_t corner : ring) {
        corners.push_back(point(corner));
      }
      for (std::size_t k = 0;
           dot(importing::newell(corners), region(top).normal) < 0.0 && k < ring.size(); ++k) {
        sides.emplace(ring[k], ring[(k + 1) % ring.size()]);
      }
    }
    return sides;
  }
  /// The sides of a top beside which a strip lies.
  void find_cuts(std::size_t top) {
    const std::optional<double> thick = thickness_m(top);
    if (!thick) {
      return;
    }
    std::map<std::size_t, std::vector<Side>> beside;
    each_side(top, [&](Side side) {
      const auto at = owner_.find({side.second, side.first});
      if (at != owner_.end() && at->second != top) {
        beside[at->second].push_back(side);
      }
    });
    constexpr double square = 0.05;  // within 3 degrees
    for (const auto& [other, sides] : beside) {
      double along = 0.0;
      for (const Side& side : sides) {
        along += length(minus(point(side.second), point(side.first)));
      }
      const double width = region(other).area_m2 / std::max(along, 1e-9);
      if (std::abs(dot(region(other).normal, region(top).normal)) < square &&
          width < 1.2 * *thick) {
        strips_.insert(other);
        cut(top, sides, *thick);
      }
    }
  }
  /// Out of a top over one of its sides, in its plane.
  Point outward(std::size_t top, Side side) const {
    const Point out = cross(minus(point(side.second), point(side.first)), region(top).normal);
    return scaled(out, 1.0 / std::max(length(out), 1e-12));
  }
  Point middle(Side side) const { return scaled(plus(point(side.first), point(side.second)), 0.5); }

  /// The top across the gap beside a cut side: the nearest that has a cut side there too.
  const Region* across(std::size_t top, Side side, double thick) const {
    const Point out = outward(top, side);
    const Point from = middle(side);
    const Region* found = nullptr;
    double least = 3.0 * thick;
    for (std::size_t other = 0; other < cuts_.size(); ++other) {
      const double toward = dot(region(other).normal, out);
      if (other == top || cuts_[other].empty() || std::abs(toward) < 0.05) {
        continue;
      }
      const double way = -off(region(other), from) / toward;
      const bool is_near =
          std::any_of(cuts_[other].begin(), cuts_[other].end(), [&](const auto& cut) {
            const Point a = point(cut.first.first);
            const Point d = minus(point(cut.first.second), a);
            const double share = std::clamp(dot(minus(from, a), d) / dot(d, d), 0.0, 1.0);
            return length(minus(from, plus(a, scaled(d, share)))) < 2.0 * way + 2.0 * thick;
          });
      if (way > 0.0 && way < least && is_near) {
        least = way;
        found = &region(other);
      }
    }
    return found;
  }
  const Region* beyond(std::size_t top, Side side) const {
    const auto cut = cuts_[top].find(side);
    return cut == cuts_[top].end() || strips_.contains(top) ? nullptr
                                                            : across(top, side, cut->second);
  }
  /// Where a corner comes to lie when the sides before and after it go on to other planes.
  Point moved(std::size_t top, Side before, Side after) const {
    const Point& p = point(before.second);
    const Region* one = beyond(top, before);
    const Region* two = beyond(top, after);
    if (one != nullptr && two != nullptr && one != two) {
      const std::optional<Point> at = onto({&region(top), one, two}, p);
      return at ? *at : p;
    }
    const Region* plane = one != nullptr ? one : two;
    if (plane == nullptr) {
      return p;
    }
    // Along the side that is not cut, where that leads out; otherwise straight out.
    const Point out = outward(top, one != nullptr ? before : after);
    Point way = out;
    if (one == nullptr || two == nullptr) {
      const Side free = one == nullptr ? before : after;
      Point along = one == nullptr ? minus(p, point(free.first)) : minus(p, point(free.second));
      along = scaled(along, 1.0 / std::max(length(along), 1e-12));
      way = dot(along, out) > 0.3 ? along : out;
    }
    const double toward = dot(plane->normal, way);
    return std::abs(toward) < 0.02 ? p : plus(p, scaled(way, -off(*plane, p) / toward));
  }
  Border carried_on(std::size_t top) {
    Border border = tops_->borders[top];
    if (cuts_[top].empty()) {
      return border;
    }
    for (auto& ring : border) {
      const std::vector<std::uint32_t> was = ring;
      for (std::size_t k = 0; k < was.size(); ++k) {
        const std::uint32_t before = was[(k + was.size() - 1) % was.size()];
        const Point at = moved(top, {before, was[k]}, {was[k], was[(k + 1) % was.size()]});
        const double way = length(minus(at, point(was[k])));
        constexpr double most_m = 3.0;
        if (way > 0.0 && way < most_m) {
          made_.carried_m = std::max(made_.carried_m, way);
          ring[k] = static_cast<std::uint32_t>(mesh_->points.size());
          mesh_->points.push_back(at);
        }
      }
    }
    return border;
  }

  Triangles* mesh_;
  const std::vector<Region>* regions_;
  const std::vector<std::size_t>* undersides_;
  Tops* tops_;
  std::map<Side, std::size_t> owner_;
  std::vector<std::map<Side, double>> cuts_;      ///< of each top, with its slab's thickness
  std::set<std::size_t, std::greater<>> strips_;  ///< the last first: taken out in turn
  Trimmed made_;
};

}  // namespace

Cover::Cover(const Triangles& mesh, const std::vector<Region>& regions, double tolerance_m)
    : mesh_(&mesh), regions_(&regions), tolerance_m_(tolerance_m) {
  const std::vector<Placed> all = facing_up(mesh, regions);
  size_m_ = size_of_cells(all);
  for (const Placed& one : all) {
    const Cell low = cell_of(one.extent.low_x - 1e-6, one.extent.low_y - 1e-6);
    const Cell high = cell_of(one.extent.high_x + 1e-6, one.extent.high_y + 1e-6);
    for (std::int64_t i = low.first; i <= high.first; ++i) {
      for (std::int64_t j = low.second; j <= high.second; ++j) {
        cells_[{i, j}].push_back({one.region, one.triangle});
      }
    }
  }
}

Cover::Cell Cover::cell_of(double x, double y) const {
  return {static_cast<std::int64_t>(std::floor(x / size_m_)),
          static_cast<std::int64_t>(std::floor(y / size_m_))};
}

bool Cover::is_covered(std::size_t region, const Point& p) const {
  const auto at = cells_.find(cell_of(p[0], p[1]));
  if (at == cells_.end()) {
    return false;
  }
  return std::any_of(at->second.begin(), at->second.end(), [&](const Piece& piece) {
    if (piece.region == region) {
      return false;
    }
    const Region& other = (*regions_)[piece.region];
    const double above = -off(other, p) / other.normal[2];
    const bool is_higher = above > tolerance_m_ || (above > -tolerance_m_ && piece.region < region);
    return is_higher && is_over(*mesh_, mesh_->corners[piece.triangle], p);
  });
}

double Cover::open_m2(std::size_t region) const {
  double open = 0.0;
  for (const std::size_t t : (*regions_)[region].triangles) {
    const Triangle& own = mesh_->corners[t];
    const Point sum =
        plus(plus(mesh_->points[own[0]], mesh_->points[own[1]]), mesh_->points[own[2]]);
    if (!is_covered(region, scaled(sum, 1.0 / 3.0))) {
      open += length(normal_of(*mesh_, own)) / 2.0;
    }
  }
  return open;
}

Trimmed trim(Triangles& mesh, const std::vector<Region>& regions,
             const std::vector<std::size_t>& undersides, Tops& tops) {
  return Trimmer(mesh, regions, undersides, tops).run();
}

}  // namespace ridgeward::mesh
