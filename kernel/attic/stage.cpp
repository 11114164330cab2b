#include "attic/stage.hpp"

#include "attic/ceilings.hpp"
#include "attic/space.hpp"
#include "framing/stage.hpp"

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

Over over(const Pieces& bay, const Ceilings& ceilings, const Rise& rise, std::size_t part) {
  Over sum;
  if (!bay.box.touches(ceilings.box())) {
    return sum;
  }
  for (const Pieces::One& b : bay.all) {
    for (const Ceiled& c : ceilings.under(part)) {
      if (!b.box.touches(c.box)) {
        continue;
      }
      const polygon::Loop common = polygon::overlap(b.corners, c.corners);
      if (!common.empty()) {
        sum.any_m2 += polygon::area(common);
        sum.open_m2 += polygon::area(polygon::clip(common, rise.above(c.ceiling_m)));
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

/// All that tells where a bay of one plane lies.
struct Place {
  const surface::Surface& surface;
  const surface::Plane& plane;
  std::vector<framing::GableEnd> gables;
  const std::vector<Pieces>& walls;  ///< of all parts
};

bool is_beyond_gable_wall(const Place& place, const framing::Bay& bay) {
  const polygon::Box box = polygon::box_of(bay.outline);
  return std::any_of(place.gables.begin(), place.gables.end(), [&](const framing::GableEnd& end) {
    const bool is_beside = end.low_v_m < box.high.y && box.low.y < end.high_v_m;
    const double low = std::min(end.wall_u_m, end.rake_u_m);
    const double high = std::max(end.wall_u_m, end.rake_u_m);
    return is_beside && bay.from_u_m >= low - near_m && bay.to_u_m <= high + near_m;
  });
}

/// Why a bay that lies over no ceiling does so.
std::string reason_outside(const Place& place, const framing::Bay& bay, const Pieces& plan) {
  if (polygon::box_of(bay.outline).high.y <= place.plane.wall_line_v_m + near_m) {
    return "only over the overhang";
  }
  if (is_beyond_gable_wall(place, bay)) {
    return "beyond the gable-end wall";
  }
  double inside_m2 = 0.0;
  for (const Pieces& walls : place.walls) {
    if (!plan.box.touches(walls.box)) {
      continue;
    }
    for (const Pieces::One& b : plan.all) {
      for (const Pieces::One& w : walls.all) {
        inside_m2 +=
            b.box.touches(w.box) ? polygon::area(polygon::overlap(b.corners, w.corners)) : 0.0;
      }
    }
  }
  return inside_m2 > least_overlap_m2 ? "no ceiling lies under it" : "only over the overhang";
}

BayPlace place_of(const Place& place, const framing::Bay& bay,
                  const IndexedVector<CompartmentId, Compartment>& compartments,
                  const std::vector<Ceilings>& ceilings) {
  const Rise rise = rise_of(place.plane);
  const Pieces pieces({plan_of(place.plane, bay)});
  BayPlace found;
  double most = least_overlap_m2;
  std::size_t touched = 0;
  bool is_over_ceiling = false;
  for (const CompartmentId id : compartments.ids()) {
    const Over common = over(pieces, ceilings[id.value], rise, place.plane.part);
    is_over_ceiling = is_over_ceiling || common.any_m2 > least_overlap_m2;
    touched += common.open_m2 > least_overlap_m2 ? 1 : 0;
    if (common.open_m2 > most) {
      most = common.open_m2;
      found.compartment = id;
    }
  }
  if (found.compartment.is_none()) {
    found.why = is_over_ceiling ? "the roof does not rise above the ceiling here"
                                : reason_outside(place, bay, pieces);
  } else {
    found.why = "open to " + compartments[found.compartment].id;
    if (touched > 1) {
      found.why += ", astride a border of compartments";
    }
  }
  return found;
}

/// Compartments for the floors that have space under the roof.
Faults add_compartments(const surface::Surface& surface, std::size_t part_count,
                        std::vector<Floor> floors, Attic& attic, std::vector<Ceilings>& ceilings) {
  Faults faults;
  for (Floor& floor : floors) {
    ceilings.emplace_back(floor.compartment, part_count);
    const Enclosed space = enclosed(surface, ceilings.back());
    if (!space.is_any) {
      faults.push_back({"ceiling.above_roof", floor.where,
                        "Compartment " + floor.compartment.id +
                            " has no space: the roof is nowhere above its ceiling.",
                        "Lower the ceiling, or move its outline under the roof."});
    }
    if (!floor.compartment.levels.empty()) {
      floor.compartment.bottom_m = ceilings.back().lowest_m();
    }
    floor.compartment.volume_m3 = space.volume_m3;
    floor.compartment.top_m = space.top_m;
    attic.compartments.push_back(std::move(floor.compartment));
  }
  return faults;
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
  std::vector<Ceilings> ceilings;
  Faults faults =
      add_compartments(surface, model.parts.size(), std::move(floors).value(), attic, ceilings);
  if (!faults.empty()) {
    return faults;
  }
  std::vector<Pieces> walls;
  for (const polygon::Loops& outline : surface.wall_outlines) {
    walls.emplace_back(outline);
  }
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    const Place place{surface, plane, framing::gable_ends(model, surface, plane), walls};
    const framing::PlaneFraming& own = framing.planes[id];
    for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
      attic.bays.push_back(place_of(place, framing.bays[BayId(i)], attic.compartments, ceilings));
    }
  }
  return attic;
}

}  // namespace ridgeward::attic
