#include "mesh/regions.hpp"

#include "mesh/borders.hpp"
#include "mesh/grow.hpp"
#include "mesh/joints.hpp"
#include "mesh/noise.hpp"
#include "mesh/slabs.hpp"
#include "support/vectors.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <utility>

namespace ridgeward::mesh {

namespace {

constexpr double least_region_m2 = 0.005;  // smaller ones are crumbs
constexpr double least_width_m = 0.02;     // narrower ones are edges of sheets
constexpr double usual_tolerance_m = 0.01;

using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;

/// Sides of the region that no other triangle of it shares, in closed runs.
Border border_of(const Triangles& mesh, const Region& region) {
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
  Border rings;
  while (!next.empty()) {
    std::vector<std::uint32_t> ring;
    const std::uint32_t start = next.begin()->first;
    auto at = next.begin();
    while (at != next.end()) {
      ring.push_back(at->first);
      const std::uint32_t to = at->second;
      next.erase(at);
      at = to == start ? next.end() : next.find(to);
    }
    if (ring.size() > 2) {
      rings.push_back(std::move(ring));
    }
  }
  return rings;
}

/// The outer ring, which is the largest, first.
importing::Polygon polygon_of(const Triangles& mesh, const Border& border) {
  importing::Polygon rings;
  for (const auto& run : border) {
    importing::Ring ring;
    for (const std::uint32_t corner : run) {
      ring.push_back(mesh.points[corner]);
    }
    rings.push_back(std::move(ring));
  }
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

/// Either side may have been drawn as the front: turns what faces down up, and sorts what faced up
/// before it. Returns how many did.
std::size_t turn_up(Triangles& mesh) {
  const auto faces_down = [&](const Triangle& t) {
    const Point across = normal_of(mesh, t);
    return across[2] < -least_upward * length(across);
  };
  const auto first_down = std::stable_partition(mesh.corners.begin(), mesh.corners.end(),
                                                [&](const Triangle& t) { return !faces_down(t); });
  for (auto at = first_down; at != mesh.corners.end(); ++at) {
    std::swap((*at)[1], (*at)[2]);
  }
  return static_cast<std::size_t>(first_down - mesh.corners.begin());
}

/// Whether most of the region faced down in the file.
bool was_down(const Triangles& mesh, const Region& region, std::size_t faced_up) {
  double down = 0.0;
  for (const std::size_t t : region.triangles) {
    down += t < faced_up ? 0.0 : length(normal_of(mesh, mesh.corners[t])) / 2.0;
  }
  return down > region.area_m2 / 2.0;
}

/// Area of undersides that no top lies parallel to, as those of a roof on its side.
double upside_down_m2(const std::vector<Region>& regions,
                      const std::vector<std::size_t>& undersides, const Tops& tops) {
  constexpr std::size_t most_pairs = 4000000;
  constexpr double least_parallel = 0.9986;  // 3 degrees
  constexpr double level = 0.9962;           // 5 degrees: ceilings and floors
  double sum = 0.0;
  if (undersides.size() * tops.regions.size() > most_pairs) {
    return sum;
  }
  for (const std::size_t u : undersides) {
    const Point& normal = regions[u].normal;
    const bool is_paired = std::any_of(
        tops.regions.begin(), tops.regions.end(),
        [&](std::size_t top) { return dot(regions[top].normal, normal) > least_parallel; });
    sum += is_paired || normal[2] > level ? 0.0 : regions[u].area_m2;
  }
  return sum;
}

std::string areas(double area_m2) {
  std::array<char, 40> text{};
  std::snprintf(text.data(), text.size(), "%.2f m2", area_m2);
  return text.data();
}

/// What was left out, turned and carried on.
void tell(const Flat& flat, const Sought& sought, double tolerance_m, const importing::Host& host) {
  std::array<char, 200> words{};
  std::snprintf(words.data(), words.size(),
                "%zu %s up, flat to %g m; hidden and left out: %zu%s; corners were moved by up to "
                "%.4f m onto their planes",
                flat.up.size(), flat.up.size() == 1 ? "plane faces" : "planes face", tolerance_m,
                flat.hidden, flat.hidden == 0 ? "" : (", " + areas(flat.hidden_m2)).c_str(),
                flat.moved_m);
  host.note(words.data());
  if (flat.turned > 0) {
    host.note("drawn facing down with nothing above, and taken as roof: " +
              importing::counted(flat.turned, "plane") + ", " + areas(flat.turned_m2));
  }
  if (flat.crumbs_m2 >= 0.01) {
    host.note("too small or too narrow, and left out: " + importing::counted(flat.crumbs, "piece") +
              ", " + areas(flat.crumbs_m2));
  }
  if (flat.strips > 0) {
    std::snprintf(words.data(), words.size(),
                  "edges of slabs that are cut square, left out: %zu, %s; the tops beside them are "
                  "carried on by up to %.3f m to where they meet",
                  flat.strips, areas(flat.strips_m2).c_str(), flat.carried_m);
    host.note(words.data());
  }
  const bool is_on_its_side = flat.upside_down_m2 > flat.up_m2 / 2.0 ||
                              (sought.is_all_roof && flat.upright_m2 > flat.up_m2);
  if (is_on_its_side && !sought.other_up.empty()) {
    host.note("most of it stands upright or faces down: is " + sought.other_up +
              " its axis that points up? (option up=" + sought.other_up + ")");
  }
}

/// As asked for; otherwise the usual one, or as coarse as single precision or the noise of what was
/// measured have made the corners.
double tolerance_of(const Triangles& mesh, const Sought& sought, const importing::Host& host) {
  constexpr double deviations = 4.0;  // planes stay whole
  const auto rounded_up = [](double m) { return std::ceil(m * 1e3) / 1e3; };
  double tolerance_m = sought.tolerance_m.value_or(usual_tolerance_m);
  std::array<char, 320> words{};
  if (mesh.step_m > tolerance_m / 4.0) {
    tolerance_m = sought.tolerance_m.value_or(std::max(tolerance_m, rounded_up(mesh.step_m)));
    std::snprintf(words.data(), words.size(),
                  "so far from the origin single precision lets corners lie on a grid of %.2g m "
                  "only (measured over its diagonal); %s %g m: for exact lengths move the model "
                  "near the origin where it was made and export it again",
                  mesh.step_m,
                  sought.tolerance_m ? "the tolerance is as given," : "the tolerance is taken as",
                  tolerance_m);
    host.note(words.data());
  }
  const bool is_to_tell = sought.may_be_measured && !sought.tolerance_m;
  const double noise_m = is_to_tell ? noise_of(mesh).value_or(0.0) : 0.0;
  if (noise_m * deviations > tolerance_m) {
    tolerance_m = rounded_up(noise_m * deviations);
    std::snprintf(words.data(), words.size(),
                  "corners lie about the planes of those around them by %.2g m (standard "
                  "deviation), as measured ones do: the tolerance is taken as %g m (option "
                  "tolerance)",
                  noise_m, tolerance_m);
    host.note(words.data());
  }
  return tolerance_m;
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
  const std::size_t faced_up = turn_up(mesh);
  const std::vector<Region> regions = grow(mesh, tolerance_m);
  Flat flat;
  flat.moved_m = make_exact(mesh, regions, tolerance_m);
  const Cover cover(mesh, regions, tolerance_m);
  Tops tops;
  std::vector<std::size_t> undersides;
  for (std::size_t r = 0; r < regions.size(); ++r) {
    const Region& region = regions[r];
    if (region.normal[2] < least_upward) {
      flat.upright_m2 += region.area_m2;
      continue;
    }
    if (region.area_m2 < least_region_m2) {
      flat.crumbs += 1;
      flat.crumbs_m2 += region.area_m2;
      continue;
    }
    const bool is_down = was_down(mesh, region, faced_up);
    const double open_m2 = cover.open_m2(r);
    // A hand's width of an underside may look out from beneath its top.
    if (open_m2 <= (is_down ? region.area_m2 / 2.0 : 0.0)) {
      flat.hidden += 1;
      flat.hidden_m2 += region.area_m2;
      if (is_down) {
        undersides.push_back(r);
      }
      continue;
    }
    Border border = border_of(mesh, region);
    if (border.empty() || width_of(region, polygon_of(mesh, border)) <= least_width_m) {
      flat.crumbs += 1;
      flat.crumbs_m2 += region.area_m2;
      continue;
    }
    flat.turned += is_down ? 1U : 0U;
    flat.turned_m2 += is_down ? region.area_m2 : 0.0;
    tops.regions.push_back(r);
    tops.borders.push_back(std::move(border));
  }
  flat.upside_down_m2 = upside_down_m2(regions, undersides, tops);
  const Trimmed trimmed = trim(mesh, regions, undersides, tops);
  flat.strips = trimmed.strips;
  flat.strips_m2 = trimmed.area_m2;
  flat.carried_m = trimmed.carried_m;
  straighten(mesh, regions, tops, tolerance_m);
  for (std::size_t i = 0; i < tops.regions.size(); ++i) {
    flat.up_m2 += regions[tops.regions[i]].area_m2;
    flat.up.push_back(polygon_of(mesh, tops.borders[i]));
  }
  return flat;
}

void give_planes(Triangles mesh, const Sought& sought, const importing::Host& host) {
  const double same_m = std::min(sought.tolerance_m.value_or(usual_tolerance_m) / 10.0, 0.001);
  weld(mesh, same_m);
  part_at_joints(mesh, same_m);
  const double tolerance_m = tolerance_of(mesh, sought, host);
  if (!host.go_on(0.3)) {
    return;
  }
  Flat flat = flat_regions(std::move(mesh), tolerance_m);
  if (flat.up.empty()) {
    throw importing::Refused("", "nothing flat faces up or down: all of it is upright or in pieces",
                             sought.other_up.empty()
                                 ? "give a larger tolerance, or the roof by itself"
                                 : "check which axis is up (option up=" + sought.other_up +
                                       ") and the unit; a larger tolerance may help");
  }
  tell(flat, sought, tolerance_m, host);
  for (importing::Polygon& polygon : flat.up) {
    for (importing::Ring& ring : polygon) {
      for (Point& p : ring) {
        p = plus(p, sought.moved_by);
      }
    }
  }
  host.emit(importing::planes_json("", {{sought.id, 0.0, std::move(flat.up)}}, tolerance_m, "m",
                                   sought.north_deg));
}

}  // namespace ridgeward::mesh
