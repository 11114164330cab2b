#pragma once
// A mixed-integer linear program, solved to proven optimality. The only door to the solver.

#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

namespace ridgeward::solver {

/// One unknown, between `least` and `most`, with its weight in the sum that is made as small as can
/// be.
struct Unknown {
  double cost = 0.0;
  double least = 0.0;
  double most = 1.0;
  bool is_whole = true;
};

struct Term {
  std::size_t unknown = 0;
  double factor = 0.0;
};

/// least <= sum of the terms <= most.
struct Row {
  std::vector<Term> terms;
  double least = -HUGE_VAL;
  double most = HUGE_VAL;
};

struct Program {
  std::vector<Unknown> unknowns;
  std::vector<Row> rows;
  /// The search may end with a solution proven within this share of the least sum; such a solution
  /// counts as best.
  double good_enough = 0.0;

  std::size_t add(Unknown unknown) {
    unknowns.push_back(unknown);
    return unknowns.size() - 1;
  }
};

enum class Outcome {
  best,        ///< no better solution exists
  unproven,    ///< a solution, but the search ended before it was proven the best
  impossible,  ///< no solution exists
  unknown      ///< the search ended before anything was known
};

struct Solution {
  Outcome outcome = Outcome::unknown;
  double cost = 0.0;
  double at_least = -HUGE_VAL;  ///< no solution costs less: `cost` where it is the best
  std::vector<double> values;   ///< whole where asked for; empty without a solution
};

/// Pure: no file is read, nothing is printed, equal programs give equal solutions. REQUIRES finite
/// costs and terms that name unknowns. `seconds` and `nodes` bound the search.
Solution solve(const Program& program, double seconds, int nodes = 120);

}  // namespace ridgeward::solver
