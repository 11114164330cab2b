#include "mesh/grow.hpp"

#include "support/vectors.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <utility>

namespace ridgeward::mesh {

namespace {

constexpr double least_turn = 0.0523;      // sine of 3 degrees
constexpr double most_turn = 0.5;          // of 30 degrees
constexpr double most_stray_turn = 0.866;  // of 60 degrees
constexpr double farther = 2.5;  // than the tolerance noise may lie, in regions of many triangles
constexpr int most_rounds = 12;
constexpr std::size_t least_many = 16;  // triangles of a region that tell noise from shape

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::scaled;
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
    take_in_strays(regions);
    join(regions);
    return regions;
  }

 private:
  /// Noisy triangles tell their plane badly: the region is grown again from the plane that it
  /// told, until that gives no more.
  Region grow(std::size_t seed) {
    Region region;
    const Point across = normal_of(mesh_, mesh_.corners[seed]);
    region.normal = scaled(across, 1.0 / length(across));
    region.offset = dot(region.normal, mesh_.points[mesh_.corners[seed][0]]);
    flood(region, seed);
    settle(region);
    for (int round = 0; round < most_rounds; ++round) {
      Region again = region;
      release(region);
      flood(again, seed);
      if (again.triangles.size() <= region.triangles.size()) {
        release(again);
        take(region);
        break;
      }
      settle(again);
      region = std::move(again);
    }
    return region;
  }
  void release(const Region& region) {
    for (const std::size_t t : region.triangles) {
      taken_[t] = false;
    }
  }
  void take(const Region& region) {
    for (const std::size_t t : region.triangles) {
      taken_[t] = true;
    }
  }
  void flood(Region& region, std::size_t seed) {
    region.triangles.clear();
    std::vector<std::size_t> open{seed};
    taken_[seed] = true;
    while (!open.empty()) {
      const std::size_t t = open.back();
      open.pop_back();
      region.triangles.push_back(t);
      for (std::size_t i = 0; i < 3; ++i) {
        const Side side(mesh_.corners[t].at(i), mesh_.corners[t].at((i + 1) % 3));
        const auto at = beside_.find({side.second, side.first});
        if (at != beside_.end() && !taken_[at->second] &&
            belongs(region, at->second, tolerance_m_, most_turn)) {
          taken_[at->second] = true;
          open.push_back(at->second);
        }
      }
    }
  }
  /// Corners within the tolerance may turn a small triangle by more than a large one.
  bool belongs(const Region& region, std::size_t t, double tolerance_m, double most) const {
    const Triangle& own = mesh_.corners[t];
    double longest = 0.0;
    for (std::size_t i = 0; i < 3; ++i) {
      const Point& p = mesh_.points[own.at(i)];
      if (std::abs(off(region, p)) > tolerance_m) {
        return false;
      }
      longest = std::max(longest, length(minus(mesh_.points[own.at((i + 1) % 3)], p)));
    }
    const Point across = normal_of(mesh_, own);
    const double doubled = length(across);
    // The normal of a sliver says nothing: being near has to do.
    if (doubled < 4.0 * tolerance_m * tolerance_m) {
      return true;
    }
    const double turn = std::clamp(2.0 * tolerance_m * longest / doubled, least_turn, most);
    return dot(across, region.normal) > std::sqrt(1.0 - turn * turn) * doubled;
  }
  /// Of noise a few corners always lie farther off than the tolerance, and tear holes into regions
  /// of many triangles: such regions take in small ones beside them up to two and a half times as
  /// far off.
  void take_in_strays(std::vector<Region>& regions) const {
    std::vector<std::size_t> owners(mesh_.corners.size());
    std::vector<std::size_t> strays;
    for (std::size_t r = 0; r < regions.size(); ++r) {
      for (const std::size_t t : regions[r].triangles) {
        owners[t] = r;
        if (regions[r].triangles.size() < least_many) {
          strays.push_back(t);
        }
      }
    }
    std::set<std::size_t> changed;
    for (bool is_done = false; !is_done;) {
      is_done = true;
      for (const std::size_t t : strays) {
        const std::size_t was = owners[t];
        if (regions[was].triangles.size() >= least_many) {
          continue;
        }
        const std::optional<std::size_t> now = home_of(t, regions, owners);
        if (now) {
          owners[t] = *now;
          changed.insert({was, *now});
          is_done = false;
        }
      }
    }
    for (const std::size_t r : changed) {
      regions[r].triangles.clear();
    }
    for (std::size_t t = 0; t < owners.size(); ++t) {
      if (changed.contains(owners[t])) {
        regions[owners[t]].triangles.push_back(t);
      }
    }
    for (const std::size_t r : changed) {
      if (!regions[r].triangles.empty()) {
        settle(regions[r]);
      }
    }
    std::erase_if(regions, [](const Region& region) { return region.triangles.empty(); });
  }
  /// The region of many triangles beside one that a stray lies nearest to the plane of.
  std::optional<std::size_t> home_of(std::size_t t, const std::vector<Region>& regions,
                                     const std::vector<std::size_t>& owners) const {
    constexpr double most_larger = 8.0;
    std::optional<std::size_t> home;
    double least = 0.0;
    for (std::size_t i = 0; i < 3; ++i) {
      const Side side(mesh_.corners[t].at(i), mesh_.corners[t].at((i + 1) % 3));
      const auto at = beside_.find({side.second, side.first});
      if (at == beside_.end()) {
        continue;
      }
      const std::size_t r = owners[at->second];
      const auto count = static_cast<double>(regions[r].triangles.size());
      const double area = length(normal_of(mesh_, mesh_.corners[t])) / 2.0;
      if (regions[r].triangles.size() < least_many ||
          area > most_larger * regions[r].area_m2 / count ||
          !belongs(regions[r], t, farther * tolerance_m_, most_stray_turn)) {
        continue;
      }
      double away = 0.0;
      for (const std::uint32_t corner : mesh_.corners[t]) {
        away += std::abs(off(regions[r], mesh_.points[corner]));
      }
      if (!home || away < least) {
        home = r;
        least = away;
      }
    }
    return home;
  }
  /// Noise may leave a plane in two or three regions of many triangles, each with a tilt of its
  /// own: those beside each other that one plane fits as well are one.
  void join(std::vector<Region>& regions) const {
    std::vector<std::size_t> owners(mesh_.corners.size());
    for (std::size_t r = 0; r < regions.size(); ++r) {
      for (const std::size_t t : regions[r].triangles) {
        owners[t] = r;
      }
    }
    std::set<std::pair<std::size_t, std::size_t>> pairs;
    for (const auto& [side, t] : beside_) {
      const auto at = beside_.find({side.second, side.first});
      if (at != beside_.end() && owners[t] < owners[at->second]) {
        pairs.emplace(owners[t], owners[at->second]);
      }
    }
    std::vector<std::size_t> now(regions.size());  // where a region has gone
    std::iota(now.begin(), now.end(), std::size_t{0});
    const auto home = [&](std::size_t r) {
      while (now[r] != r) {
        r = now[r];
      }
      return r;
    };
    for (const auto& pair : pairs) {
      const std::size_t into = std::min(home(pair.first), home(pair.second));
      const std::size_t from = std::max(home(pair.first), home(pair.second));
      if (into == from) {
        continue;
      }
      if (const auto both = joined(regions[into], regions[from])) {
        regions[into] = *both;
        regions[from].triangles.clear();
        now[from] = into;
      }
    }
    std::erase_if(regions, [](const Region& region) { return region.triangles.empty(); });
  }
  std::optional<Region> joined(const Region& a, const Region& b) const {
    constexpr double least_parallel = 0.995;  // 6 degrees
    if (std::min(a.triangles.size(), b.triangles.size()) < least_many ||
        dot(a.normal, b.normal) < least_parallel) {
      return std::nullopt;
    }
    Region both = a;
    both.triangles.insert(both.triangles.end(), b.triangles.begin(), b.triangles.end());
    settle(both);
    double far = 0.0;
    double squares = 0.0;
    for (const std::size_t t : b.triangles) {
      for (const std::uint32_t corner : mesh_.corners[t]) {
        const double away = off(both, mesh_.points[corner]);
        squares += away * away;
        far += std::abs(away) > farther * tolerance_m_ ? 1.0 : 0.0;
      }
    }
    const double count = 3.0 * static_cast<double>(b.triangles.size());
    constexpr double most_far = 0.02;
    constexpr double share = 0.6;
    const bool is_one = far < most_far * count && std::sqrt(squares / count) < share * tolerance_m_;
    return is_one ? std::optional(std::move(both)) : std::nullopt;
  }
  /// To the middle of its triangles, each by its area; then by least squares, as the sum of their
  /// normals follows from the region's border alone.
  void settle(Region& region) const {
    Point normal{0.0, 0.0, 0.0};
    Point middle{0.0, 0.0, 0.0};
    double whole = 0.0;
    const Point& from = mesh_.points[mesh_.corners[region.triangles.front()][0]];
    for (const std::size_t t : region.triangles) {
      const Point across = normal_of(mesh_, mesh_.corners[t]);
      const double area = length(across);
      normal = plus(normal, across);
      whole += area;
      for (const std::uint32_t corner : mesh_.corners[t]) {
        middle = plus(middle, scaled(minus(mesh_.points[corner], from), area / 3.0));
      }
    }
    region.area_m2 = whole / 2.0;
    region.normal = scaled(normal, 1.0 / length(normal));
    middle = plus(from, scaled(middle, 1.0 / whole));
    level(region, middle);
    region.offset = dot(region.normal, middle);
  }
  /// Turns the plane about `middle` to where the squares of the corners' distances are least.
  void level(Region& region, const Point& middle) const {
    const Point aside = std::abs(region.normal[0]) < 0.7 ? Point{1, 0, 0} : Point{0, 1, 0};
    const Point crosswise = cross(region.normal, aside);
    const Point u = scaled(crosswise, 1.0 / length(crosswise));
    const Point v = cross(region.normal, u);
    double uu = 0.0;
    double uv = 0.0;
    double vv = 0.0;
    double uw = 0.0;
    double vw = 0.0;
    for (const std::size_t t : region.triangles) {
      const double area = length(normal_of(mesh_, mesh_.corners[t]));
      for (const std::uint32_t corner : mesh_.corners[t]) {
        const Point d = minus(mesh_.points[corner], middle);
        const double along = dot(d, u);
        const double across = dot(d, v);
        const double up = dot(d, region.normal);
        uu += area * along * along;
        uv += area * along * across;
        vv += area * across * across;
        uw += area * along * up;
        vw += area * across * up;
      }
    }
    const double whole = uu * vv - uv * uv;
    if (!(whole > 1e-6 * (uu + vv) * (uu + vv))) {
      return;
    }
    const double rise_u = (uw * vv - vw * uv) / whole;
    const double rise_v = (vw * uu - uw * uv) / whole;
    const Point turned = minus(minus(region.normal, scaled(u, rise_u)), scaled(v, rise_v));
    region.normal = scaled(turned, 1.0 / length(turned));
  }

  const Triangles& mesh_;
  double tolerance_m_;
  std::map<Side, std::size_t> beside_;
  std::vector<bool> taken_;
};

}  // namespace

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

std::vector<Region> grow(const Triangles& mesh, double tolerance_m) {
  return Grower(mesh, tolerance_m).run();
}

}  // namespace ridgeward::mesh
