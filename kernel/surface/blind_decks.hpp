#pragma once
// The deck that lies hidden beneath overlaid parts and crickets.

#include "base/fault.hpp"
#include "model/roof_model.hpp"
#include "surface/drip.hpp"
#include "surface/mesh.hpp"
#include "surface/surface.hpp"

namespace ridgeward::surface {

/// Fills in Surface::blind_decks for the overlaid parts of `model`; `meshes` and `drips` are those
/// of its parts. What stands before a part is built, deck and all, then the part is laid over it;
/// only the rafter tails inside the walls of the later part are cut off.
/// REQUIRES a finished surface. Faults: deck_opening.off_deck (where = /parts/N/deck_openings/M).
/// Laws: (1) blind decks lie under their part's plan; (2) in plan, what of the earlier roof is to
/// be seen and its blind decks do not overlap; openings lie within their deck.
Faults lay_out_blind_decks(const model::RoofModel& model, const std::vector<Drip>& drips,
                           const std::vector<Mesh>& meshes, Surface& surface);

}  // namespace ridgeward::surface
