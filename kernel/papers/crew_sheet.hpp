#pragma once
// What a crew takes up on the roof: cautions, a plan with the runs numbered, and pages for each
// run.

#include "assess.hpp"
#include "papers/drawing.hpp"
#include "units/length.hpp"

namespace ridgeward::papers {

/// Cover with contents, plan, a drawing and the steps for each intake run and each vent along a
/// ridge or hip, single vents plane by plane, what to take up. Lengths as in the assessment's JSON,
/// in `style`. Law: no two texts overlap, none leaves the page.
Drawing crew_sheet(const Assessment& assessment, units::Style style, Paper paper);

}  // namespace ridgeward::papers
