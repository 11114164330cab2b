#pragma once
// What a placement must meet, as rows of a program over the candidates.

#include "placement/candidates.hpp"
#include "placement/two_sums.hpp"

#include "solver/program.hpp"

#include <optional>
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
  /// Product of the exhaust. Empty, over several compartments: any, one over each of them.
  std::string exhaust;
  /// With the conditions of the reduced area, or without. Several compartments choose each for
  /// itself.
  bool is_reduced = true;
  std::size_t condition = 0;  ///< where any one condition is enough: which
  bool has_advice = true;     ///< common practice is kept: intake 50 to 60 % and its like
  bool is_shared = false;     ///< money by length, as if no left-over were wasted: a bound
};

/// Weights in the sum that is made least; cost follows at weight 1.
namespace weight {
inline constexpr double a_warning = 1000.0;      ///< a conflict that is no error
inline constexpr double a_metre_uneven = 100.0;  ///< see Problem
}  // namespace weight

/// Rows that speak of the free area of intake and exhaust, in cm2, and of heights.
struct Sums {
  std::vector<Limit> limits;
  struct Side {
    PlaneId plane;
    double least = 0.0;
    double most = 0.0;
  };
  std::vector<Side> sides;        ///< on the intake of single planes
  std::optional<double> above_m;  ///< the lowest exhaust over the highest intake, at least
  double section_m = 0.0;         ///< the evenness is reckoned with; 0: a single eave
};

/// The program of one group for one way. Unknowns: how many of each candidate; then how much of the
/// eaves is used, as a share of each; then for each eave how far, beyond one section, its run
/// departs from that share; then what only the rows need.
///
/// Over several compartments those that one run at a time serves on each side (a bay by itself) are
/// told by pairs: a run may lie there only beside an exhaust with which the compartment meets all
/// that is asked. The others are told by sums.
struct Problem {
  Program program;
  std::vector<std::size_t> candidates;  ///< by unknown, from the first
  std::size_t eaves = 0;                ///< that are to be used evenly; 0: none or one
  std::vector<std::size_t> missing;     ///< nearest_to(): unknowns that say what is missing, cm2
  /// The same as sums, where the group is one compartment and every row is one of these, of the
  /// stretches or of the evenness.
  std::optional<Sums> sums;
  /// What stands in the way over compartments that no pair serves, in plain words.
  std::vector<std::string> unmet;
  std::string impossible;  ///< why no program is needed: a rule that no placement meets
};
Problem problem_of(const Ground& ground, const Candidates& all, const Group& group, const Way& way);

/// The least solution that weighs less than `less_than`; impossible where there is none. Sums are
/// searched (two_sums.hpp), all else goes to the solver.
Solution solved(const Candidates& all, const Problem& problem, double less_than);

/// The same without required areas, with what is missing of them made as small as can be, at
/// weight 1 a cm2.
Problem nearest_to(const Ground& ground, const Candidates& all, const Group& group, const Way& way);

}  // namespace ridgeward::placement
