#pragma once
// What lies under the pointer, and what the eye can see.

#include "scene/camera.hpp"
#include "scene/scene.hpp"

#include <optional>

namespace ridgeward::scene {

/// At most one of the two is set.
struct Picked {
  PlaneId plane;
  LineId line;
  glm::dvec3 at{0.0};
  bool is_nothing() const { return plane.is_none() && line.is_none(); }
  bool operator==(const Picked& other) const { return plane == other.plane && line == other.line; }
};

struct Hit {
  double distance_m = 0.0;
  std::size_t face = 0;  ///< index into Scene::faces
};

/// The nearest face that stops sight (roof, wall, trim, obstacle) along a ray, from either side;
/// where the house is cut open, of what is left standing.
std::optional<Hit> first_hit(const Scene& scene, const Ray& ray,
                             const std::optional<HalfSpace>& keeps = std::nullopt);

/// Whether nothing stands between the eye and `point` (which may lie on a face).
bool is_in_sight(const Scene& scene, const Lens& lens, glm::dvec3 point);

/// A line of the roof in sight within `reach_px` of the pixel, else the roof plane under it, else
/// nothing.
Picked pick(const Scene& scene, const Lens& lens, glm::dvec2 pixel, double reach_px);

/// A good direction to look from: of eight that look at the house from above its corners, the one
/// that sees most of the slots and of the lines. Earlier ones win ties, so equal input gives equal
/// output.
Camera best_view(const Scene& scene);

}  // namespace ridgeward::scene
