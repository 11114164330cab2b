#pragma once
// What slots over one bay let through together.

#include "attic/attic.hpp"
#include "framing/framing.hpp"
#include "vents/vents.hpp"

namespace ridgeward::vents {

/// Free area of the live slots over the overhang, by the bay that they open on.
IndexedVector<BayId, double> over_overhang_m2(const framing::Framing& framing, const Vents& vents);

/// By how much that is more than the bay lets through over the plate, throat x clear width: slots
/// are bounded one by one, and what they say doesn't add up. 0 for most bays.
IndexedVector<BayId, double> held_back_m2(const framing::Framing& framing,
                                          const attic::Attic& attic, const Vents& vents);

}  // namespace ridgeward::vents
