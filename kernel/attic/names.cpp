#include "attic/names.hpp"

#include "framing/rafter_centres.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

namespace {

constexpr double splits_from_m = 1e-3;
constexpr double beside_foot_m = 0.02;

/// Whether another space, or none, is what the bay opens to at its foot, right beside this one.
bool is_beside_the_own(const BayPlace& place, SpaceId id) {
  double foot_m = HUGE_VAL;
  double own_m = HUGE_VAL;
  for (const Stretch& stretch : place.stretches) {
    foot_m = std::min(foot_m, stretch.low_v_m);
    own_m = stretch.space == id ? stretch.low_v_m : own_m;
  }
  return place.space != id && own_m <= foot_m + beside_foot_m;
}

/// One end of the way from a border to a rafter beside it.
std::string to_rafter(const framing::Framing& framing, MemberId rafter, double distance_m,
                      const char* side, units::Style style) {
  return rafter.is_none() ? std::string()
                          : fmt::format("{} to the {} ({})", units::show(distance_m, style), side,
                                        framing.members[rafter].id);
}

}  // namespace

std::string names_of_bays(const framing::Framing& framing, const std::vector<BayId>& bays) {
  std::vector<BayId> sorted = bays;
  std::sort(sorted.begin(), sorted.end());
  sorted.erase(std::unique(sorted.begin(), sorted.end()), sorted.end());
  std::string text;
  for (std::size_t first = 0; first < sorted.size();) {
    std::size_t last = first;
    while (last + 1 < sorted.size() && sorted[last + 1].value == sorted[last].value + 1 &&
           framing.bays[sorted[last + 1]].plane == framing.bays[sorted[first]].plane) {
      ++last;
    }
    const std::string& end = framing.bays[sorted[last]].id;
    text += (text.empty() ? "" : ", ") + framing.bays[sorted[first]].id +
            (last > first ? "-" + end.substr(end.rfind('/') + 1) : "");
    first = last + 1;
  }
  return text;
}

const std::string& ceiling_of(const Attic& attic, CompartmentId compartment) {
  return attic.spaces[attic.compartments[compartment].spaces.front()].ceiling;
}

std::string border_cure(const surface::Surface& surface, const framing::Framing& framing,
                        const Attic& attic, CompartmentId compartment, units::Style style) {
  const SpaceId id = attic.compartments[compartment].spaces.front();
  const Space& space = attic.spaces[id];
  if (attic.compartments[compartment].spaces.size() != 1 || space.bay.is_none() ||
      !is_beside_the_own(attic.bays[space.bay], id)) {
    return {};
  }
  const framing::Bay& bay = framing.bays[space.bay];
  const surface::Frame& frame = surface.planes[bay.plane].frame;
  double from_m = HUGE_VAL;
  double to_m = -HUGE_VAL;
  for (const std::vector<glm::dvec2>& loop : space.outline) {
    for (const glm::dvec2 corner : loop) {
      const double u_m = glm::dot(corner - glm::dvec2(frame.origin), glm::dvec2(frame.along));
      from_m = std::min(from_m, u_m);
      to_m = std::max(to_m, u_m);
    }
  }
  const bool is_at_left = from_m > bay.from_u_m + splits_from_m;
  if (is_at_left == (to_m < bay.to_u_m - splits_from_m)) {
    return {};  // no border along the slope, or one on each side
  }
  // To the middle of a rafter: there it splits no bay.
  const double at_m = is_at_left ? from_m : to_m;
  const framing::Centres rafters = framing::centres_beside(framing, bay);
  const double left_m = at_m - rafters.left_m;
  const double right_m = rafters.right_m - at_m;
  std::string where = to_rafter(framing, bay.left, left_m, "left", style);
  const std::string right = to_rafter(framing, bay.right, right_m, "right", style);
  where += (where.empty() || right.empty() ? "" : " or ") + right;
  const BayPlace& place = attic.bays[space.bay];
  const std::string other = place.compartment.is_none()
                                ? "opens to nothing (" + place.why + ")"
                                : "counts with " + attic.compartments[place.compartment].id;
  return fmt::format(
      "The border of ceiling {} lies {} inside bay {}, which {}, so no intake reaches what is "
      "left. "
      "Put the border on a rafter of this slope{}{}.",
      space.ceiling, units::show(std::min(left_m, right_m), style), bay.id, other,
      where.empty() ? "" : ": move it there ", where);
}

std::string names_of(const framing::Framing& framing, const Attic& attic,
                     const std::vector<CompartmentId>& compartments) {
  if (compartments.size() == 1) {
    return attic.compartments[compartments.front()].id;
  }
  std::vector<BayId> bays;
  for (const CompartmentId id : compartments) {
    for (const SpaceId space : attic.compartments[id].spaces) {
      if (!attic.spaces[space].bay.is_none()) {
        bays.push_back(attic.spaces[space].bay);
      }
    }
  }
  return std::to_string(compartments.size()) + " rafter spaces under " +
         ceiling_of(attic, compartments.front()) + " (" + names_of_bays(framing, bays) + ")";
}

}  // namespace ridgeward::attic
