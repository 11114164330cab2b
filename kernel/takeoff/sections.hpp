#pragma once
// The strips of vent of a roof and the pieces that they are laid of.

#include "takeoff/takeoff.hpp"

namespace ridgeward::takeoff {

/// Fills in `sections` and `purchases`: every product that is bought by the length, over-deck
/// sections with factory ends at rakes and mitres at valleys and hips, others cut square.
void plan_sections(const model::Catalogue& catalogue, const surface::Surface& surface,
                   const vents::Vents& vents, Takeoff& takeoff);

}  // namespace ridgeward::takeoff
