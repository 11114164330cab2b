#pragma once
// The roof in plan, true to scale, on a piece of a page.

#include "assess.hpp"
#include "papers/draft.hpp"
#include "units/length.hpp"

namespace ridgeward::papers {

/// How a plan lies on its page: page = origin + mm_per_m * (x, -y), or turned right by a quarter,
/// origin + mm_per_m * (y, x).
struct PlanScale {
  double mm_per_m = 10.0;
  glm::dvec2 origin{0.0};
  std::string words;       ///< "1/8 in = 1 ft (1 : 96)"
  Frame frame;             ///< that it was made to fit
  bool is_turned = false;  ///< where that lets the roof be drawn larger
  /// Where the roof leaves room for what goes with it, on the page: the middle of the arrow to the
  /// north, the right end of the bar, the upper left corner of the names that have no room.
  glm::dvec2 arrow{0.0};
  glm::dvec2 bar{0.0};
  glm::dvec2 key{0.0};
  glm::dvec2 key_size{0.0};
  glm::dvec2 along(glm::dvec2 plan) const {
    return is_turned ? glm::dvec2{plan.y, plan.x} : glm::dvec2{plan.x, -plan.y};
  }
  glm::dvec2 at(glm::dvec2 plan) const { return origin + mm_per_m * along(plan); }
  glm::dvec2 from(glm::dvec2 page) const {
    const glm::dvec2 p = (page - origin) / mm_per_m;
    return is_turned ? glm::dvec2{p.y, p.x} : glm::dvec2{p.x, -p.y};
  }
};

/// The largest usual scale at which the whole roof fits the frame, turned if need be, with the key
/// of the names that have no room on it: inches to the foot in feet and inches, round ratios in
/// metric.
PlanScale scale_to_fit(const Assessment& assessment, const Frame& frame, units::Style style);
/// The same for drawings without such a key.
PlanScale roof_to_fit(const Assessment& assessment, const Frame& frame, units::Style style);

/// Planes with their lines by kind, slots, exhaust, obstacles, names of all these, findings as
/// numbers in circles, north and a bar to measure by. Laws: a plane's name, or a letter for it that
/// the key explains, stands on a piece of it that is seen from above, or at the end of a line from
/// there; no label covers a slot, a vent or an obstacle. Lengths that have no room are left out.
void draw_plan(const Assessment& assessment, const PlanScale& scale, const Frame& frame,
               units::Style style, Page& page);

/// A number in a circle.
struct PlanMark {
  glm::dvec3 at{0.0};
  std::string text;
};
/// The same with these numbers in place of the findings' and of the openings' names.
void draw_numbered_plan(const Assessment& assessment, const PlanScale& scale, units::Style style,
                        const std::vector<PlanMark>& marks, Page& page);

/// An arrow to the north and a bar of whole feet or metres.
void draw_north_and_bar(const Assessment& assessment, const PlanScale& scale, units::Style style,
                        Page& page);

/// What the dashes and hatches of the plan mean; drawn in a row from `at`, `width_mm` wide. Returns
/// its height.
double draw_plan_key(const Assessment& assessment, glm::dvec2 at, double width_mm, Page& page);

}  // namespace ridgeward::papers
