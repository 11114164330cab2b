#pragma once
// What the rules of a code measure, taken from the model's geometry.

#include "attic/attic.hpp"
#include "codes/code_set.hpp"
#include "framing/framing.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <optional>

namespace ridgeward::codes {

/// One compartment with all that serves it.
struct Ventilated {
  const surface::Surface& surface;
  const framing::Framing& framing;
  const attic::Attic& attic;
  const vents::Vents& vents;
  CompartmentId compartment;
};

/// The measure in its own unit (m or a share); none when there is nothing to measure, for example
/// no exhaust. `required_m2` is what shares of the required area refer to.
std::optional<double> measured(const Ventilated& space, Measure measure, double required_m2);

/// Bounds as people read them, with the unit of the measure: "at most 3' 0\" (0.914 m)".
std::string needed_words(Measure measure, const Bounds& bounds);

/// A measured value with its unit, for people.
std::string figure(Measure measure, double value);

}  // namespace ridgeward::codes
