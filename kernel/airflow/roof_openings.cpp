// Slots, soffit vents and exhausts as links of the network, and what the wind meets at each.
#include "airflow/air.hpp"
#include "airflow/builder.hpp"
#include "units/length.hpp"
#include "vents/shared_bays.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

namespace ridgeward::airflow {

namespace {

constexpr double shut_pa = 60.0;  ///< of a fan whose catalogue entry does not say

Law opening_law(double area_m2) {
  return Opening{opening_discharge * area_m2, laminar_limit_pa(mesh_m, opening_discharge)};
}

/// What one slot opens onto behind one node; or a boxed soffit, over the plate.
struct Behind {
  double discharge_m2 = 0.0;
  double free_m2 = 0.0;
  double moment = 0.0;  ///< discharge area times height
  std::vector<BayShare> bays;

  void add(BayId bay, double discharge) {
    discharge_m2 += discharge;
    bays.push_back({bay, discharge});
  }
  /// The bays' areas to shares of all.
  std::vector<BayShare> shares() const {
    std::vector<BayShare> all = bays;
    for (BayShare& bay : all) {
      bay.share /= discharge_m2;
    }
    return all;
  }
};

/// Outward direction of the wall "part/edge"; none where there is no such wall.
std::optional<glm::dvec2> outward_of_wall(const Site& site, const std::string& wall) {
  const std::size_t slash = wall.rfind('/');
  std::size_t edge = 0;
  if (slash == std::string::npos ||
      std::from_chars(wall.data() + slash + 1, wall.data() + wall.size(), edge).ec != std::errc{}) {
    return std::nullopt;
  }
  for (std::size_t part = 0; part < site.model.parts.size(); ++part) {
    if (site.model.parts[part].id != wall.substr(0, slash)) {
      continue;
    }
    std::size_t first = 0;
    for (const auto& loop : site.surface.wall_outlines[part]) {
      if (edge < first + loop.size()) {
        const glm::dvec2 side = loop[(edge - first + 1) % loop.size()] - loop[edge - first];
        return glm::normalize(glm::dvec2{side.y, -side.x});
      }
      first += loop.size();
    }
  }
  return std::nullopt;
}

/// Whether a divider, drawn on over the wall beneath it, parts two places.
bool is_between(const model::Divider& divider, glm::dvec2 one, glm::dvec2 other) {
  constexpr double over_wall_m = 0.5;
  const glm::dvec2 way = divider.to - divider.from;
  const double length = glm::length(way);
  if (length <= 0.0) {
    return false;
  }
  const glm::dvec2 along = way / length;
  const glm::dvec2 across{-along.y, along.x};
  const double a = glm::dot(one - divider.from, across);
  const double b = glm::dot(other - divider.from, across);
  if (a * b >= 0.0) {
    return false;
  }
  const double at = glm::dot(one + a / (a - b) * (other - one) - divider.from, along);
  return at > -over_wall_m && at < length + over_wall_m;
}

/// The place of an exhaust at height `z_m`; of a level one its middle.
glm::dvec3 along(const vents::Exhaust& exhaust, double z_m) {
  const double rise = exhaust.to.z - exhaust.from.z;
  constexpr double level_m = 1e-6;
  const double share =
      std::abs(rise) > level_m ? std::clamp((z_m - exhaust.from.z) / rise, 0.0, 1.0) : 0.5;
  return exhaust.from + share * (exhaust.to - exhaust.from);
}

}  // namespace

double Builder::azimuth_of(glm::dvec2 out) const {
  return std::atan2(out.x, out.y) - site_.model.site.north_deg * M_PI / 180.0;
}

/// The wall that faces `out`: how long the house is across it and along it.
Face Builder::wall_facing(glm::dvec2 out) const {
  const glm::dvec2 along{-out.y, out.x};
  glm::dvec2 low{1e300};
  glm::dvec2 high{-1e300};
  for (const auto& loops : site_.surface.wall_outlines) {
    for (const auto& loop : loops) {
      for (const glm::dvec2 p : loop) {
        const glm::dvec2 turned{glm::dot(p, along), glm::dot(p, out)};
        low = glm::min(low, turned);
        high = glm::max(high, turned);
      }
    }
  }
  const glm::dvec2 size = high - low;
  Face face;
  face.kind = Face::Kind::wall;
  face.azimuth_rad = azimuth_of(out);
  face.length_ratio = size.x > 0.0 && size.y > 0.0 ? std::clamp(size.x / size.y, 0.25, 4.0) : 1.0;
  return face;
}

/// Whether another roof or a wall stands beside the plane: no table covers the wind there.
bool Builder::is_in_wake(PlaneId plane) const {
  return std::any_of(
      site_.surface.lines.begin(), site_.surface.lines.end(), [&](const surface::Line& line) {
        const bool is_beside = line.left_plane() == plane || line.right_plane() == plane;
        switch (line.kind) {
          case surface::LineKind::valley:
          case surface::LineKind::headwall:
          case surface::LineKind::sidewall:
          case surface::LineKind::step_wall:
            return is_beside;
          default:
            return false;
        }
      });
}

/// At the eave and in the soffit the wind's pressure is that of the wall beneath; up the slope that
/// of the plane.
Face Builder::face_of(const vents::Slot& slot) const {
  const surface::Plane& plane = site_.surface.planes[slot.plane];
  if (slot.position == model::Position::eave) {
    return wall_facing(outward(plane));
  }
  Face face;
  face.kind = Face::Kind::plane;
  face.azimuth_rad = plane.azimuth_rad;
  face.slope_rad = plane.pitch.radians();
  face.is_near_eave = is_near_eave(slot.plane, slot.lower_v_m());
  return face;
}

/// Zone G of EN 1991-1-4 figure 7.8: a tenth of e from the eave in plan, e the lesser of the
/// house's breadth across the wind and twice its height.
bool Builder::is_near_eave(PlaneId id, double v_m) const {
  const surface::Plane& plane = site_.surface.planes[id];
  const glm::dvec2 out = outward(plane);
  double low = 1e300;
  double high = -1e300;
  for (const auto& loops : site_.surface.wall_outlines) {
    for (const auto& loop : loops) {
      for (const glm::dvec2 p : loop) {
        low = std::min(low, glm::dot(p, glm::dvec2{-out.y, out.x}));
        high = std::max(high, glm::dot(p, glm::dvec2{-out.y, out.x}));
      }
    }
  }
  const double e = std::min(high - low, 2.0 * made_.top_m);
  return v_m * std::cos(plane.pitch.radians()) < 0.1 * e;
}

namespace {

constexpr double unbounded_m = 1e9;

/// Height of the throat that the air of a slot passes in a bay; `unbounded_m` where there is none.
double throat_behind(const vents::Slot& slot, const vents::SlotBay& part,
                     const attic::BayPlace& place) {
  if (slot.is_over_overhang && place.throat_m.has_value()) {
    return std::max(*place.throat_m, 0.0);
  }
  if (part.space_over_insulation_m.has_value()) {
    return std::max(*part.space_over_insulation_m, 0.0);
  }
  return unbounded_m;
}

/// Discharge area of a slot at a bay with the throat behind it. Slots that share a throat, `all_m2`
/// together, each have their share of its width.
double through_throat_m2(const Site& site, const vents::Slot& slot, const vents::SlotBay& part,
                         double all_m2) {
  const double slot_m2 = opening_discharge * part.free_area_m2;
  const double height_m = throat_behind(slot, part, site.attic.bays[part.bay]);
  if (height_m >= unbounded_m) {
    return slot_m2;
  }
  const double share = slot.is_over_overhang && part.live ? part.free_area_m2 / all_m2 : 1.0;
  const double width_m = share * site.framing.bays[part.bay].clear_width_m;
  return in_series(slot_m2, opening_discharge * height_m * width_m);
}

}  // namespace

void Builder::find_overhangs() {
  overhang_of_ = IndexedVector<BayId, BoxKey>(site_.framing.bays.size());
  std::map<SpaceId, glm::dvec2> first;
  for (const attic::Join& join : site_.attic.joins) {
    if (join.kind == attic::JoinKind::over_plate) {
      const glm::dvec2 at{join.at};
      const glm::dvec2 start = first.try_emplace(join.one, at).first->second;
      overhang_of_[join.bay] = {join.one, {}};
      for (const model::Divider& divider : site_.model.dividers) {
        overhang_of_[join.bay].second.push_back(is_between(divider, start, at));
      }
    }
  }
}

/// The boxed soffit under a slot at a bay; none where the tails stand open, or the slot is inside.
BoxKey Builder::box_under(const vents::Slot& slot, BayId bay) const {
  const surface::Plane& plane = site_.surface.planes[slot.plane];
  const model::Soffit soffit = site_.model.parts[plane.part].edge(plane.edge).soffit;
  const bool is_boxed = soffit == model::Soffit::closed || soffit == model::Soffit::vented ||
                        model::is_in_soffit(slot.kind);
  return slot.is_over_overhang && is_boxed ? overhang_of_[bay] : BoxKey();
}

/// Into the box beneath, where there is one; else a slot's bays behind each other's throats,
/// together where they open to the same air.
void Builder::add_slot(SlotId id) {
  const vents::Slot& slot = site_.vents.slots[id];
  const glm::dvec3 at = 0.5 * (slot.from + slot.to);
  const double slot_v = slot.lower_v_m() + 0.5 * slot.width_m;
  std::map<std::pair<CompartmentId, AirNodeId>, Behind> behind;
  for (const vents::SlotBay& part : slot.bays) {
    if (part.block != vents::Block::none) {
      continue;
    }
    const attic::BayPlace& place = site_.attic.bays[part.bay];
    const double slot_m2 = opening_discharge * part.free_area_m2;
    if (const BoxKey box = box_under(slot, part.bay); !box.first.is_none() && slot_m2 > 0.0) {
      Box& own = boxes_[box];
      if (own.parts.empty() || own.parts.back().slot != id) {
        own.parts.push_back({id});
      }
      own.parts.back().free_m2 += part.free_area_m2;
      own.parts.back().discharge_m2 += slot_m2;
      own.discharge_m2 += slot_m2;
      own.moment += slot_m2 * at.z;
      own.face = face_of(slot);
      continue;
    }
    SpaceId space = site_.attic.space_at(part.bay, slot_v);
    if (slot.is_over_overhang || space.is_none() || !has(space)) {
      space = place.space;
    }
    const AirNodeId node = node_of(space, at.z);
    if (node.is_none() || slot_m2 <= 0.0) {
      continue;
    }
    Behind& own = behind[{site_.attic.spaces[space].compartment, node}];
    own.free_m2 += part.free_area_m2;
    own.add(part.bay, through_throat_m2(site_, slot, part, over_overhang_m2_[part.bay]));
  }
  for (const auto& [where, own] : behind) {
    if (own.discharge_m2 <= 0.0) {
      continue;
    }
    Way way;
    way.id = slot.id;
    way.slot = id;
    way.compartment = where.first;
    way.free_area_m2 = own.free_m2;
    way.at = at;
    way.bays = own.shares();
    way.is_wind_unsure = is_in_wake(slot.plane);
    Passage passage;
    passage.face = face_of(slot);
    passage.way = made_.ways.size();
    passage.link = made_.network.links.push_back(
        {way.id,
         {Network::outside(), at.z},
         {where.second, at.z},
         Opening{own.discharge_m2, laminar_limit_pa(mesh_m, opening_discharge)}});
    made_.ways.push_back(std::move(way));
    made_.passages.push_back(passage);
  }
}

/// One node: its slots together from outside, then over the plate into every bay along the eave
/// that is open there. Each slot is told with its share of the box's area.
void Builder::add_box(const BoxKey& key, const Box& box) {
  const SpaceId overhang = key.first;
  std::map<std::pair<CompartmentId, AirNodeId>, Behind> behind;
  double all_m2 = 0.0;
  for (const attic::Join& join : site_.attic.joins) {
    if (join.kind != attic::JoinKind::over_plate || overhang_of_[join.bay] != key ||
        !join.is_open) {
      continue;
    }
    const AirNodeId node = node_of(join.other, join.at.z);
    const double throat_m2 = opening_discharge * join.area_m2;
    if (!node.is_none() && throat_m2 > 0.0) {
      Behind& own = behind[{site_.attic.spaces[join.other].compartment, node}];
      own.add(join.bay, throat_m2);
      own.moment += throat_m2 * join.at.z;
      all_m2 += throat_m2;
    }
  }
  if (all_m2 <= 0.0) {
    return;
  }
  const std::string& id = site_.attic.spaces[overhang].id;
  const AirNodeId node = made_.network.nodes.push_back({id, 293.15});
  const double box_z = box.moment / box.discharge_m2;
  const AirLinkId outer = made_.network.links.push_back(
      {id,
       {Network::outside(), box_z},
       {node, box_z},
       Opening{box.discharge_m2, laminar_limit_pa(mesh_m, opening_discharge)}});
  made_.outer.push_back({outer, box.face});
  made_.boxes.push_back(node);
  for (const auto& [where, own] : behind) {
    const double z = own.moment / own.discharge_m2;
    const AirLinkId link = made_.network.links.push_back(
        {id,
         {node, z},
         {where.second, z},
         Opening{own.discharge_m2, laminar_limit_pa(units::inch_m, opening_discharge)}});
    for (const Box::Part& part : box.parts) {
      const vents::Slot& slot = site_.vents.slots[part.slot];
      Way way;
      way.id = slot.id;
      way.slot = part.slot;
      way.overhang = overhang;
      way.compartment = where.first;
      way.free_area_m2 = part.free_m2 * own.discharge_m2 / all_m2;
      way.at = 0.5 * (slot.from + slot.to);
      way.bays = own.shares();
      way.is_wind_unsure = is_in_wake(slot.plane);
      Passage passage;
      passage.way = made_.ways.size();
      passage.link = link;
      passage.share = part.discharge_m2 / box.discharge_m2;
      passage.outer = outer;
      made_.ways.push_back(std::move(way));
      made_.passages.push_back(passage);
    }
  }
}

void Builder::add_slots() {
  find_overhangs();
  over_overhang_m2_ = vents::over_overhang_m2(site_.framing, site_.vents);
  for (const SlotId id : site_.vents.slots.ids()) {
    if (!site_.vents.slots[id].is_blocked) {
      add_slot(id);
    }
  }
  for (const auto& [key, box] : boxes_) {
    add_box(key, box);
  }
}

Face Builder::face_of(const vents::Exhaust& exhaust) const {
  if (exhaust.kind == model::VentKind::gable_louvre) {
    const std::optional<glm::dvec2> out = outward_of_wall(site_, exhaust.wall);
    return out ? wall_facing(*out) : Face{};
  }
  Face face;
  PlaneId plane = exhaust.plane;
  face.kind = Face::Kind::plane;
  if (plane.is_none() && !exhaust.line.is_none()) {
    const surface::Line& line = site_.surface.lines[exhaust.line];
    plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    face.kind = Face::Kind::ridge;
  }
  if (plane.is_none()) {
    return {};
  }
  face.azimuth_rad = site_.surface.planes[plane].azimuth_rad;
  face.slope_rad = site_.surface.planes[plane].pitch.radians();
  face.is_near_eave = is_near_eave(plane, exhaust.at_uv.y);
  return face;
}

void Builder::add_exhaust(ExhaustId id, const Outlet& outlet) {
  const vents::Exhaust& exhaust = site_.vents.exhausts[id];
  const auto product = site_.catalogue.products.find(exhaust.product);
  Way way;
  way.id = exhaust.id;
  way.role = Role::exhaust;
  way.exhaust = id;
  way.compartment = outlet.compartment;
  way.free_area_m2 = outlet.area_m2;
  way.at = outlet.at;
  way.is_wind_unsure = !exhaust.plane.is_none() && is_in_wake(exhaust.plane);
  way.is_fan = exhaust.kind == model::VentKind::powered;
  Passage passage;
  passage.face = face_of(exhaust);
  passage.way = made_.ways.size();
  Law law = opening_law(outlet.area_m2);
  if (product != site_.catalogue.products.end()) {
    const model::Product& made = product->second;
    if (exhaust.kind == model::VentKind::gable_louvre && made.depth_m > 0.0) {
      law = TallOpening{opening_discharge * outlet.area_m2, way.at.z - 0.5 * made.depth_m,
                        way.at.z + 0.5 * made.depth_m, 10,
                        laminar_limit_pa(mesh_m, opening_discharge)};
    }
    if (way.is_fan && made.fan_flow_m3s > 0.0) {
      passage.fan = Fan{made.fan_flow_m3s,
                        made.fan_shut_pressure_pa > 0.0 ? made.fan_shut_pressure_pa : shut_pa};
    }
  }
  passage.link = made_.network.links.push_back(
      {way.id, {Network::outside(), way.at.z}, {outlet.node, way.at.z}, law});
  made_.ways.push_back(std::move(way));
  made_.passages.push_back(passage);
}

void Builder::add_exhausts() {
  for (const ExhaustId id : site_.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = site_.vents.exhausts[id];
    for (const vents::ExhaustShare& share : exhaust.shares) {
      const AirNodeId node = node_of(share.space, share.low_m);
      if (!node.is_none() && share.free_area_m2 > 0.0) {
        add_exhaust(id, {share.compartment, node, share.free_area_m2, along(exhaust, share.low_m)});
      }
    }
    if (!exhaust.shares.empty() || exhaust.compartment.is_none() || exhaust.free_area_m2 <= 0.0) {
      continue;
    }
    const glm::dvec3 middle = 0.5 * (exhaust.from + exhaust.to);
    SpaceId space = site_.attic.attic_under({middle.x, middle.y});
    if (space.is_none() || site_.attic.spaces[space].compartment != exhaust.compartment) {
      space = site_.attic.compartments[exhaust.compartment].spaces.front();
    }
    const AirNodeId node = node_of(space, middle.z);
    if (!node.is_none()) {
      add_exhaust(id, {exhaust.compartment, node, exhaust.free_area_m2, middle});
    }
  }
}

}  // namespace ridgeward::airflow
