#pragma once
// The relaxation of a choice that meets in two sums: what sums are allowed at all, and what prices
// of area bound the cost best (its Lagrangian dual).

#include "placement/two_sums.hpp"

#include <vector>

namespace ridgeward::placement {

/// Limits are kept to this.
inline constexpr double limit_slack = 1e-6;
/// Areas nearer to each other than this are one.
inline constexpr double one_area = 1e-7;

/// Costs of uses by place.
using Costs = std::vector<std::vector<double>>;

/// What a unit of area is worth.
struct Prices {
  double intake = 0.0;
  double exhaust = 0.0;
};

/// The cheapest use of a place, area paid back at a price.
double least_at(const std::vector<Use>& uses, const std::vector<double>& costs, double price);

class Relaxation {
 public:
  explicit Relaxation(const TwoSums& sums);
  /// Whether any sums are allowed, whole uses or not.
  bool is_possible() const { return !allowed_.empty(); }
  /// No choice that keeps the limits costs less, whatever the prices.
  double bound(const Costs& intake, Prices prices) const;
  /// The prices at which the bound is best.
  Prices dual(const Costs& intake) const;
  const Costs& exhaust_costs() const { return exhaust_costs_; }

 private:
  struct Corner {
    double intake = 0.0;
    double exhaust = 0.0;
  };
  void cut(const Limit& limit, double bound, double sign);

  const TwoSums& sums_;
  std::vector<Corner> allowed_;  ///< corners of a convex polygon
  Costs exhaust_costs_;
};

/// The costs of a place's uses.
std::vector<double> costs_of(const Place& place);

}  // namespace ridgeward::placement
