#pragma once
// The least choice where places meet in two sums alone: intake over one space and exhaust over it.
//
// Such choices are multiple-choice knapsacks. Their linear relaxation is a poor bound (lengths are
// whole sections, so many sums lie close together), and a solver that branches on it needs some ten
// thousand nodes. Here the sums themselves are listed: of all ways to come to one sum only the
// cheapest can be part of the least choice (dynamic programming), and those are left out that even
// at the prices of the relaxation's dual cost too much (reduced costs). Both cuts are exact.

#include <cmath>
#include <cstddef>
#include <vector>

namespace ridgeward::placement {

/// One way to use a place.
struct Use {
  double cost = 0.0;
  double area = 0.0;
  std::vector<double> lengths_m;  ///< on each eave of its place
};

/// What can lie at one place: one of `uses`, of which leaving it empty may be one.
struct Place {
  std::vector<Use> uses;
  std::vector<double> eaves_m;  ///< lengths of the eaves that are to be used evenly
};

/// least <= intake * (area of the intake) + exhaust * (area of the exhaust) <= most.
struct Limit {
  double intake = 0.0;
  double exhaust = 0.0;
  double least = 0.0;
  double most = 0.0;
};

struct TwoSums {
  std::vector<Place> intake;
  std::vector<Place> exhaust;
  std::vector<Limit> limits;
  /// Each eave of intake should be used to one share of its length, give or take `section_m`; a
  /// metre beyond that costs `metre_uneven`. The share is free, from 0 to 1. 0: not asked.
  double metre_uneven = 0.0;
  double section_m = 0.0;
};

enum class Search {
  best,      ///< no choice costs less
  none,      ///< no choice keeps the limits and costs less than what was asked for
  given_up,  ///< too many sums: nothing is known
};

struct TwoSumsFound {
  Search search = Search::none;
  double cost = 0.0;                 ///< with what is uneven
  std::vector<std::size_t> intake;   ///< by place: which use
  std::vector<std::size_t> exhaust;  ///< likewise
  double share = 0.0;                ///< at which the eaves are most even
};

/// Limits are kept to a millionth, costs compared to 1e-9. REQUIRES areas of zero or more.
TwoSumsFound least_of(const TwoSums& sums, double less_than);

/// How far `length_m` departs from a share of an eave, beyond a section.
double beyond(const TwoSums& sums, double eave_m, double length_m, double share);

}  // namespace ridgeward::placement
