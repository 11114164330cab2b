#pragma once
// The model's ceilings and dividers as compartments, before the roof is looked at.

#include "attic/attic.hpp"
#include "attic/decks.hpp"
#include "base/fault.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::attic {

/// What one ceiling, or a part of it beside a divider, lies under.
struct Floor {
  model::CeilingKind kind = model::CeilingKind::flat;
  /// Flat ceilings: the attic over it. Others: what their spaces take from it, and its outline.
  Space space;
  /// Over the blind decks under this part, not over a ceiling.
  std::optional<std::size_t> over_deck_of;
  std::string where;  ///< JSON pointer of its ceiling, or of the part it was assumed over
};

/// One floor for each ceiling of the model; without ceilings one over the walls of the parts whose
/// attics are open to each other, each part at its own plate, told in `assumptions`.
/// Faults: ceiling.overlaps.
Result<std::vector<Floor>> floors_of(const model::RoofModel& model, const surface::Surface& surface,
                                     std::vector<std::string>& assumptions);

/// The spaces over blind decks, one for each overlaid part that stands on such.
std::vector<Floor> floors_over_decks(const model::RoofModel& model, const std::vector<Deck>& decks);

/// Splits the floors along the model's dividers. One that runs along borders splits nothing, but
/// stands there. Faults: divider.not_yet.
Result<std::vector<Floor>> divided(const model::RoofModel& model, std::vector<Floor> floors,
                                   std::vector<std::string>& assumptions);

}  // namespace ridgeward::attic
