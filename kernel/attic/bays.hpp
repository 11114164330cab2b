#pragma once
// What lies under every bay: attics, spaces of its own, or nothing.

#include "attic/ceilings.hpp"
#include "attic/space.hpp"
#include "framing/framing.hpp"

#include <optional>
#include <vector>

namespace ridgeward::attic {

/// The floors of the model with all that is asked of them bay by bay.
struct Plan {
  const model::RoofModel& model;
  const surface::Surface& surface;
  const framing::Framing& framing;
  const std::vector<Floor>& floors;
  std::vector<Pieces> pieces;                     ///< of each floor
  std::vector<std::optional<Ceilings>> ceilings;  ///< of flat floors, else none
  std::vector<SpaceId> attics;                    ///< of flat floors, else none
  std::vector<Pieces> walls;                      ///< of all parts
  std::vector<Deck> decks;
  std::vector<RoofPiece> roof;  ///< over ceilings
};

/// Fills in `attic.bays` and adds the rafter spaces with their floor areas; answers which floor
/// each space lies over. REQUIRES only the attics of `plan` in `attic`.
IndexedVector<SpaceId, std::size_t> place_bays(const Plan& plan, Attic& attic);

}  // namespace ridgeward::attic
