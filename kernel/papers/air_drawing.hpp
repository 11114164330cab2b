#pragma once
// The ways of the air in plan, on a piece of a page.

#include "papers/plan_drawing.hpp"

namespace ridgeward::papers {

/// Where on a page the plan lies.
/// The roof in thin lines; an arrow for the air of each bay that an opening or a sloped ceiling
/// gives a way (of bays that lie close, some stand for their neighbours); at exhausts a ring, with
/// a dot where air goes out and a cross where it comes in; thick what goes the wrong way; each vent
/// with its flow, vents set piece by piece on one plane with what they pass together; north and a
/// bar to measure by. Law: each vent's figures stand there, over nothing else.
void draw_air_plan(const Assessment& assessment, const airflow::CaseAir& one,
                   const PlanScale& scale, units::Style style, Page& page);

/// What the arrows and rings mean.
const char* air_plan_key();

}  // namespace ridgeward::papers
