#pragma once
// Faces, arcs and nodes in 3D before the trade's names: what the wavefront of one part gives, and
// what uniting several parts gives. Private to this folder.

#include "surface/drip.hpp"
#include "surface/skeleton.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <cstdint>
#include <vector>

namespace ridgeward::surface {

/// Phases from here on are the two sides of crickets.
inline constexpr std::size_t first_cricket_phase = 1000;

struct MeshFace {
  enum class Kind { plane, gable, step, underside };
  Kind kind = Kind::plane;
  std::size_t part = 0;
  std::size_t edge = 0;   ///< of the part
  std::size_t phase = 0;  ///< 0 from the eave, more above pitch breaks
  /// Plane: inward, in plan, unit. Wall: against its outside. Underside: none.
  glm::dvec2 normal{0.0};
  double run_per_rise = 0.0;  ///< planes only
  glm::dvec3 anchor{0.0};     ///< a point of it
  std::int32_t cricket = -1;  ///< index into RoofModel::obstacles of the chimney that it serves

  /// Height of a plane over a point of the plan.
  double z(glm::dvec2 p) const {
    return anchor.z + (normal.x * (p.x - anchor.x) + normal.y * (p.y - anchor.y)) / run_per_rise;
  }
};

/// Seen from outside the solid, face `left` lies on the left hand of from -> to.
struct MeshArc {
  std::uint32_t from = 0;
  std::uint32_t to = 0;
  std::uint32_t left = 0;
  std::uint32_t right = 0;
};

struct Mesh {
  std::vector<glm::dvec3> nodes;
  std::vector<MeshFace> faces;
  std::vector<MeshArc> arcs;
};

/// The faces of one part's wavefront with the underside that closes them.
Mesh as_mesh(const Skeleton& skeleton, const Drip& drip, std::size_t part);

inline constexpr double least_line_m = 1e-6;

/// Joins the ends of arcs shorter than least_line_m and the arcs that then coincide, makes one face
/// of walls that go on in one vertical plane, and one arc of two that go on in one line between
/// the same faces.
/// Law: every arc still has a face on each side, and no face is left with fewer than three arcs.
void tidy(Mesh& mesh);

}  // namespace ridgeward::surface
