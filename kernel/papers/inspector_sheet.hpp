#pragma once
// What an inspector asks: each space, what it needs and has, every test of the code with its
// section, what was found, what was assumed, and a plan with the openings.

#include "assess.hpp"
#include "papers/drawing.hpp"
#include "units/length.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

/// Lengths as in the assessment, in `style`. Law: no two texts overlap, none leaves the page.
Drawing inspector_sheet(const Assessment& assessment, units::Style style, Paper paper);

/// Whether the roof is in order, in one sentence.
std::string verdict_words(const Assessment& assessment);

/// Where a slot is, along the eave as the crew hooks its tape: "4' 0\" to 18' 0\" from the left,
/// rake edge", as seen from outside.
std::string place_words(const Assessment& assessment, const vents::Slot& slot, units::Style style);

/// One row an opening: id, product, what it is on, place or length, live bays, free area. Exhaust
/// set piece by piece on one plane stands together.
std::vector<std::vector<std::string>> opening_rows(const Assessment& assessment,
                                                   units::Style style);

}  // namespace ridgeward::papers
