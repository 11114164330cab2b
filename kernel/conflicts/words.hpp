#pragma once
// Figures for people in the model's own manner: feet and inches, or metric.

#include "conflicts/check.hpp"

#include <cmath>
#include <functional>
#include <string>
#include <vector>

namespace ridgeward::conflicts {

/// " (R905.1.2)": where the code in force speaks of it, or " (common practice)".
std::string section_words(const Roof& roof, std::string codes::CodeSet::Sections::*subject);
std::string pitch_words(const Roof& roof, units::Pitch pitch);
std::string length_words(const Roof& roof, double length_m);
/// Rounded up to what is shown, an eighth of an inch or a millimetre: how far to go at least.
std::string length_up_words(const Roof& roof, double length_m);
std::string free_area_words(const Roof& roof, double area_m2);
/// Rounded up: what has to be added.
std::string free_area_up_words(const Roof& roof, double area_m2);
/// " to each rafter space" where alike findings about such spaces are told as one; else nothing.
std::string to_each(const Roof& roof, CompartmentId compartment);
/// A free area per length: "12 in2 a foot", "250 cm2 a metre".
std::string free_area_per_length_words(const Roof& roof, double area_m);
std::string share_words(double share);

/// The test of a compartment that fails by this measure, or null; one that can't be measured does
/// not count.
const codes::Test* failing(const Roof& roof, CompartmentId compartment, codes::Measure measure);
/// A failed condition only withdraws the reduced area: a note while the area still is enough.
Severity weight_of(const Roof& roof, const codes::Test& test);

/// Middle of a slot's lower line; highest point of a compartment's exhausts, or the middle of its
/// outline at ceiling height.
glm::dvec3 middle_of(const vents::Slot& slot);
glm::dvec3 place_of(const Roof& roof, CompartmentId compartment);

/// Bays of a slot, and where on its lower line the middle of them lies.
struct Beneath {
  std::vector<BayId> bays;
  double open_m = 0.0;  ///< clear of rafters
  bool is_all = true;   ///< of what the slot has over bays that lead to an exhaust
  glm::dvec3 at{0.0};
};
/// Those of a slot's bays that lead to an exhaust and of which `holds` is true.
Beneath beneath(const Roof& roof, const vents::Slot& slot,
                const std::function<bool(const vents::SlotBay&)>& holds);
/// ", over main/0/b3-b9, 12' 0\" of its 38' 0\" clear"; nothing where it is all of them.
std::string over_words(const Roof& roof, const vents::Slot& slot, const Beneath& some);

/// The product, or null when the catalogue has none of this name.
const model::Product* product_of(const Roof& roof, const std::string& name);

/// A finding about a slot, placed at its middle, and one about an exhaust.
Finding about_slot(const Roof& roof, SlotId id, const char* kind, Severity severity);
Finding about_exhaust(const Roof& roof, ExhaustId id, const char* kind, Severity severity);

/// Corners of a slot's band in plane coordinates.
std::vector<glm::dvec2> band_of(const vents::Slot& slot);

/// Whether the run of an upslope slot could take the eave position: its product is made for it, the
/// plane has an eave, the strip ends within `room_m` up the slope, and the slot would open over an
/// overhang with an open way over the plate or inside the wall. False for other slots.
bool serves_at_eave(const Roof& roof, const vents::Slot& slot, double room_m = HUGE_VAL);

/// Whether anything is set out on the roof at all: a model without vents is measured, not judged.
bool has_vents(const Roof& roof);

}  // namespace ridgeward::conflicts
