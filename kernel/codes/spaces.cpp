// What a code measures of a compartment whatever its vents.
#include "codes/measures.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace ridgeward::codes {

namespace {

/// Shares, lengths and slopes this close to a bound count as on it.
constexpr double tolerance = 1e-9;

/// Along the eave: from the middle of the rafter shared with the neighbour, from the far face of
/// one that the space ends at.
double share_of(const framing::Framing& framing, const framing::Bay& bay, bool is_first,
                bool is_last) {
  double from = bay.from_u_m;
  double to = bay.to_u_m;
  if (!bay.left.is_none()) {
    const framing::Member& left = framing.members[bay.left];
    from = left.at_m - (is_first ? 0.5 * left.thickness_m : 0.0);
  }
  if (!bay.right.is_none()) {
    const framing::Member& right = framing.members[bay.right];
    to = right.at_m + (is_last ? 0.5 * right.thickness_m : 0.0);
  }
  return to - from;
}

template <class Each>
void each_bay(const Space& space, Each each) {
  for (const BayId id : space.framing.bays.ids()) {
    if (space.attic.bays[id].compartment == space.compartment) {
      each(space.framing.bays[id]);
    }
  }
}

/// Calls `each` with every bay that `counts` and its share of the length across the slope.
template <class Counts, class Each>
void each_share(const Space& space, Counts counts, Each each) {
  std::set<MemberId> lefts;
  std::set<MemberId> rights;
  each_bay(space, [&](const framing::Bay& bay) {
    if (counts(bay)) {
      lefts.insert(bay.left);
      rights.insert(bay.right);
    }
  });
  each_bay(space, [&](const framing::Bay& bay) {
    if (counts(bay)) {
      each(bay,
           share_of(space.framing, bay, !rights.contains(bay.left), !lefts.contains(bay.right)));
    }
  });
}

std::optional<double> lowest_slope(const Space& space) {
  std::optional<double> lowest;
  each_bay(space, [&](const framing::Bay& bay) {
    const double slope = space.surface.planes[bay.plane].pitch.tangent();
    lowest = lowest ? std::min(*lowest, slope) : slope;
  });
  return lowest;
}

std::optional<double> longest_bay(const Space& space) {
  std::optional<double> longest;
  each_bay(space, [&](const framing::Bay& bay) {
    longest = longest ? std::max(*longest, bay.length_m) : bay.length_m;
  });
  return longest;
}

/// Across the floor, in the direction in which the plane with the longest eave rises.
std::optional<double> span(const Space& space) {
  const std::vector<Side> sides = sides_of(space);
  const auto longest = std::max_element(
      sides.begin(), sides.end(), [](const Side& l, const Side& r) { return l.eave_m < r.eave_m; });
  if (longest == sides.end()) {
    return std::nullopt;
  }
  const glm::dvec2 up = glm::normalize(glm::dvec2{space.surface.planes[longest->plane].frame.up});
  double low = HUGE_VAL;
  double high = -HUGE_VAL;
  for (const std::vector<glm::dvec2>& loop : space.attic.compartments[space.compartment].outline) {
    for (const glm::dvec2 corner : loop) {
      low = std::min(low, glm::dot(corner, up));
      high = std::max(high, glm::dot(corner, up));
    }
  }
  return high > low ? std::optional(high - low) : std::nullopt;
}

/// Whole degrees of the compass that differ.
std::optional<double> directions(const Space& space) {
  constexpr double degree = M_PI / 180.0;
  constexpr int round_deg = 360;
  std::set<int> faced;
  for (const Side& side : sides_of(space)) {
    const double azimuth = space.surface.planes[side.plane].azimuth_rad / degree;
    faced.insert(static_cast<int>(std::lround(azimuth)) % round_deg);
  }
  return faced.empty() ? std::nullopt : std::optional(static_cast<double>(faced.size()));
}

}  // namespace

std::vector<Side> sides_of(const Space& space) {
  std::vector<Side> sides;
  const auto is_at_eave = [&](const framing::Bay& bay) {
    return !bay.foot.is_none() && space.surface.lines[bay.foot].kind == surface::LineKind::eave;
  };
  each_share(space, is_at_eave, [&](const framing::Bay& bay, double share_m) {
    if (sides.empty() || sides.back().plane != bay.plane) {
      sides.push_back({bay.plane});
    }
    sides.back().eave_m += share_m;
    sides.back().area_m2 += share_m * bay.length_m;
  });
  return sides;
}

double top_line_m(const Space& space) {
  double ridges_m = 0.0;
  double tops_m = 0.0;
  for (const surface::Line& line : space.surface.lines) {
    const glm::dvec3 middle = 0.5 * (space.surface.nodes[line.from] + space.surface.nodes[line.to]);
    if (line.kind == surface::LineKind::ridge &&
        space.attic.under({middle.x, middle.y}) == space.compartment) {
      ridges_m += line.length_m;
    }
  }
  const auto ends_on_top = [&](const framing::Bay& bay) {
    if (bay.head.is_none()) {
      return false;
    }
    const surface::LineKind kind = space.surface.lines[bay.head].kind;
    return kind == surface::LineKind::shed_top || kind == surface::LineKind::headwall;
  };
  each_share(space, ends_on_top, [&](const framing::Bay&, double share_m) { tops_m += share_m; });
  return ridges_m > 0.0 ? ridges_m : tops_m;
}

double roof_area_m2(const Space& space) {
  double sum = 0.0;
  each_share(
      space, [](const framing::Bay&) { return true; },
      [&](const framing::Bay& bay, double share_m) { sum += share_m * bay.length_m; });
  return sum;
}

std::optional<double> measured_of_space(const Space& space, Measure measure) {
  switch (measure) {
    case Measure::lowest_slope:
      return lowest_slope(space);
    case Measure::span_m:
      return span(space);
    case Measure::rafter_length_m:
      return longest_bay(space);
    case Measure::slope_directions:
      return directions(space);
    default:
      return std::nullopt;
  }
}

bool within(const Bounds& bounds, double value) {
  return (!bounds.least || value >= *bounds.least - tolerance) &&
         (!bounds.most || value <= *bounds.most + tolerance);
}

bool applies(const Space& space, const Rule& rule) {
  return std::all_of(rule.when.begin(), rule.when.end(), [&](const When& when) {
    const std::optional<double> value = measured_of_space(space, when.measure);
    return value && within(when.bounds, *value);
  });
}

}  // namespace ridgeward::codes
