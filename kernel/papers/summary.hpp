#pragma once
// The assessment as text for a terminal of 100 columns.

#include "assess.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

/// Eaves by plane, slots with their bays, compartments with required and provided free area, the
/// balance, what is wrong, and the cautions.
std::string to_summary(const Assessment& assessment, units::Style style);

/// Cautions that every document of the program shows.
const std::vector<std::string>& cautions();

}  // namespace ridgeward::papers
