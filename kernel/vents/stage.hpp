#pragma once
// Sets intake and exhaust out on the roof.

#include "base/fault.hpp"
#include "framing/framing.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

namespace ridgeward::vents {

/// Slots of every run with the bays they open onto, exhaust vents, live bays, totals.
/// Faults (where = pointer into the model): vent.product_unknown, vent.wrong_kind,
/// vent.plane_unknown, vent.line_unknown, vent.line_kind, vent.run_outside, vent.position_not_yet,
/// vent.kind_not_yet (soffit strips, gable louvres).
/// A run along a line is measured from the line's left end seen from outside the plane named first
/// (hips: from the foot). A vent that crosses from one compartment into another is told as one
/// exhaust for each, "top/1", "top/2".
/// Over rafter spaces an exhaust is one, with a share for each bay that it opens; a vent along a
/// line serves each side with half of its free area. Slots keep the product's hold-back at hips
/// from what obstacles need clear too; one that meets an obstacle is two slots. Laws: the open
/// lengths of a slot sum to its length less the members it crosses.
Result<Vents> set_out(const model::RoofModel& model, const model::Catalogue& catalogue,
                      const surface::Surface& surface, const framing::Framing& framing,
                      const attic::Attic& attic);

/// Broken laws, in words; empty when sound.
std::vector<std::string> verify(const framing::Framing& framing, const Vents& vents);

}  // namespace ridgeward::vents
