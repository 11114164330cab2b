#pragma once
// What is pointed at on the house, to be drawn over it where it is seen.

#include <glm/vec3.hpp>

#include <vector>

namespace ridgeward::scene {

/// A loop in a plane, filled and outlined, or a line. Corners in the scene's coordinates.
struct Mark {
  std::vector<glm::dvec3> corners;  ///< two: a line
  glm::vec3 colour{0.0F};
  glm::dvec3 normal{0.0};  ///< of the plane, outward; none for lines
  /// What stands in front hides it; its border is dashed there. False: there it is left out, as is
  /// all of it where the plane is turned away.
  bool shows_through = true;
  bool operator==(const Mark&) const = default;
};

}  // namespace ridgeward::scene
