#include "airflow/roof_network.hpp"

#include "airflow/air.hpp"
#include "airflow/wind.hpp"
#include "attic/space.hpp"
#include "base/polygon.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double discharge = 0.6;
constexpr double insulation_wmk = 0.045;  ///< loose fill and batts
constexpr double ceiling_board_r = 0.2;   ///< board and films
/// Taken where no thickness is given: R-19 of the trade.
constexpr double unknown_ceiling_r = 3.35;
constexpr double cm2_m2 = 1e-4;
constexpr double shut_pa = 60.0;  ///< of a fan whose catalogue entry does not say
/// Openings of vents are slits and meshes of about this width.
constexpr double mesh_m = 0.006;

glm::dvec2 outward(const surface::Plane& plane) {
  const glm::dvec2 n{plane.frame.normal};
  const double length = glm::length(n);
  return length > 0.0 ? n / length : glm::dvec2{0.0, -1.0};
}

class Builder {
 public:
  explicit Builder(const Site& site) : site_(site) {}
  RoofNetwork build();

 private:
  void add_spaces();
  void add_planes(Space& space) const;
  void add_slots();
  void add_exhausts();
  void add_exhaust(ExhaustId id, Space& space);
  void add_house();
  Face wall_facing(glm::dvec2 outward) const;
  Face face_of(const vents::Exhaust& exhaust) const;
  bool is_in_wake(PlaneId plane) const;
  Space* space_of(CompartmentId id);
  double azimuth_of(glm::dvec2 outward) const;

  const Site& site_;
  RoofNetwork made_;
};

Space* Builder::space_of(CompartmentId id) {
  for (Space& space : made_.spaces) {
    if (space.compartment == id) {
      return &space;
    }
  }
  return nullptr;
}

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

void Builder::add_planes(Space& space) const {
  const attic::Compartment& compartment = site_.attic.compartments[space.compartment];
  const attic::Pieces floor(compartment.outline);
  for (const PlaneId id : site_.surface.planes.ids()) {
    const surface::Plane& plane = site_.surface.planes[id];
    const attic::Pieces over(attic::plan_of(site_.surface, plane));
    double plan_m2 = 0.0;
    for (const attic::Pieces::One& a : over.all) {
      for (const attic::Pieces::One& b : floor.all) {
        if (a.box.touches(b.box)) {
          plan_m2 += std::max(polygon::area(polygon::overlap(a.corners, b.corners)), 0.0);
        }
      }
    }
    if (plan_m2 > 1e-6) {
      space.planes.push_back({id, plan_m2 / std::cos(plane.pitch.radians())});
    }
  }
}

void Builder::add_spaces() {
  for (const CompartmentId id : site_.attic.compartments.ids()) {
    const attic::Compartment& compartment = site_.attic.compartments[id];
    Space space;
    space.compartment = id;
    space.volume_m3 = compartment.volume_m3;
    space.floor_area_m2 = compartment.floor_area_m2;
    space.ceiling_r = compartment.insulation_m > 0.0
                          ? ceiling_board_r + compartment.insulation_m / insulation_wmk
                          : unknown_ceiling_r;
    space.node = made_.network.nodes.push_back({compartment.id, 293.15});
    add_planes(space);
    made_.spaces.push_back(std::move(space));
  }
}

/// A slot's bays behind each other's throats, together where they open to the same space.
void Builder::add_slots() {
  for (const SlotId id : site_.vents.slots.ids()) {
    const vents::Slot& slot = site_.vents.slots[id];
    if (slot.is_blocked) {
      continue;
    }
    for (Space& space : made_.spaces) {
      std::vector<BayShare> bays;
      double discharge_m2 = 0.0;
      double free_m2 = 0.0;
      for (const vents::SlotBay& part : slot.bays) {
        if (site_.attic.bays[part.bay].compartment != space.compartment) {
          continue;
        }
        double area = discharge * part.free_area_m2;
        if (slot.space_over_insulation_m) {
          const double throat_m2 = std::max(*slot.space_over_insulation_m, 0.0) *
                                   site_.framing.bays[part.bay].clear_width_m;
          area = in_series(area, discharge * throat_m2);
        }
        discharge_m2 += area;
        free_m2 += part.free_area_m2;
        bays.push_back({part.bay, area});
      }
      if (discharge_m2 <= 0.0) {
        continue;
      }
      for (BayShare& bay : bays) {
        bay.share /= discharge_m2;
      }
      Way way;
      way.bays = std::move(bays);
      way.id = slot.id;
      way.role = Role::intake;
      way.slot = id;
      way.compartment = space.compartment;
      way.free_area_m2 = free_m2;
      way.at = 0.5 * (slot.from + slot.to);
      way.is_wind_unsure = is_in_wake(slot.plane);
      Passage passage;
      passage.face = wall_facing(outward(site_.surface.planes[slot.plane]));
      passage.way = made_.ways.size();
      passage.link = made_.network.links.push_back(
          {way.id,
           {Network::outside(), way.at.z},
           {space.node, way.at.z},
           Opening{discharge_m2, laminar_limit_pa(mesh_m, discharge)}});
      made_.ways.push_back(std::move(way));
      made_.passages.push_back(std::move(passage));
    }
  }
}

Face Builder::face_of(const vents::Exhaust& exhaust) const {
  Face face;
  PlaneId plane = exhaust.plane;
  if (plane.is_none() && !exhaust.line.is_none()) {
    const surface::Line& line = site_.surface.lines[exhaust.line];
    plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    face.kind = Face::Kind::ridge;
  } else {
    face.kind = Face::Kind::plane;
  }
  if (plane.is_none()) {
    face.kind = Face::Kind::none;
    return face;
  }
  face.azimuth_rad = site_.surface.planes[plane].azimuth_rad;
  face.slope_rad = site_.surface.planes[plane].pitch.radians();
  return face;
}

void Builder::add_exhaust(ExhaustId id, Space& space) {
  const vents::Exhaust& exhaust = site_.vents.exhausts[id];
  Way way;
  way.id = exhaust.id;
  way.role = Role::exhaust;
  way.exhaust = id;
  way.compartment = space.compartment;
  way.free_area_m2 = exhaust.free_area_m2;
  way.at = 0.5 * (exhaust.from + exhaust.to);
  way.is_wind_unsure = !exhaust.plane.is_none() && is_in_wake(exhaust.plane);
  Passage passage;
  passage.face = face_of(exhaust);
  passage.way = made_.ways.size();
  passage.link = made_.network.links.push_back(
      {way.id,
       {Network::outside(), way.at.z},
       {space.node, way.at.z},
       Opening{discharge * exhaust.free_area_m2, laminar_limit_pa(mesh_m, discharge)}});
  made_.ways.push_back(std::move(way));
  made_.passages.push_back(std::move(passage));
}

void Builder::add_exhausts() {
  for (const ExhaustId id : site_.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = site_.vents.exhausts[id];
    Space* space = exhaust.compartment.is_none() ? nullptr : space_of(exhaust.compartment);
    if (space != nullptr && exhaust.free_area_m2 > 0.0) {
      add_exhaust(id, *space);
    }
  }
}

/// The rooms: leaks through the ceiling into each space, and through the walls, low and high on
/// each of four sides.
void Builder::add_house() {
  made_.house = made_.network.nodes.push_back({"house", 293.15});
  double floor_m2 = 0.0;
  double plate_m = 0.0;
  for (const model::Part& part : site_.model.parts) {
    plate_m = std::max(plate_m, part.plate_m);
  }
  made_.ceiling_m = plate_m;
  for (const Space& space : made_.spaces) {
    const attic::Compartment& compartment = site_.attic.compartments[space.compartment];
    floor_m2 += space.floor_area_m2;
    made_.ceiling_m = std::min(made_.ceiling_m, compartment.bottom_m);
    Way way;
    way.id = "ceiling of " + compartment.id;
    way.role = Role::leak;
    way.compartment = space.compartment;
    way.free_area_m2 = site_.model.air.ceiling_leakage_cm2_m2 * cm2_m2 * space.floor_area_m2;
    const glm::dvec2 middle = polygon::centroid(compartment.outline.front());
    way.at = {middle, compartment.bottom_m};
    Passage passage;
    passage.way = made_.ways.size();
    passage.link = made_.network.links.push_back({way.id,
                                                  {made_.house, way.at.z},
                                                  {space.node, way.at.z},
                                                  Crack{crack_flow(way.free_area_m2)}});
    made_.ways.push_back(std::move(way));
    made_.passages.push_back(std::move(passage));
  }
  const double shell_m2 = site_.model.air.house_leakage_cm2_m2 * cm2_m2 * floor_m2;
  glm::dvec2 out = outward(*site_.surface.planes.begin());
  for (int side = 0; side < 4; ++side) {
    for (const double share : {0.2, 0.8}) {
      const double z = share * made_.ceiling_m;
      const AirLinkId link = made_.network.links.push_back(
          {"walls", {Network::outside(), z}, {made_.house, z}, Crack{crack_flow(shell_m2 / 8.0)}});
      made_.shell.push_back({link, wall_facing(out)});
    }
    out = {-out.y, out.x};
  }
}

RoofNetwork Builder::build() {
  for (const glm::dvec3& node : site_.surface.nodes) {
    made_.top_m = std::max(made_.top_m, node.z);
  }
  add_spaces();
  if (!made_.spaces.empty()) {
    add_slots();
    add_exhausts();
    add_house();
  }
  return std::move(made_);
}

}  // namespace

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

bool is_sign_unsure(const Face& face, double wind_from_rad) {
  return face.kind == Face::Kind::plane &&
         body_coefficients(face.slope_rad, wind_from_rad - face.azimuth_rad).is_unsure();
}

}  // namespace ridgeward::airflow
