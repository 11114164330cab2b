#pragma once
// Members at the edges of planes that take no strip of them: barge rafters and lookouts under the
// overhang of a rake, blocking between rafters over the plate.

#include "framing/framing.hpp"
#include "framing/layout.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <vector>

namespace ridgeward::framing {

/// What the members of a whole roof are made from.
struct Building {
  const model::RoofModel& model;
  const surface::Surface& surface;
  const std::vector<PartStock>& stock;
};

/// Under the overhang of a rake over a gable-end wall: a barge rafter under the outer edge and
/// lookouts that carry it. Over more than 12 in they are outriggers, flat over the gable-end rafter
/// and on to the next one; over less a ladder of short pieces against the gable-end rafter. 2x4, 24
/// in apart up the slope. (Common practice, no source.) None where rafters were measured there.
/// REQUIRES the rafters of all planes in `framing`.
void add_rakes(const Building& building, Framing& framing);

/// Blocking where the model asks for it: between the faces of each bay, its outer face over that of
/// the wall. REQUIRES find_plates().
void add_blocking(const Building& building, Framing& framing);

}  // namespace ridgeward::framing
