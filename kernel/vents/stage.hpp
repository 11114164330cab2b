#pragma once
// Sets intake and exhaust out on the roof.

#include "base/fault.hpp"
#include "framing/framing.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

namespace ridgeward::vents {

/// Slots of every run with the bays they open onto, exhaust vents, live bays, totals.
/// Faults (where = pointer into the model): vent.product_unknown, vent.wrong_kind,
/// vent.plane_unknown, vent.line_unknown, vent.line_kind, vent.run_outside, vent.position_not_yet.
/// Laws: the open lengths of a slot sum to its length less the members it crosses.
Result<Vents> set_out(const model::RoofModel& model, const model::Catalogue& catalogue,
                      const surface::Surface& surface, const framing::Framing& framing,
                      const attic::Attic& attic);

}  // namespace ridgeward::vents
