#pragma once
// What of a plane goes on, out of sight from above, beneath another part's overhang.

#include "base/polygon.hpp"
#include "surface/surface.hpp"

#include <vector>

namespace ridgeward::surface {

/// Fills in Surface::sheltered_decks: of a part the plane that is its roof beside its neighbours.
/// What is nowhere on a headwall or sidewall (roofs that meet in a valley) is left out, and what is
/// told as a blind deck. None for one part.
/// REQUIRES a surface finished otherwise, blind decks and all.
void lay_out_sheltered_decks(Surface& surface);

/// What is sheltered of a plane, piece by piece, in its coordinates: v up the slope.
std::vector<polygon::Loops> sheltered_uv(const Surface& surface, PlaneId id);

}  // namespace ridgeward::surface
