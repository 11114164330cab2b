#pragma once
// What an inspector asks: each space, what it needs and has, every test of the code with its
// section, what was found, what was assumed, and a plan with the openings.

#include "assess.hpp"
#include "papers/drawing.hpp"
#include "units/length.hpp"

namespace ridgeward::papers {

/// Lengths as in the assessment, in `style`. Law: no two texts overlap, none leaves the page.
Drawing inspector_sheet(const Assessment& assessment, units::Style style, Paper paper);

}  // namespace ridgeward::papers
