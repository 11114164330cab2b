#pragma once
// From roof planes to a model: parts with eaves, gables and pitches that `assess` takes.

#include "base/tell.hpp"
#include "model/read.hpp"
#include "model/roof_model.hpp"

#include "rebuild/planes.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::rebuild {

/// How the rebuilt roof of one building compares with what was given.
struct Fit {
  std::string building;
  std::size_t planes_given = 0;  ///< polygons that lie in one plane count as one
  std::size_t parts = 0;         ///< understood as parts with eaves and gables
  std::size_t plain = 0;         ///< pieces kept as plain planes
  double distance_m = 0.0;       ///< largest, from the given planes to the rebuilt roof
  double area_given_m2 = 0.0;
  double area_rebuilt_m2 = 0.0;
  bool has_overhangs = false;  ///< walls that were given told them, of all parts
};

struct Rebuilt {
  model::RoofModel model;  ///< keeps the laws of model::read
  std::vector<Fit> fits;   ///< of the buildings that are in the model
  std::vector<std::string> notes;
  glm::dvec2 origin{0.0};  ///< the place of what was given that is 0, 0 in the model
};

/// Rebuilds each building by itself: polygons in one plane are put together; a group of planes that
/// join is outlined, each edge of the outline is told by the plane beside it (falling toward it: an
/// eave with that pitch; else a gable or a shed's top), the part is raised and compared. Planes
/// that the raised part has are done; it counts only where it nowhere stands above what was given.
/// Eaves that other roofs hide are told from those that are seen, where all planes of the group
/// then come back. What is left over is tried again by itself, then cut at its valleys, then by the
/// height of its eaves, and last kept as plain planes: parts of one plane each. Outlines are drip
/// lines; walls stand beneath them, inward where a plane's eave hangs lower or where walls were
/// given (overhangs.hpp). Faults: planes.nothing
/// when no building could be rebuilt. Laws: (1) no rebuilt plane lies above the given ones by more
/// than the tolerance; (2) every part is checked by raising it; (3) planes.distance of a fit is
/// measured on the united roof. `tell` counts buildings.
Result<Rebuilt> rebuild(const RoofPlanes& given, const Tell& tell = {});

/// What an importer's JSON comes to.
struct Modelled {
  model::ReadModel read;
  std::vector<std::string> notes;  ///< of the rebuilding
  std::optional<Fit> fit;          ///< of the first building; none where the JSON was a model
  std::vector<Fit> fits;           ///< of all its buildings
  /// Loops of the planes that were given, where they lie in the model.
  std::vector<std::vector<glm::dvec3>> given;
};

/// The model that the JSON holds, or that is rebuilt from its planes and read like any file. Faults
/// as those of model::read, read_planes and rebuild, the last with the name of the planes.
Result<Modelled> modelled(std::string_view json, const Tell& tell = {});

}  // namespace ridgeward::rebuild
