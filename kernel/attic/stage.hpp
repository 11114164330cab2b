#pragma once
// Divides the space under the roof into compartments.

#include "attic/attic.hpp"
#include "base/fault.hpp"
#include "framing/framing.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

namespace ridgeward::attic {

/// The compartments over the model's ceilings (without any: one flat ceiling over the walls at
/// plate height) and the compartment of every bay.
/// Faults: ceiling.kind_not_yet (only flat ceilings are divided so far), ceiling.above_roof.
Result<Attic> divide(const model::RoofModel& model, const surface::Surface& surface,
                     const framing::Framing& framing);

}  // namespace ridgeward::attic
