#pragma once
// Figures of tests in one unit, for who chose one; Test::measured_text and Test::needed carry both,
// since a code speaks to all.

#include "codes/stage.hpp"
#include "units/length.hpp"

#include <optional>
#include <string>

namespace ridgeward::codes {

/// A measured value with its unit; without a style in both units.
std::string figure(Measure measure, double value, std::optional<units::Style> style);
/// Bounds likewise: "at most 3' 0\"".
std::string needed_words(Measure measure, const Bounds& bounds, std::optional<units::Style> style);

struct TestFigures {
  std::string measured;  ///< "nothing" when there is none
  std::string needed;
};
/// `requirement` is that of the test's compartment.
TestFigures figures_of(const Test& test, const Requirement& requirement, units::Style style);

}  // namespace ridgeward::codes
