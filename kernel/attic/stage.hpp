#pragma once
// Divides the space under the roof into compartments.

#include "attic/attic.hpp"
#include "base/fault.hpp"
#include "framing/framing.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <string>
#include <vector>

namespace ridgeward::attic {

/// The spaces over the model's ceilings (without any: flat ceilings over the walls of each part at
/// its plate, one attic for parts that are open to each other; docs/attic.md), what joins them, the
/// compartments that they make up, and what lies under every bay.
///
/// A bay belongs to the space that air meets first from its foot, with the roof above the ceiling;
/// of several side by side, to the one over which most of it lies. Under a sloped ceiling it is a
/// space by itself. Dividers that reach across a ceiling split it; they are taken to reach up to
/// the deck.
/// Laws: (1) the floors of the spaces sum to the ceilings that the roof covers, open and unvented
/// ones left out; those of attics taken over walls sum to the union of the walls; (2) each space
/// but overhangs belongs to one compartment, and no open join but those over plates leads out of
/// it; (3) volumes of attics are exact prisms between ceiling and deck top.
/// Ceilings drawn past the walls are cut at them, which is said.
/// Faults: ceiling.above_roof, ceiling.outside, ceiling.overlaps, divider.not_yet (one that does
/// not cut a ceiling in exactly two). Cost: bays times the floors whose boxes touch theirs.
Result<Attic> divide(const model::RoofModel& model, const surface::Surface& surface,
                     const framing::Framing& framing);

/// Broken laws, in words; empty when sound.
std::vector<std::string> verify(const framing::Framing& framing, const Attic& attic);

/// Clear between insulation and deck, square to the deck, at a place of a plane over a space; under
/// nothing where the insulation comes up to the deck and no baffles hold it off.
double clear_over_insulation_m(const model::RoofModel& model, const surface::Plane& plane,
                               const Space& space, glm::dvec2 uv);

}  // namespace ridgeward::attic
