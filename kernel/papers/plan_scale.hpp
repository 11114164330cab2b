#pragma once
// How a plan and what goes with it lie in their frame. Private to the plan's drawing.

#include "papers/plan_drawing.hpp"
#include "papers/plan_names.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

constexpr double key_row_mm = 3.4;

/// The bar: how many feet or metres, and how long on the page.
struct Bar {
  double count = 0.0;
  double length_mm = 0.0;
};
Bar bar_of(const PlanScale& scale, units::Style style);
std::string bar_words(const PlanScale& scale, units::Style style);

/// Width of a column of the key.
double key_wide_mm(const std::vector<KeyedName>& keyed);
/// What the key may measure, with two names to spare: other marks may take a name's room.
std::vector<glm::dvec2> key_sizes(const std::vector<KeyedName>& keyed);

/// At the largest usual scale at which roof, arrow, bar and a key of one of these sizes fit, turned
/// where only that fits. Where none does, the smallest scale, and the roof comes first.
PlanScale fitting(const Assessment& assessment, const std::vector<glm::dvec2>& sizes,
                  const Frame& frame, units::Style style);

}  // namespace ridgeward::papers
