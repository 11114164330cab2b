#include "attic/throats.hpp"

#include "attic/stage.hpp"
#include "base/rays.hpp"
#include "units/length.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::attic {

namespace {

constexpr double near_m = 1e-6;
class Plates {
 public:
  Plates(const Plan& plan, Attic& attic) : plan_(plan), attic_(attic) {}

  void open(BayId id);

 private:
  SpaceId overhang(PlaneId plane, LineId eave, double plate_v_m);
  double throat_m(const framing::Bay& bay, SpaceId space) const;

  const Plan& plan_;
  Attic& attic_;
  std::map<std::uint32_t, SpaceId> overhangs_;  ///< by eave
};

SpaceId Plates::overhang(PlaneId plane, LineId eave, double plate_v_m) {
  const auto known = overhangs_.find(eave.value);
  if (known != overhangs_.end()) {
    return known->second;
  }
  const surface::Line& line = plan_.surface.lines[eave];
  Space space;
  space.kind = SpaceKind::overhang;
  space.id = "overhang " + line.id;
  space.plane = plane;
  space.line = eave;
  space.bottom_m = plan_.surface.nodes[line.from].z;
  space.top_m = plan_.surface.planes[plane].frame.at({0.0, plate_v_m}).z;
  return overhangs_[eave.value] = attic_.spaces.push_back(std::move(space));
}

/// The least of the space over the insulation at the plate's inner face and, where the heel is
/// known, of that over the plate at its outer face.
double Plates::throat_m(const framing::Bay& bay, SpaceId space) const {
  const surface::Plane& plane = plan_.surface.planes[bay.plane];
  const model::Part& part = plan_.model.parts[bay.wall.part];
  const double cosine = std::cos(plane.pitch.radians());
  const glm::dvec2 inner{0.5 * (bay.from_u_m + bay.to_u_m),
                         bay.wall.v_m + part.wall_thickness_m / cosine};
  const double over_insulation =
      clear_over_insulation_m(plan_.model, plane, attic_.spaces[space], inner);
  const double over_plate =
      part.heel_m > 0.0 ? part.heel_m * cosine - part.deck_m : over_insulation;
  return std::max(0.0, std::min(over_insulation, over_plate));
}

void Plates::open(BayId id) {
  const framing::Bay& bay = plan_.framing.bays[id];
  BayPlace& place = attic_.bays[id];
  if (place.space.is_none() || bay.foot.is_none() ||
      plan_.surface.lines[bay.foot].kind != surface::LineKind::eave) {
    return;
  }
  const surface::Plane& plane = plan_.surface.planes[bay.plane];
  const surface::Line& eave = plan_.surface.lines[bay.foot];
  const double middle_u = 0.5 * (bay.from_u_m + bay.to_u_m);
  const double drip_v = plane.frame.uv(plan_.surface.nodes[eave.from]).y;
  const double plate_v = bay.wall.v_m;
  place.throat_m = throat_m(bay, place.space);
  place.is_blocked = plan_.model.parts[bay.wall.part].framing.blocking == model::Blocking::solid;
  if (plate_v - drip_v <= near_m) {
    return;  // no overhang: a slot at the eave is inside already
  }
  Join join;
  join.kind = JoinKind::over_plate;
  join.one = overhang(bay.plane, bay.foot, plate_v);
  join.other = place.space;
  join.bay = id;
  join.line = bay.foot;
  join.area_m2 = *place.throat_m * bay.clear_width_m;
  join.at = plane.frame.at({middle_u, plate_v});
  join.is_open = !place.is_blocked && *place.throat_m > near_m;
  attic_.joins.push_back(join);
}

}  // namespace

double clear_over_insulation_m(const model::RoofModel& model, const surface::Plane& plane,
                               const Space& space, glm::dvec2 uv) {
  if (space.kind == SpaceKind::rafter_space) {
    return space.clear_m;
  }
  const glm::dvec3 deck_top = plane.frame.at(uv);
  const double cosine = std::cos(plane.pitch.radians());
  const double gap =
      (deck_top.z - space.ceiling_at(glm::dvec2{deck_top}, plane.part) - space.insulation_m) *
          cosine -
      model.parts[plane.part].deck_m;
  return std::max(gap, space.baffles ? baffle_m : 0.0);
}

void open_plates(const Plan& plan, Attic& attic) {
  Plates plates(plan, attic);
  for (const BayId id : plan.framing.bays.ids()) {
    plates.open(id);
  }
}

}  // namespace ridgeward::attic
