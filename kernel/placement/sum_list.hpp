#pragma once
// All sums that places can come to, listed place by place, and the cheapest pair of two lists.

#include "placement/two_sums.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace ridgeward::placement {

/// One sum of the places so far, and how it was come to.
struct Sum {
  double area = 0.0;
  double cost = 0.0;
  std::uint32_t from = 0;
  std::uint32_t use = 0;
};
using Layer = std::vector<Sum>;  ///< in order of areas

enum class Keep {
  each_area,   ///< of equal areas the cheapest
  cheap_areas  ///< those than which no larger one is as cheap: areas and costs rise together
};

class SumList {
 public:
  /// Sums that at `price` a unit of area lie more than `gap` above the least are left out.
  SumList(double price, double gap) : price_(price), gap_(gap) {}
  void add(const std::vector<Use>& uses, const std::vector<double>& costs, Keep keep);
  const Layer& last() const { return layers_.back(); }
  bool is_cut() const { return is_cut_; }  ///< something was left out as too dear
  /// The use of each place, in the order of adding, on the way to a sum of the last layer.
  std::vector<std::size_t> traced(std::size_t at) const;

 private:
  double price_ = 0.0;
  double gap_ = 0.0;
  double least_ = 0.0;
  bool is_cut_ = false;
  std::vector<Layer> layers_{{Sum{}}};
};

/// What the limits leave to intake beside an exhaust.
struct Window {
  double least = 0.0;
  double most = 0.0;
};
/// Nothing where no intake keeps them.
std::optional<Window> window_beside(const std::vector<Limit>& limits, double exhaust);

/// The cheapest choice of one sum of each list that keeps the limits.
struct Pair {
  double cost = HUGE_VAL;
  std::size_t exhaust = 0;
  std::size_t left = 0;   ///< of intake
  std::size_t right = 0;  ///< likewise, the second list
  /// Where only cheap areas are kept: no choice whose intake is larger than the limits allow, so
  /// that smaller ones were left out for it, costs less.
  double low = HUGE_VAL;
};
/// REQUIRES an intake of cheap areas.
Pair cheapest(const Layer& intake, const Layer& exhaust, const std::vector<Limit>& limits);
/// Intake is the sum of one of each of two lists; any lists.
Pair cheapest_of_halves(const Layer& left, const Layer& right, const Layer& exhaust,
                        const std::vector<Limit>& limits);

}  // namespace ridgeward::placement
