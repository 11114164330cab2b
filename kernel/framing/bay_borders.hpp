#pragma once
// What lies along the borders of finished bays: bays of other planes, bays past an opening, plates.

#include "framing/framing.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

namespace ridgeward::framing {

/// Fills `across` of every bay: along ridges, hips, valleys and pitch breaks, by line and then
/// along it. Laws: (1) a bay across has this one across, with the same length; (2) on a line
/// between two planes without rafters' faces the lengths sum to its own.
void find_across(const surface::Surface& surface, Framing& framing);

/// Fills `beyond_opening`: bays cut at headers of the same opening that overlap along the eave.
void find_beyond_openings(Framing& framing);

/// Fills `wall`, and `at_plate` from the blocking of the part whose wall that is.
void find_plates(const model::RoofModel& model, const surface::Surface& surface, Framing& framing);

}  // namespace ridgeward::framing
