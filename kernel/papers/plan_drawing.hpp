#pragma once
// The roof in plan, true to scale, on a piece of a page.

#include "assess.hpp"
#include "papers/draft.hpp"
#include "units/length.hpp"

namespace ridgeward::papers {

/// How a plan lies on its page: page = origin + mm_per_m * (x, -y).
struct PlanScale {
  double mm_per_m = 10.0;
  glm::dvec2 origin{0.0};
  std::string words;  ///< "1/8 in = 1 ft (1 : 96)"
  Frame frame;        ///< that it was made to fit
  glm::dvec2 at(glm::dvec2 plan) const { return origin + mm_per_m * glm::dvec2{plan.x, -plan.y}; }
};

/// The largest usual scale at which the whole roof fits the frame: inches to the foot in feet and
/// inches, round ratios in metric.
PlanScale scale_to_fit(const Assessment& assessment, const Frame& frame, units::Style style);

/// Planes with their lines by kind, slots, exhaust, obstacles, names of planes, findings as numbers
/// in circles, north and a bar to measure by. Labels that would lie over others are left out.
void draw_plan(const Assessment& assessment, const PlanScale& scale, const Frame& frame,
               units::Style style, Page& page);

/// A number in a circle.
struct PlanMark {
  glm::dvec3 at{0.0};
  std::string text;
};
/// The same with these numbers in place of the findings'.
void draw_numbered_plan(const Assessment& assessment, const PlanScale& scale, units::Style style,
                        const std::vector<PlanMark>& marks, Page& page);

/// What the dashes and hatches of the plan mean; drawn in a row from `at`, `width_mm` wide. Returns
/// its height.
double draw_plan_key(const Assessment& assessment, glm::dvec2 at, double width_mm, Page& page);

}  // namespace ridgeward::papers
