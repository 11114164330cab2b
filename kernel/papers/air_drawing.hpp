#pragma once
// The ways of the air in plan, on a piece of a page.

#include "papers/plan_drawing.hpp"

namespace ridgeward::papers {

/// Where on a page the plan lies.
struct AirPlan {
  PlanScale scale;
  glm::dvec2 left_to_right_mm;  ///< no label reaches beyond
};

/// The roof in thin lines; an arrow for the air of each bay that an opening or a sloped ceiling
/// gives a way (of bays that lie close, some stand for their neighbours); at exhausts a ring, with
/// a dot where air goes out and a cross where it comes in; thick what goes the wrong way; each vent
/// with its flow. Labels that would lie over others are left out.
void draw_air_plan(const Assessment& assessment, const airflow::CaseAir& one, const AirPlan& plan,
                   units::Style style, Page& page);

/// What the arrows and rings mean.
const char* air_plan_key();

}  // namespace ridgeward::papers
