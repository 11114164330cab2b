#pragma once
// The pieces that from_assessment() puts together; private to the folder.

#include "assess.hpp"

#include "scene/scene.hpp"
#include "scene/triangulate.hpp"

#include <vector>

namespace ridgeward::scene {

/// Triangles of a face with loops, in plane coordinates of `frame`.
std::vector<std::array<glm::dvec2, 3>> flat_triangles(const surface::Surface& surface,
                                                      const surface::Frame& frame,
                                                      const std::vector<surface::Loop>& loops);
/// Plane coordinates to space.
std::vector<Triangle> lifted(const surface::Frame& frame,
                             const std::vector<std::array<glm::dvec2, 3>>& triangles);

/// Thickness of a part's deck; none where the surface comes without its model.
double deck_of(const Assessment& assessment, std::size_t part);

/// Walls up to the deck, fascia, rake boards, chimneys: the house under the roof.
void add_house(const Assessment& assessment, Scene& scene);
/// Rafters as timbers and as strokes on the deck, bays by state.
void add_framing(const Assessment& assessment, Scene& scene);
/// Slots with the vent over them, exhaust vents.
void add_vents(const Assessment& assessment, Scene& scene);

/// What shows where the house is cut open: deck, insulation, air. After add_planes().
void add_inside(const Assessment& assessment, Scene& scene);

/// A box standing on `base` (counter-clockwise seen from its top), `rise` long.
void add_prism(const std::vector<glm::dvec3>& base, glm::dvec3 rise, const Face& like,
               Scene& scene);

}  // namespace ridgeward::scene
