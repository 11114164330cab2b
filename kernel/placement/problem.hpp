#pragma once
// What a placement must meet, as rows of a program over the candidates.

#include "placement/candidates.hpp"

#include "solver/program.hpp"

#include <string>
#include <vector>

namespace ridgeward::placement {

using solver::Outcome;
using solver::Program;
using solver::Row;
using solver::Solution;
using solver::solve;
using solver::Term;
using solver::Unknown;

/// Compartments that some candidate serves together, and all candidates over them.
struct Group {
  std::vector<CompartmentId> compartments;
  std::vector<std::size_t> candidates;  ///< indices into Candidates::all
};
std::vector<Group> groups_of(const Ground& ground, const Candidates& all);

/// Which of the code's ways is asked for.
struct Way {
  std::string exhaust;        ///< product of the exhaust: one over a group
  bool is_reduced = true;     ///< with the conditions of the reduced area, or without
  std::size_t condition = 0;  ///< where any one condition is enough: which
  bool has_advice = true;     ///< common practice is kept: intake 50 to 60 % and its like
};

/// Weights in the sum that is made least; cost follows at weight 1.
namespace weight {
inline constexpr double a_warning = 1000.0;      ///< a conflict that is no error
inline constexpr double a_metre_uneven = 100.0;  ///< see Problem
}  // namespace weight

/// The program of one group for one way. Unknowns: how many of each candidate; then how much of the
/// eaves is used, as a share of each; then for each eave how far, beyond one section, its run
/// departs from that share.
struct Problem {
  Program program;
  std::vector<std::size_t> candidates;  ///< by unknown, from the first
  std::string impossible;  ///< why no program is needed: a rule that no placement meets
};
Problem problem_of(const Ground& ground, const Candidates& all, const Group& group, const Way& way);

/// The same without required areas, with what is missing of them made as small as can be, at
/// weight 1 a cm2.
Problem nearest_to(const Ground& ground, const Candidates& all, const Group& group, const Way& way);

}  // namespace ridgeward::placement
