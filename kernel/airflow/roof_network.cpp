#include "airflow/roof_network.hpp"

#include "airflow/air.hpp"
#include "airflow/builder.hpp"
#include "airflow/wind.hpp"
#include "attic/space.hpp"
#include "base/polygon.hpp"
#include "units/length.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double insulation_wmk = 0.045;  ///< loose fill and batts
constexpr double ceiling_board_r = 0.2;   ///< board and films
/// Taken where no thickness is given: R-19 of the trade.
constexpr double unknown_ceiling_r = 3.35;
constexpr double cm2_m2 = 1e-4;
/// Through drilled holes and over dropped members, of which no size is known: three holes of 1 in.
constexpr double unknown_hole_m2 = 3.0 * M_PI / 4.0 * units::inch_m * units::inch_m;
constexpr double wide_open_m2 = 2.0;  ///< between attics side by side
constexpr std::size_t no_vault = static_cast<std::size_t>(-1);
constexpr double smooth_m = 0.5e-3;  ///< baffles
constexpr double rough_m = 2.5e-3;   ///< nail points, batts that bulge

double ceiling_r(double insulation_m) {
  return insulation_m > 0.0 ? ceiling_board_r + insulation_m / insulation_wmk : unknown_ceiling_r;
}

double common_m2(const attic::Pieces& one, const attic::Pieces& other) {
  double sum = 0.0;
  for (const attic::Pieces::One& a : one.all) {
    for (const attic::Pieces::One& b : other.all) {
      if (a.box.touches(b.box)) {
        sum += std::max(polygon::area(polygon::overlap(a.corners, b.corners)), 0.0);
      }
    }
  }
  return sum;
}

}  // namespace

glm::dvec2 outward(const surface::Plane& plane) {
  const glm::dvec2 n{plane.frame.normal};
  const double length = glm::length(n);
  return length > 0.0 ? n / length : glm::dvec2{0.0, -1.0};
}

AirNodeId Builder::node_of(SpaceId space, double z_m) const {
  if (space.is_none() || !has(space)) {
    return {};
  }
  if (vault_of_[space] == no_vault) {
    return first_[space];
  }
  const Vault& vault = made_.vaults[vault_of_[space]];
  return z_m - vault.foot_m <= vault.head_m - z_m ? vault.foot : vault.head;
}

void Builder::add_planes(Room& room) const {
  const attic::Pieces floor(site_.attic.spaces[room.space].outline);
  for (const PlaneId id : site_.surface.planes.ids()) {
    const surface::Plane& plane = site_.surface.planes[id];
    const attic::Pieces over(surface::plan_of(site_.surface, plane));
    const double plan_m2 = common_m2(over, floor);
    if (plan_m2 > 1e-6) {
      room.planes.push_back({id, plan_m2 / std::cos(plane.pitch.radians())});
    }
  }
}

void Builder::add_room(SpaceId id) {
  const attic::Space& space = site_.attic.spaces[id];
  Room room;
  room.space = id;
  room.compartment = space.compartment;
  room.volume_m3 = space.volume_m3;
  room.floor_area_m2 = space.is_over_deck ? 0.0 : space.floor_area_m2;
  room.ceiling_r = ceiling_r(space.insulation_m);
  room.node = made_.network.nodes.push_back({space.id, 293.15});
  add_planes(room);
  first_[id] = room.node;
  made_.rooms.push_back(std::move(room));
}

void Builder::add_vault(SpaceId id) {
  const attic::Space& space = site_.attic.spaces[id];
  const framing::Bay& bay = site_.framing.bays[space.bay];
  const surface::Plane& plane = site_.surface.planes[space.plane];
  Vault vault;
  vault.space = id;
  vault.compartment = space.compartment;
  vault.bay = space.bay;
  vault.plane = space.plane;
  vault.volume_m3 = space.volume_m3;
  vault.width_m = bay.clear_width_m;
  vault.depth_m = space.clear_m;
  vault.ceiling_u = 1.0 / ceiling_r(space.insulation_m);
  double low_v = 0.0;
  double high_v = bay.length_m;
  for (const attic::Stretch& stretch : site_.attic.bays[space.bay].stretches) {
    if (stretch.space == id) {
      low_v = stretch.low_v_m;
      high_v = stretch.high_v_m;
    }
  }
  vault.length_m = high_v - low_v;
  const double u = 0.5 * (bay.from_u_m + bay.to_u_m);
  vault.foot_m = plane.frame.at({u, low_v}).z;
  vault.head_m = plane.frame.at({u, high_v}).z;
  vault.foot = made_.network.nodes.push_back({space.id + " foot", 293.15});
  vault.head = made_.network.nodes.push_back({space.id + " head", 293.15});
  constexpr double least_m = 1e-3;
  if (vault.width_m > least_m && vault.depth_m > least_m && vault.length_m > least_m) {
    Channel channel{vault.width_m, vault.depth_m, vault.length_m};
    channel.roughness_m = space.baffles ? smooth_m : rough_m;
    vault.link = made_.network.links.push_back(
        {space.id, {vault.foot, vault.foot_m}, {vault.head, vault.head_m}, channel});
  }
  first_[id] = vault.foot;
  vault_of_[id] = made_.vaults.size();
  made_.vaults.push_back(vault);
}

/// Overhangs come with the slots that feed them.
void Builder::add_spaces() {
  first_ = IndexedVector<SpaceId, AirNodeId>(site_.attic.spaces.size());
  vault_of_ = IndexedVector<SpaceId, std::size_t>(site_.attic.spaces.size(), no_vault);
  for (const SpaceId id : site_.attic.spaces.ids()) {
    const attic::Space& space = site_.attic.spaces[id];
    if (space.compartment.is_none()) {
      continue;
    }
    switch (space.kind) {
      case attic::SpaceKind::attic:
        add_room(id);
        break;
      case attic::SpaceKind::rafter_space:
        add_vault(id);
        break;
      case attic::SpaceKind::gap:
        first_[id] = made_.network.nodes.push_back({space.id, 293.15});
        break;
      case attic::SpaceKind::overhang:
        break;
    }
  }
}

void Builder::add_joins() {
  for (const attic::Join& join : site_.attic.joins) {
    const AirNodeId one = node_of(join.one, join.at.z);
    const AirNodeId other = node_of(join.other, join.at.z);
    if (!join.is_open || join.kind == attic::JoinKind::over_plate || one.is_none() ||
        other.is_none() || one == other) {
      continue;
    }
    const bool is_wide = join.kind == attic::JoinKind::side_by_side;
    const double area_m2 = join.area_m2 > 0.0 ? join.area_m2
                           : is_wide          ? wide_open_m2
                                              : unknown_hole_m2;
    made_.network.links.push_back(
        {attic::word(join.kind),
         {one, join.at.z},
         {other, join.at.z},
         Opening{opening_discharge * area_m2, laminar_limit_pa(units::inch_m, opening_discharge)}});
  }
}

void Builder::add_leak(CompartmentId compartment, AirNodeId node, glm::dvec3 at, double floor_m2) {
  Way way;
  way.id = "ceiling of " + site_.attic.compartments[compartment].id;
  way.role = Role::leak;
  way.compartment = compartment;
  way.free_area_m2 = site_.model.air.ceiling_leakage_cm2_m2 * cm2_m2 * floor_m2;
  way.at = at;
  Passage passage;
  passage.way = made_.ways.size();
  passage.link = made_.network.links.push_back(
      {way.id, {made_.house, at.z}, {node, at.z}, Crack{crack_flow(way.free_area_m2)}});
  made_.ways.push_back(std::move(way));
  made_.passages.push_back(passage);
}

/// The rooms below: leaks through the ceiling into each space, of sloped ceilings at their upper
/// end, and through the walls, low and high on each of four sides.
void Builder::add_house() {
  made_.house = made_.network.nodes.push_back({"house", 293.15});
  double floor_m2 = 0.0;
  made_.ceiling_m = 0.0;
  for (const model::Part& part : site_.model.parts) {
    made_.ceiling_m = std::max(made_.ceiling_m, part.plate_m);
  }
  for (const Room& room : made_.rooms) {
    const attic::Space& space = site_.attic.spaces[room.space];
    if (room.floor_area_m2 <= 0.0) {
      continue;
    }
    floor_m2 += room.floor_area_m2;
    made_.ceiling_m = std::min(made_.ceiling_m, space.bottom_m);
    const glm::dvec2 middle = polygon::centroid(space.outline.front());
    add_leak(room.compartment, room.node, {middle, space.bottom_m}, room.floor_area_m2);
  }
  for (const Vault& vault : made_.vaults) {
    const attic::Space& space = site_.attic.spaces[vault.space];
    floor_m2 += space.floor_area_m2;
    const glm::dvec2 middle = polygon::centroid(space.outline.front());
    add_leak(vault.compartment, vault.head, {middle, vault.head_m}, space.floor_area_m2);
  }
  const double shell_m2 = site_.model.air.house_leakage_cm2_m2 * cm2_m2 * floor_m2;
  glm::dvec2 out = outward(*site_.surface.planes.begin());
  for (int side = 0; side < 4; ++side) {
    for (const double share : {0.2, 0.8}) {
      const double z = share * made_.ceiling_m;
      const AirLinkId link = made_.network.links.push_back(
          {"walls", {Network::outside(), z}, {made_.house, z}, Crack{crack_flow(shell_m2 / 8.0)}});
      made_.outer.push_back({link, wall_facing(out)});
    }
    out = {-out.y, out.x};
  }
}

RoofNetwork Builder::build() {
  for (const glm::dvec3& node : site_.surface.nodes) {
    made_.top_m = std::max(made_.top_m, node.z);
  }
  add_spaces();
  if (!made_.is_empty()) {
    add_joins();
    add_slots();
    add_exhausts();
    add_house();
  }
  return std::move(made_);
}

RoofNetwork network_of(const Site& site) { return Builder(site).build(); }

double coefficient(const Face& face, double wind_from_rad) {
  const double angle = wind_from_rad - face.azimuth_rad;
  switch (face.kind) {
    case Face::Kind::wall:
      return wall_coefficient(angle, face.length_ratio);
    case Face::Kind::plane:
      return roof_coefficient(face.slope_rad, angle);
    case Face::Kind::ridge:
      return ridge_coefficient(face.slope_rad, angle);
    case Face::Kind::none:
      break;
  }
  return 0.0;
}

Signs coefficients(const Face& face, double wind_from_rad) {
  const double mean = coefficient(face, wind_from_rad);
  const double angle = wind_from_rad - face.azimuth_rad;
  constexpr double sector = 0.7071 - 1e-3;  // 45 degrees either way: EN 1991-1-4, 7.2.1 (2)
  if (face.kind != Face::Kind::plane || std::cos(angle) < sector) {
    return {mean, mean};
  }
  const Signs signs = face.is_near_eave ? near_eave_coefficients(face.slope_rad, 0.0)
                                        : body_coefficients(face.slope_rad, 0.0);
  if (!signs.is_unsure()) {
    return {mean, mean};
  }
  return {std::min(signs.low, mean), std::max(signs.high, mean)};
}

}  // namespace ridgeward::airflow
