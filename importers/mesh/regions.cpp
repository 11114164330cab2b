#include "mesh/regions.hpp"

#include "support/vectors.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <utility>

namespace ridgeward::mesh {

namespace {

constexpr double least_cosine = 0.9986;    // 3 degrees
constexpr double least_upward = 0.05;      // of the normal: flatter than 87 degrees
constexpr double least_region_m2 = 0.005;  // smaller ones are crumbs
constexpr double least_width_m = 0.02;     // narrower ones are edges of sheets

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::scaled;
using Triangle = std::array<std::uint32_t, 3>;
using Side = std::pair<std::uint32_t, std::uint32_t>;

/// Normal with the triangle's doubled area as length.
Point normal_of(const Triangles& mesh, const Triangle& t) {
  return cross(minus(mesh.points[t[1]], mesh.points[t[0]]),
               minus(mesh.points[t[2]], mesh.points[t[0]]));
}

struct Region {
  Point normal{0.0, 0.0, 1.0};
  double offset = 0.0;
  double area_m2 = 0.0;
  std::vector<std::size_t> triangles;
};

double off(const Region& region, const Point& p) { return dot(region.normal, p) - region.offset; }

class Grower {
 public:
  Grower(const Triangles& mesh, double tolerance_m) : mesh_(mesh), tolerance_m_(tolerance_m) {
    for (std::size_t t = 0; t < mesh.corners.size(); ++t) {
      for (std::size_t i = 0; i < 3; ++i) {
        beside_.emplace(Side(mesh.corners[t].at(i), mesh.corners[t].at((i + 1) % 3)), t);
      }
    }
  }

  std::vector<Region> run() {
    std::vector<std::size_t> order(mesh_.corners.size());
    std::vector<double> sizes(order.size());
    for (std::size_t t = 0; t < order.size(); ++t) {
      order[t] = t;
      sizes[t] = length(normal_of(mesh_, mesh_.corners[t]));
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return sizes[a] > sizes[b]; });
    taken_.assign(order.size(), false);
    std::vector<Region> regions;
    for (const std::size_t seed : order) {
      if (!taken_[seed]) {
        regions.push_back(grow(seed));
      }
    }
    return regions;
  }

 private:
  Region grow(std::size_t seed) {
    Region region;
    const Point across = normal_of(mesh_, mesh_.corners[seed]);
    region.normal = scaled(across, 1.0 / length(across));
    region.offset = dot(region.normal, mesh_.points[mesh_.corners[seed][0]]);
    std::vector<std::size_t> open{seed};
    taken_[seed] = true;
    while (!open.empty()) {
      const std::size_t t = open.back();
      open.pop_back();
      region.triangles.push_back(t);
      for (std::size_t i = 0; i < 3; ++i) {
        const Side side(mesh_.corners[t].at(i), mesh_.corners[t].at((i + 1) % 3));
        const auto at = beside_.find({side.second, side.first});
        if (at != beside_.end() && !taken_[at->second] && belongs(region, at->second)) {
          taken_[at->second] = true;
          open.push_back(at->second);
        }
      }
    }
    settle(region);
    return region;
  }
  bool belongs(const Region& region, std::size_t t) const {
    const Point across = normal_of(mesh_, mesh_.corners[t]);
    const bool is_near =
        std::all_of(mesh_.corners[t].begin(), mesh_.corners[t].end(), [&](std::uint32_t corner) {
          return std::abs(off(region, mesh_.points[corner])) <= tolerance_m_;
        });
    // The normal of a sliver says nothing: being near has to do.
    const bool is_sliver = length(across) < 4.0 * tolerance_m_ * tolerance_m_;
    return is_near && (is_sliver || dot(across, region.normal) > least_cosine * length(across));
  }
  /// To the middle of its triangles, each by its area.
  void settle(Region& region) const {
    Point normal{0.0, 0.0, 0.0};
    Point middle{0.0, 0.0, 0.0};
    double whole = 0.0;
    for (const std::size_t t : region.triangles) {
      const Point across = normal_of(mesh_, mesh_.corners[t]);
      const double area = length(across);
      normal = plus(normal, across);
      whole += area;
      for (const std::uint32_t corner : mesh_.corners[t]) {
        middle = plus(middle, scaled(mesh_.points[corner], area / 3.0));
      }
    }
    region.area_m2 = whole / 2.0;
    region.normal = scaled(normal, 1.0 / length(normal));
    region.offset = dot(region.normal, middle) / whole;
  }

  const Triangles& mesh_;
  double tolerance_m_;
  std::map<Side, std::size_t> beside_;
  std::vector<bool> taken_;
};

/// The nearest point to p on one to three planes; none where they don't meet in one place.
std::optional<Point> onto(const std::vector<const Region*>& planes, const Point& p) {
  Point q = p;
  if (planes.size() == 3) {
    const Point bc = cross(planes[1]->normal, planes[2]->normal);
    const double whole = dot(planes[0]->normal, bc);
    if (std::abs(whole) < 0.01) {
      return std::nullopt;
    }
    q = plus(plus(scaled(bc, planes[0]->offset),
                  scaled(cross(planes[2]->normal, planes[0]->normal), planes[1]->offset)),
             scaled(cross(planes[0]->normal, planes[1]->normal), planes[2]->offset));
    return scaled(q, 1.0 / whole);
  }
  if (planes.size() == 2) {
    const double c = dot(planes[0]->normal, planes[1]->normal);
    if (std::abs(c) > 0.99995) {
      return std::nullopt;
    }
    const double a = off(*planes[0], p);
    const double b = off(*planes[1], p);
    const double from_a = (a - c * b) / (1.0 - c * c);
    const double from_b = (b - c * a) / (1.0 - c * c);
    return minus(minus(p, scaled(planes[0]->normal, from_a)), scaled(planes[1]->normal, from_b));
  }
  return minus(p, scaled(planes[0]->normal, off(*planes[0], p)));
}

/// Moves corners onto their planes, the largest ones first. Returns the longest move.
double make_exact(Triangles& mesh, const std::vector<Region>& regions, double tolerance_m) {
  std::vector<std::set<std::size_t>> at(mesh.points.size());
  for (std::size_t r = 0; r < regions.size(); ++r) {
    for (const std::size_t t : regions[r].triangles) {
      for (const std::uint32_t corner : mesh.corners[t]) {
        at[corner].insert(r);
      }
    }
  }
  double most = 0.0;
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    std::vector<const Region*> planes;
    for (const std::size_t r : at[i]) {
      planes.push_back(&regions[r]);
    }
    std::stable_sort(planes.begin(), planes.end(),
                     [](const Region* a, const Region* b) { return a->area_m2 > b->area_m2; });
    planes.resize(std::min<std::size_t>(planes.size(), 3));
    for (; !planes.empty(); planes.pop_back()) {
      const std::optional<Point> moved = onto(planes, mesh.points[i]);
      const double way = moved ? length(minus(*moved, mesh.points[i])) : 0.0;
      if (moved && way <= 3.0 * tolerance_m) {
        most = std::max(most, way);
        mesh.points[i] = *moved;
        break;
      }
    }
  }
  return most;
}

/// Sides of the region that no other triangle of it shares, in closed runs.
importing::Polygon border_of(const Triangles& mesh, const Region& region) {
  std::set<Side> sides;
  for (const std::size_t t : region.triangles) {
    for (std::size_t i = 0; i < 3; ++i) {
      sides.emplace(mesh.corners[t].at(i), mesh.corners[t].at((i + 1) % 3));
    }
  }
  std::multimap<std::uint32_t, std::uint32_t> next;
  for (const Side& side : sides) {
    if (!sides.contains({side.second, side.first})) {
      next.emplace(side);
    }
  }
  importing::Polygon rings;
  while (!next.empty()) {
    importing::Ring ring;
    const std::uint32_t start = next.begin()->first;
    auto at = next.begin();
    while (at != next.end()) {
      ring.push_back(mesh.points[at->first]);
      const std::uint32_t to = at->second;
      next.erase(at);
      at = to == start ? next.end() : next.find(to);
    }
    if (ring.size() > 2) {
      rings.push_back(std::move(ring));
    }
  }
  // The outer ring is the largest.
  std::stable_sort(rings.begin(), rings.end(), [](const auto& a, const auto& b) {
    return length(importing::newell(a)) > length(importing::newell(b));
  });
  return rings;
}

/// Area over length.
double width_of(const Region& region, const importing::Polygon& border) {
  double longest = 1e-9;
  for (const Point& p : border.front()) {
    longest = std::max(longest, length(minus(p, border.front().front())));
  }
  return region.area_m2 / longest;
}

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

/// Whether another region lies over the middle of every larger triangle of `regions[number]`. Of
/// two that coincide the later one is hidden.
bool is_hidden(const Triangles& mesh, const std::vector<Region>& regions, std::size_t number,
               double tolerance_m) {
  const Region& region = regions[number];
  for (const std::size_t t : region.triangles) {
    const Triangle& own = mesh.corners[t];
    const Point middle = scaled(
        plus(plus(mesh.points[own[0]], mesh.points[own[1]]), mesh.points[own[2]]), 1.0 / 3.0);
    bool is_covered = false;
    for (std::size_t r = 0; r < regions.size() && !is_covered; ++r) {
      const Region& other = regions[r];
      if (r == number || other.normal[2] < least_upward) {
        continue;
      }
      const double above = -off(other, middle) / other.normal[2];
      const bool is_higher = above > tolerance_m || (above > -tolerance_m && r < number);
      is_covered = is_higher &&
                   std::any_of(other.triangles.begin(), other.triangles.end(), [&](std::size_t k) {
                     return is_over(mesh, mesh.corners[k], middle);
                   });
    }
    if (!is_covered) {
      return false;
    }
  }
  return true;
}

/// What single precision leaves open of the farthest corner.
double lost_of(const Triangles& mesh) {
  double most = 0.0;
  for (const Point& p : mesh.points) {
    most = std::max({most, std::abs(p[0]), std::abs(p[1]), std::abs(p[2])});
  }
  return most * static_cast<double>(std::numeric_limits<float>::epsilon());
}

}  // namespace

void weld(Triangles& mesh, double tolerance_m) {
  std::map<std::array<std::int64_t, 3>, std::uint32_t> cells;
  std::vector<Point> points;
  std::vector<std::uint32_t> now(mesh.points.size());
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    const Point& p = mesh.points[i];
    std::array<std::int64_t, 3> cell{};
    for (std::size_t k = 0; k < 3; ++k) {
      cell.at(k) = static_cast<std::int64_t>(std::floor(p.at(k) / tolerance_m));
    }
    std::optional<std::uint32_t> same;
    for (int n = 0; n < 27 && !same; ++n) {
      const auto at =
          cells.find({cell[0] + n % 3 - 1, cell[1] + n / 3 % 3 - 1, cell[2] + n / 9 - 1});
      if (at != cells.end() && length(minus(points[at->second], p)) <= tolerance_m) {
        same = at->second;
      }
    }
    if (!same) {
      same = static_cast<std::uint32_t>(points.size());
      cells.emplace(cell, *same);
      points.push_back(p);
    }
    now[i] = *same;
  }
  for (Triangle& t : mesh.corners) {
    t = {now[t[0]], now[t[1]], now[t[2]]};
  }
  mesh.points = std::move(points);
  std::erase_if(mesh.corners, [&](const Triangle& t) {
    return t[0] == t[1] || t[1] == t[2] || t[2] == t[0] || length(normal_of(mesh, t)) < 1e-12;
  });
}

Flat flat_regions(Triangles mesh, double tolerance_m) {
  const std::vector<Region> regions = Grower(mesh, tolerance_m).run();
  Flat flat;
  flat.moved_m = make_exact(mesh, regions, tolerance_m);
  for (std::size_t r = 0; r < regions.size(); ++r) {
    if (regions[r].normal[2] < least_upward || regions[r].area_m2 < least_region_m2) {
      continue;
    }
    if (is_hidden(mesh, regions, r, tolerance_m)) {
      ++flat.hidden;
      continue;
    }
    importing::Polygon border = border_of(mesh, regions[r]);
    if (!border.empty() && width_of(regions[r], border) > least_width_m) {
      flat.up.push_back(std::move(border));
    }
  }
  return flat;
}

void give_planes(Triangles mesh, const Sought& sought, const importing::Host& host) {
  const double lost_m = sought.is_single ? lost_of(mesh) : 0.0;
  weld(mesh, std::min(sought.tolerance_m / 10.0, 0.001));
  if (!host.go_on(0.3)) {
    return;
  }
  std::array<char, 200> words{};
  if (lost_m > sought.tolerance_m / 4.0) {
    std::snprintf(words.data(), words.size(),
                  "corners so far from the origin are known to %.1g m only (single precision): "
                  "move the model near the origin and export it again",
                  lost_m);
    host.note(words.data());
  }
  Flat flat = flat_regions(std::move(mesh), sought.tolerance_m);
  if (flat.up.empty()) {
    throw importing::Refused(
        "", "nothing flat faces up",
        "check which axis is up (option up), and that triangles are anticlockwise");
  }
  std::snprintf(words.data(), words.size(),
                "%zu %s up, flat to %g m; hidden and left out: %zu; corners were moved by up to "
                "%.4f m onto their planes",
                flat.up.size(), flat.up.size() == 1 ? "plane faces" : "planes face",
                sought.tolerance_m, flat.hidden, flat.moved_m);
  host.note(words.data());
  for (importing::Polygon& polygon : flat.up) {
    for (importing::Ring& ring : polygon) {
      for (Point& p : ring) {
        p = plus(p, sought.moved_by);
      }
    }
  }
  host.emit(importing::planes_json("", {{sought.id, 0.0, std::move(flat.up)}}, sought.tolerance_m,
                                   "m", sought.north_deg));
}

}  // namespace ridgeward::mesh
