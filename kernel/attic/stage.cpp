#include "attic/stage.hpp"

#include "attic/ceilings.hpp"
#include "attic/space.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

namespace {

constexpr double least_overlap_m2 = 1e-6;
constexpr double near_m = 1e-9;

/// Overlap of one bay with one ceiling in plan.
struct Over {
  double any_m2 = 0.0;   ///< at all
  double open_m2 = 0.0;  ///< with the roof above the ceiling
};

Over over(const Pieces& bay, const Pieces& ceiling, const Rise& rise, double ceiling_m) {
  Over sum;
  if (!bay.box.touches(ceiling.box)) {
    return sum;
  }
  for (const Pieces::One& b : bay.all) {
    for (const Pieces::One& c : ceiling.all) {
      if (!b.box.touches(c.box)) {
        continue;
      }
      const polygon::Loop common = polygon::overlap(b.corners, c.corners);
      if (!common.empty()) {
        sum.any_m2 += polygon::area(common);
        sum.open_m2 += polygon::area(polygon::clip(common, rise.above(ceiling_m)));
      }
    }
  }
  return sum;
}

polygon::Loop plan_of(const surface::Plane& plane, const framing::Bay& bay) {
  polygon::Loop loop;
  loop.reserve(bay.outline.size());
  for (const glm::dvec2 uv : bay.outline) {
    const glm::dvec3 p = plane.frame.at(uv);
    loop.emplace_back(p.x, p.y);
  }
  return loop;
}

/// Why a bay that lies over no ceiling does so.
std::string reason_outside(const surface::Plane& plane, const framing::Bay& bay) {
  double highest = 0.0;
  for (const glm::dvec2 uv : bay.outline) {
    highest = std::max(highest, uv.y);
  }
  const bool is_beyond_wall =
      bay.to_u_m <= plane.wall_start_u_m + near_m || bay.from_u_m >= plane.wall_end_u_m - near_m;
  if (highest <= plane.wall_line_v_m + near_m) {
    return "only over the overhang";
  }
  return is_beyond_wall ? "beyond the gable-end wall" : "no ceiling lies under it";
}

BayPlace place_of(const surface::Plane& plane, const framing::Bay& bay,
                  const IndexedVector<CompartmentId, Compartment>& compartments,
                  const std::vector<Pieces>& ceilings) {
  const Rise rise = rise_of(plane);
  const Pieces pieces({plan_of(plane, bay)});
  BayPlace place;
  double most = least_overlap_m2;
  std::size_t touched = 0;
  bool is_over_ceiling = false;
  for (const CompartmentId id : compartments.ids()) {
    const Over common = over(pieces, ceilings[id.value], rise, compartments[id].bottom_m);
    is_over_ceiling = is_over_ceiling || common.any_m2 > least_overlap_m2;
    touched += common.open_m2 > least_overlap_m2 ? 1 : 0;
    if (common.open_m2 > most) {
      most = common.open_m2;
      place.compartment = id;
    }
  }
  if (place.compartment.is_none()) {
    place.why = is_over_ceiling ? "the roof does not rise above the ceiling here"
                                : reason_outside(plane, bay);
  } else {
    place.why = "open to " + compartments[place.compartment].id;
    if (touched > 1) {
      place.why += ", astride a border of compartments";
    }
  }
  return place;
}

}  // namespace

CompartmentId Attic::under(glm::dvec2 plan) const {
  for (const CompartmentId id : compartments.ids()) {
    if (polygon::contains(compartments[id].outline, plan)) {
      return id;
    }
  }
  return {};
}

Result<Attic> divide(const model::RoofModel& model, const surface::Surface& surface,
                     const framing::Framing& framing) {
  Attic attic;
  Result<std::vector<Floor>> whole = floors_of(model, surface, attic.assumptions);
  if (!whole) {
    return whole.faults();
  }
  Result<std::vector<Floor>> floors = divided(model, std::move(whole).value(), attic.assumptions);
  if (!floors) {
    return floors.faults();
  }
  Faults faults;
  std::vector<Pieces> ceilings;
  for (Floor& floor : floors.value()) {
    ceilings.emplace_back(floor.compartment.outline);
    const Enclosed space = enclosed(surface, ceilings.back(), floor.compartment.bottom_m);
    if (!space.is_any) {
      faults.push_back({"ceiling.above_roof", floor.where,
                        "Compartment " + floor.compartment.id +
                            " has no space: the roof is nowhere above its ceiling.",
                        "Lower the ceiling, or move its outline under the roof."});
    }
    floor.compartment.volume_m3 = space.volume_m3;
    floor.compartment.top_m = space.top_m;
    attic.compartments.push_back(std::move(floor.compartment));
  }
  if (!faults.empty()) {
    return faults;
  }
  for (const framing::Bay& bay : framing.bays) {
    attic.bays.push_back(place_of(surface.planes[bay.plane], bay, attic.compartments, ceilings));
  }
  return attic;
}

}  // namespace ridgeward::attic
