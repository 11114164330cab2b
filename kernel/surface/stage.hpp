#pragma once
// Raises the roof over its plan.

#include "base/fault.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

namespace ridgeward::surface {

/// The roof surface of `model`: a weighted straight skeleton over the drip outline of each part.
/// Each eave bears a plane at its pitch through the deck height at the wall line (plate + heel);
/// gables stand. docs/surface.md tells how.
/// REQUIRES the laws of model::read.
/// Several parts are united: the highest plane shows, walls stand where heights differ.
/// Obstacles become regions of the planes that they stand on.
/// Faults: roof.open, overhang.collides, gablet.too_high, surface.failed, obstacle.plane_unknown,
/// obstacle.off_roof, obstacle.overlaps.
/// Laws: (1) the plan areas of the planes sum to the drip outline's area; (2) every line has a
/// face on both sides; (3) every plane holds its own eave; (4) nodes lie on all planes they touch.
Result<Surface> raise(const model::RoofModel& model);

/// Broken laws of a surface, in words; empty when it is sound.
std::vector<std::string> verify(const Surface& surface);

}  // namespace ridgeward::surface
