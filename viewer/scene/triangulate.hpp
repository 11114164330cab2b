#pragma once
// Cuts flat polygons into triangles.

#include "scene/scene.hpp"

#include <glm/vec2.hpp>

#include <array>
#include <vector>

namespace ridgeward::scene {

using Polygon = std::vector<glm::dvec2>;

/// Triangles of a polygon with holes, as indices into the points of all loops one after another.
/// The first loop is the outer one, counter-clockwise; holes run clockwise. Loops may be concave,
/// may hold repeated or collinear points and may touch themselves at a point; they must not cross.
/// Laws: the areas of the triangles sum to the polygon's; every triangle is counter-clockwise.
/// Cost: quadratic in the number of points (cubic for the bridges to holes).
std::vector<std::array<std::size_t, 3>> triangulate(const std::vector<Polygon>& loops);

/// Signed area, positive when counter-clockwise.
double signed_area(const Polygon& polygon);

/// A side of a straight line in plane coordinates: points with dot(inward, p) >= offset.
struct HalfPlane {
  glm::dvec2 inward{0.0};
  double offset = 0.0;
};

/// The parts of the triangles that lie within all half planes. Laws: areas only shrink; clipping
/// with a half plane and with its opposite gives areas that sum to the whole.
std::vector<std::array<glm::dvec2, 3>> clip(const std::vector<std::array<glm::dvec2, 3>>& triangles,
                                            const std::vector<HalfPlane>& within);

}  // namespace ridgeward::scene
