#pragma once
// The compartments of the summary.

#include "assess.hpp"
#include "units/length.hpp"

#include <string>

namespace ridgeward::papers {

/// Required and provided free area of every compartment with the verdict of each test. Rafter
/// spaces under one ceiling whose tests end alike are told together, with the least and the
/// greatest figure.
std::string compartments_text(const Assessment& assessment, units::Style style,
                              std::size_t columns);

}  // namespace ridgeward::papers
