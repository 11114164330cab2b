#pragma once
// What the rules of a code measure, taken from the model's geometry.

#include "attic/attic.hpp"
#include "codes/code_set.hpp"
#include "framing/framing.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <optional>
#include <vector>

namespace ridgeward::codes {

/// One compartment of a roof.
struct Space {
  const surface::Surface& surface;
  const framing::Framing& framing;
  const attic::Attic& attic;
  CompartmentId compartment;
};

/// A compartment with all that serves it.
struct Ventilated {
  Space space;
  const vents::Vents& vents;
};

/// What a plane has of a compartment: the bays over it that start at an eave, from rafter centre to
/// rafter centre.
struct Side {
  PlaneId plane;
  double eave_m = 0.0;
  double area_m2 = 0.0;  ///< up the slope
};
std::vector<Side> sides_of(const Space& space);
/// Length of the ridges over the compartment; without any, of the tops of its single slope.
double top_line_m(const Space& space);
/// Roof area over the compartment, from the bays.
double roof_area_m2(const Space& space);

/// A measure that needs no vents (lowest_slope, span_m, rafter_length_m, slope_directions); none
/// for others, and where there is nothing to measure.
std::optional<double> measured_of_space(const Space& space, Measure measure);
/// Whether all that a rule is bound to holds for the compartment. What can't be measured does not.
bool applies(const Space& space, const Rule& rule);
/// Whether a value lies within bounds, to 1e-9.
bool within(const Bounds& bounds, double value);

/// The measure in its own unit (m or a share); none when there is nothing to measure, for example
/// no exhaust. `required_m2` is what shares of the required area refer to.
std::optional<double> measured(const Ventilated& space, Measure measure, double required_m2);

/// Bounds as people read them, with the unit of the measure: "at most 3' 0\" (0.914 m)".
std::string needed_words(Measure measure, const Bounds& bounds);

/// A measured value with its unit, for people.
std::string figure(Measure measure, double value);

}  // namespace ridgeward::codes
