#include "attic/ceilings.hpp"

#include "base/polygon.hpp"

#include <algorithm>

namespace ridgeward::attic {

namespace {

Floor floor_over_part(const model::Part& part, std::size_t index, bool is_only,
                      const surface::Surface& surface) {
  Floor floor;
  floor.compartment.id = is_only ? "attic" : "attic-" + part.id;
  floor.compartment.outline = surface.wall_outlines[index];
  floor.compartment.floor_area_m2 = polygon::area(floor.compartment.outline);
  floor.compartment.bottom_m = part.plate_m;
  floor.where = "/parts/" + std::to_string(index);
  return floor;
}

Floor floor_of_ceiling(const model::Ceiling& ceiling, std::size_t index) {
  Floor floor;
  floor.compartment.id = ceiling.id;
  floor.compartment.outline = {ceiling.outline};
  if (polygon::area(ceiling.outline) < 0.0) {
    std::reverse(floor.compartment.outline.front().begin(),
                 floor.compartment.outline.front().end());
  }
  floor.compartment.floor_area_m2 = polygon::area(floor.compartment.outline);
  floor.compartment.bottom_m = ceiling.height_m;
  floor.compartment.insulation_m = ceiling.insulation_m;
  floor.compartment.baffles = ceiling.baffles;
  floor.where = "/ceilings/" + std::to_string(index);
  return floor;
}

/// Courtyards within a ceiling's outline are no floor: they become its holes. An outline that
/// already goes around one keeps as it is.
void take_courtyards_out(const surface::Surface& surface, Compartment& compartment) {
  const polygon::Loop outer = compartment.outline.front();
  for (const polygon::Loops& part : surface.wall_outlines) {
    for (std::size_t i = 1; i < part.size(); ++i) {
      polygon::Loop court = part[i];
      const polygon::Loops pieces = polygon::convex_pieces({court});
      const bool is_within =
          std::all_of(court.begin(), court.end(),
                      [&](glm::dvec2 corner) { return polygon::contains(outer, corner); }) &&
          std::all_of(pieces.begin(), pieces.end(), [&](const polygon::Loop& piece) {
            return polygon::contains(outer, polygon::centroid(piece));
          });
      if (is_within) {
        compartment.outline.push_back(std::move(court));
      }
    }
  }
  compartment.floor_area_m2 = polygon::area(compartment.outline);
}

/// A ceiling without an outline lies over the walls of all parts.
std::vector<Floor> floors_of_bare_ceiling(const model::RoofModel& model, std::size_t index,
                                          const surface::Surface& surface) {
  std::vector<Floor> floors;
  const model::Ceiling& ceiling = model.ceilings[index];
  for (std::size_t part = 0; part < surface.wall_outlines.size(); ++part) {
    Floor floor = floor_of_ceiling(ceiling, index);
    floor.compartment.outline = surface.wall_outlines[part];
    floor.compartment.floor_area_m2 = polygon::area(floor.compartment.outline);
    if (surface.wall_outlines.size() > 1) {
      floor.compartment.id += "-" + model.parts[part].id;
    }
    floors.push_back(std::move(floor));
  }
  return floors;
}

}  // namespace

Result<std::vector<Floor>> floors_of(const model::RoofModel& model, const surface::Surface& surface,
                                     std::vector<std::string>& assumptions) {
  std::vector<Floor> floors;
  if (model.ceilings.empty()) {
    for (std::size_t i = 0; i < model.parts.size() && i < surface.wall_outlines.size(); ++i) {
      floors.push_back(floor_over_part(model.parts[i], i, model.parts.size() == 1, surface));
    }
    assumptions.emplace_back(
        "No ceiling is given: one flat ceiling over the walls at plate height is taken, without "
        "insulation.");
    return floors;
  }
  Faults faults;
  for (std::size_t i = 0; i < model.ceilings.size(); ++i) {
    const model::Ceiling& ceiling = model.ceilings[i];
    if (ceiling.kind != model::CeilingKind::flat) {
      faults.push_back({"ceiling.kind_not_yet", "/ceilings/" + std::to_string(i) + "/kind",
                        "Ceiling " + ceiling.id + " is not flat; only flat ceilings are divided.",
                        "Give the ceiling as \"flat\", or leave it out."});
    } else if (ceiling.outline.size() < 3) {
      for (Floor& floor : floors_of_bare_ceiling(model, i, surface)) {
        floors.push_back(std::move(floor));
      }
    } else {
      floors.push_back(floor_of_ceiling(ceiling, i));
      take_courtyards_out(surface, floors.back().compartment);
    }
  }
  if (!faults.empty()) {
    return faults;
  }
  return floors;
}

}  // namespace ridgeward::attic
