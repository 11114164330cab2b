#pragma once
// Several parts to one roof: the upper envelope of their surfaces in plan.
//
// All lines of all parts, and the lines in which planes of different parts cross, are cut up into
// one arrangement of the plan. In each of its faces the highest plane is known; lines between faces
// of one plane go; where the heights on the two sides of a line differ a wall stands. Both sides of
// every line share its vertices by construction.

#include "surface/arrangement.hpp"
#include "surface/mesh.hpp"

#include <vector>

namespace ridgeward::surface {

/// REQUIRES tidy meshes. Planes that two parts have in common belong to the earlier part.
/// Laws: as of a mesh; the faces that are planes tile the union of the plans once.
Mesh unite(const std::vector<Mesh>& parts);

/// No plane: outside the roof.
struct PartFace {
  static constexpr std::int32_t outside = -1;
};

/// What lies over a face of the arrangement: by cycle, index into `tops`, or -1 for no roof.
struct Envelope {
  Arrangement plan;
  std::vector<MeshFace> faces;      ///< of all parts, one after another
  std::vector<std::int32_t> top;    ///< by cycle: index into faces, -1 for none
  std::vector<std::uint32_t> wall;  ///< by edge: a standing face of some part on it, ~0 for none
};

/// The highest plane over every face of the plan.
Envelope find_envelope(const std::vector<Mesh>& parts);

/// Planes, walls and underside as a mesh. `base_m`: height of the underside.
Mesh stand_up(const Envelope& envelope, double base_m);

}  // namespace ridgeward::surface
