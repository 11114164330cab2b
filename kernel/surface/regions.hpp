#pragma once
// Where chimneys, skylights, pipes and solar arrays stand on the planes.

#include "base/fault.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

namespace ridgeward::surface {

/// Fills in Surface::regions. A plan outline is cut by every plane that it lies over; a rectangle
/// given on a plane must lie within it.
/// REQUIRES named planes. Faults (where = /obstacles/N and below): obstacle.plane_unknown,
/// obstacle.off_roof, obstacle.overlaps.
/// Laws: (1) the plan areas of a plan outline's regions sum to what of it lies over the roof;
/// (2) outlines lie within their clear outlines, and those within their planes.
Faults lay_out_regions(const model::RoofModel& model, Surface& surface);

}  // namespace ridgeward::surface
