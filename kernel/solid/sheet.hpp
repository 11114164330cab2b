#pragma once
// A flat sheet with thickness whose sides lean; seen only inside this folder.

#include "solid/net.hpp"
#include "surface/surface.hpp"

#include <glm/vec2.hpp>

#include <optional>
#include <vector>

namespace ridgeward::solid {

/// A corner of the sheet's top, in plane coordinates, and the side from it to the next corner.
struct SheetCorner {
  glm::dvec2 at{0.0};
  /// How far that side moves into the sheet for each unit of depth: 0 is cut square, positive
  /// undercut, negative reaching out below.
  double lean = 0.0;
};
using SheetLoop = std::vector<SheetCorner>;

/// The faces of the sheet below `loops` (the sheet on the left hand; outer loops before the holes
/// in them): top, bottom `thickness_m` further in, and one face for each side. Sides that die out
/// on the way down end in a point. None when the sides of the whole sheet meet above its bottom.
/// A bottom that runs into itself isn't seen here: the checker sees it.
std::optional<Facets> sheet(const surface::Frame& frame, const std::vector<SheetLoop>& loops,
                            double thickness_m);

}  // namespace ridgeward::solid
