#include "vents/around.hpp"

#include "base/polygon.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-9;
constexpr double clearly_m = 1e-6;

/// A stretch along the eave that no slot may enter.
struct Taken {
  double from_m = 0.0;
  double to_m = 0.0;
};

/// The widest reach along the eave that a loop has within the band; nothing when it lies outside.
bool reach_in_band(const std::vector<glm::dvec2>& loop, double low_m, double high_m, Taken& reach) {
  const polygon::Box box = polygon::box_of(loop);
  if (box.high.y <= low_m + near_m || box.low.y >= high_m - near_m) {
    return false;
  }
  reach = {HUGE_VAL, -HUGE_VAL};
  const auto add = [&](double u) {
    reach.from_m = std::min(reach.from_m, u);
    reach.to_m = std::max(reach.to_m, u);
  };
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 a = loop[i];
    const glm::dvec2 b = loop[(i + 1) % loop.size()];
    if (a.y >= low_m && a.y <= high_m) {
      add(a.x);
    }
    for (const double v : {low_m, high_m}) {
      if ((a.y > v) != (b.y > v)) {
        add(a.x + (v - a.y) / (b.y - a.y) * (b.x - a.x));
      }
    }
  }
  return reach.from_m <= reach.to_m;
}

std::vector<Taken> taken_by_obstacles(const Site& site, PlaneId plane, double low_m, double high_m,
                                      double hold_back_m) {
  std::vector<Taken> all;
  Taken reach;
  for (const surface::Region& region : site.surface.regions) {
    if (region.plane == plane && reach_in_band(region.clear_uv, low_m, high_m, reach)) {
      all.push_back({reach.from_m - hold_back_m, reach.to_m + hold_back_m});
    }
  }
  // What rafters and bays leave to an opening is wider than a slanting one itself.
  for (const framing::Opening& opening : site.framing.openings) {
    if (opening.plane == plane && reach_in_band(opening.outline, low_m, high_m, reach)) {
      all.push_back(reach);
    }
  }
  const framing::PlaneFraming& own = site.framing.planes[plane];
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const framing::Member& member = site.framing.members[MemberId(i)];
    if (member.kind == framing::MemberKind::header &&
        reach_in_band(member.outline, low_m, high_m, reach)) {
      all.push_back(reach);
    }
  }
  std::sort(all.begin(), all.end(),
            [](const Taken& l, const Taken& r) { return l.from_m < r.from_m; });
  return all;
}

}  // namespace

std::vector<BandStretch> around_obstacles(const Site& site, PlaneId plane, double low_m,
                                          double high_m, double hold_back_m,
                                          std::vector<BandStretch> all) {
  const std::vector<Taken> taken = taken_by_obstacles(site, plane, low_m, high_m, hold_back_m);
  if (taken.empty()) {
    return all;
  }
  std::vector<BandStretch> clear;
  for (BandStretch rest : all) {
    for (const Taken& one : taken) {
      if (one.to_m <= rest.left.u_m || one.from_m >= rest.right.u_m) {
        continue;
      }
      if (one.from_m > rest.left.u_m) {
        clear.push_back({rest.left, {one.from_m, {}, true}});
      }
      rest.left = {std::min(one.to_m, rest.right.u_m), {}, true};
    }
    if (rest.right.u_m - rest.left.u_m > near_m) {
      clear.push_back(rest);
    }
  }
  return clear;
}

std::vector<Along> along_clear_of_obstacles(const Site& site, LineId line, glm::dvec3 start,
                                            glm::dvec3 along, const Along& asked,
                                            const model::SlotGeometry& slot) {
  const surface::Line& own = site.surface.lines[line];
  std::vector<Along> taken;
  for (const surface::Region& region : site.surface.regions) {
    if (region.plane != own.left_plane() && region.plane != own.right_plane()) {
      continue;
    }
    Along reach{HUGE_VAL, -HUGE_VAL};
    double nearest_m = HUGE_VAL;
    for (const glm::dvec2 uv : region.clear_uv) {
      const glm::dvec3 p = site.surface.planes[region.plane].frame.at(uv) - start;
      const double at = glm::dot(p, along);
      nearest_m = std::min(nearest_m, glm::length(p - at * along));
      reach.from_m = std::min(reach.from_m, at);
      reach.to_m = std::max(reach.to_m, at);
    }
    if (nearest_m <= slot.width_m + clearly_m) {
      const double back_m = slot.hold_back_at_obstacle_m();
      taken.push_back({reach.from_m - back_m, reach.to_m + back_m});
    }
  }
  std::sort(taken.begin(), taken.end(),
            [](const Along& l, const Along& r) { return l.from_m < r.from_m; });
  std::vector<Along> clear;
  Along rest = asked;
  for (const Along& one : taken) {
    if (one.from_m - rest.from_m > clearly_m) {
      clear.push_back({rest.from_m, std::min(one.from_m, rest.to_m)});
    }
    rest.from_m = std::clamp(one.to_m, rest.from_m, std::max(rest.from_m, rest.to_m));
  }
  if (rest.to_m - rest.from_m > clearly_m) {
    clear.push_back(rest);
  }
  return clear;
}

}  // namespace ridgeward::vents
