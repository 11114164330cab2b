#pragma once
// Closed bodies of upright columns; private to the folder.

#include "scene/scene.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <vector>

namespace ridgeward::scene {

/// A convex piece of the plan, counter-clockwise, with the heights of bottom and top at its
/// corners.
struct Slab {
  std::vector<glm::dvec2> plan;
  std::vector<double> bottom_m;
  std::vector<double> top_m;
};

/// The border of slabs that stand side by side, without the walls between them: where two stand
/// against each other over the same heights, whole sides or parts of them, neither's wall is made.
/// Triangles run anticlockwise seen from outside, grouped by direction.
/// Law: what encloses a volume does so still; the volume enclosed is the sum of the slabs'.
std::vector<Face> border(const std::vector<Slab>& slabs, const Face& like);
/// The same, added to the scene.
void add_slabs(const std::vector<Slab>& slabs, const Face& like, Scene& scene);

}  // namespace ridgeward::scene
