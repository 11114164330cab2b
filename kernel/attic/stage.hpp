#pragma once
// Divides the space under the roof into compartments.

#include "attic/attic.hpp"
#include "base/fault.hpp"
#include "framing/framing.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

namespace ridgeward::attic {

/// The compartments over the model's ceilings (without any: flat ceilings over the walls of each
/// part at its plate, one compartment for parts whose attics are open to each other; docs/attic.md)
/// and the compartment of every bay. A bay belongs to the compartment over which most
/// of it lies with the roof above the ceiling. Dividers that reach across a compartment split it;
/// they are taken to reach up to the deck.
/// Laws: the floor areas of the parts of a divided ceiling sum to its own; those of all
/// compartments taken over walls sum to the union of the walls; volumes are exact prisms between
/// ceiling and deck top. Faults: ceiling.kind_not_yet (only flat ceilings are divided so far),
/// ceiling.above_roof, ceiling.overlaps, divider.not_yet (one that does not cut a compartment in
/// exactly two).
Result<Attic> divide(const model::RoofModel& model, const surface::Surface& surface,
                     const framing::Framing& framing);

}  // namespace ridgeward::attic
