#pragma once
// Says what was chosen, what was given up for it, and what stands in the way.

#include "placement/problem.hpp"
#include "placement/stage.hpp"

namespace ridgeward::placement {

/// The way taken, its program and the solution.
struct Chosen {
  Way way;
  Problem problem;
  Solution solution;
};

/// How figures are told: as the model gives its lengths.
units::Style style_of(const model::RoofModel& model);
/// Compartments told as a crew would: bays by themselves together, ceiling by ceiling.
std::string named(const Ground& ground, const std::vector<CompartmentId>& compartments);
/// REQUIRES the placed exhaust and the alternatives.
void explain_choice(const Ground& ground, const Candidates& all, const Group& group,
                    const Chosen& chosen, Placed& placed);
/// What stands in the way of every exhaust, and how near the nearest placement comes.
void explain_impossible(const Ground& ground, const Candidates& all, const Group& group,
                        Placed& placed);
void explain_whole(const model::RoofModel& model, const Candidates& all, Placement& placement);

}  // namespace ridgeward::placement
