#pragma once
// What to order, line by line.

#include "takeoff/takeoff.hpp"

namespace ridgeward::takeoff {

/// Vents and their nails first, then what belongs to the vents' runs, then the edges, lines and
/// planes of the roof. REQUIRES `sections` and `shingles` of `takeoff`; fills in `order` and
/// `price`. docs/takeoff.md says how each line is counted.
void write_order(const model::RoofModel& model, const model::Catalogue& catalogue,
                 const surface::Surface& surface, const vents::Vents& vents, Takeoff& takeoff);

}  // namespace ridgeward::takeoff
