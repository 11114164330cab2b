#pragma once
// Figures for people in the model's own manner: feet and inches, or metric.

#include "conflicts/check.hpp"

#include <string>

namespace ridgeward::conflicts {

std::string length_words(const Roof& roof, double length_m);
std::string free_area_words(const Roof& roof, double area_m2);
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

/// The product, or null when the catalogue has none of this name.
const model::Product* product_of(const Roof& roof, const std::string& name);

/// A finding about a slot, placed at its middle, and one about an exhaust.
Finding about_slot(const Roof& roof, SlotId id, const char* kind, Severity severity);
Finding about_exhaust(const Roof& roof, ExhaustId id, const char* kind, Severity severity);

/// Corners of a slot's band in plane coordinates.
std::vector<glm::dvec2> band_of(const vents::Slot& slot);

/// Whether anything is set out on the roof at all: a model without vents is measured, not judged.
bool has_vents(const Roof& roof);

}  // namespace ridgeward::conflicts
