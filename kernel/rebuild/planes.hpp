#pragma once
// Roof planes as other formats give them: polygons in space, without saying what they are.

#include "base/fault.hpp"
#include "units/length.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::rebuild {

/// A flat piece of a roof: outer loop first, then holes. Metres, z up; either turn serves.
using RoofPolygon = std::vector<std::vector<glm::dvec3>>;

struct Building {
  std::string id;
  std::vector<RoofPolygon> roof;
  double ground_m = 0.0;  ///< height of the ground, from which plates are measured
  /// Outer faces of walls in plan, closed; none where the format has none.
  std::vector<std::vector<glm::dvec2>> walls{};
};

struct RoofPlanes {
  std::string name;
  std::vector<Building> buildings;
  double tolerance_m = 0.02;  ///< how far the rebuilt roof may lie from the polygons
  /// In which the model is written.
  units::LengthUnit unit = units::LengthUnit::m;
  std::optional<double> north_deg{};  ///< where north lies, clockwise from +y; none: not said
};

/// Whether model JSON of an importer holds planes to rebuild instead of a model.
bool holds_planes(std::string_view json);

/// Reads
///   {"ridgeward_planes": 1, "name": "...", "tolerance": 0.02, "units": "m", "north_deg": 20,
///    "buildings": [{"id": "...", "ground": 0, "roof": [[[[x, y, z], ...], hole, ...], ...],
///                   "walls": [[[x, y], ...], ...]}]}
/// in metres; "units" are those of the model that is made, "north_deg" may be left out. Faults as
/// those of model::read; planes.too_many over 200 000 corners or 5000 buildings.
Result<RoofPlanes> read_planes(std::string_view json);

}  // namespace ridgeward::rebuild
