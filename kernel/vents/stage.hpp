#pragma once
// Sets intake and exhaust out on the roof.

#include "base/fault.hpp"
#include "framing/framing.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <glm/vec2.hpp>

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::vents {

/// Slots of every run with the bays they open onto, exhaust vents, live bays, totals.
/// Faults (where = pointer into the model): vent.product_unknown, vent.wrong_kind,
/// vent.plane_unknown, vent.line_unknown, vent.line_kind, vent.wall_kind (no gable), vent.place (a
/// vent without the place that its kind needs), vent.run_outside, vent.position (the product is not
/// made for it).
/// A run along a line is measured from the line's left end seen from outside the plane named first
/// (hips: from the foot). A vent that crosses from one compartment into another is told as one
/// exhaust for each, "top/1", "top/2".
/// Over rafter spaces an exhaust is one, with a share for each bay that it opens; a vent along a
/// line serves each side with half of its free area. Slots keep the product's hold-back from what
/// obstacles need clear; one that meets an obstacle is two slots. Soffit pieces are a slot each.
/// Laws: the open lengths of a slot sum to its length less the members it crosses.
Result<Vents> set_out(const model::RoofModel& model, const model::Catalogue& catalogue,
                      const surface::Surface& surface, const framing::Framing& framing,
                      const attic::Attic& attic);

/// The highest place, in whole inches of height, at which a louvre fits in the middle of a gable
/// wall
/// ("main/1"): along the wall from its left end, up from the plate. None where it fits nowhere.
std::optional<glm::dvec2> highest_louvre_place(const model::RoofModel& model,
                                               const surface::Surface& surface,
                                               const std::string& wall,
                                               const model::Product& product);

/// Broken laws, in words; empty when sound.
std::vector<std::string> verify(const framing::Framing& framing, const Vents& vents);

}  // namespace ridgeward::vents
