#pragma once
// All sheets of a roof in one set.

#include "assess.hpp"
#include "papers/drawing.hpp"
#include "units/length.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

/// "crew", "inspector", "estimator", "lesson": the order in which they stand in the set.
const std::vector<std::string>& sheet_names();

/// The sheets named, in the order of the set; each counts its own pages. REQUIRES names of
/// sheet_names().
Drawing sheets(const Assessment& assessment, const std::vector<std::string>& names,
               units::Style style, Paper paper);

}  // namespace ridgeward::papers
