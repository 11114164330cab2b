#pragma once
// Figures for people in the model's own manner: feet and inches, or metric.

#include "conflicts/check.hpp"

#include <string>

namespace ridgeward::conflicts {

std::string length_words(const Roof& roof, double length_m);
std::string free_area_words(const Roof& roof, double area_m2);
std::string share_words(double share);

/// Middle of a slot's lower line; highest point of a compartment's exhausts, or the middle of its
/// outline at ceiling height.
glm::dvec3 middle_of(const vents::Slot& slot);
glm::dvec3 place_of(const Roof& roof, CompartmentId compartment);

/// Whether anything is set out on the roof at all: a model without vents is measured, not judged.
bool has_vents(const Roof& roof);

}  // namespace ridgeward::conflicts
