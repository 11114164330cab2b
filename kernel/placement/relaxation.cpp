#include "placement/relaxation.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ridgeward::placement {

namespace {

double sum_at(const std::vector<Place>& places, const Costs& costs, double price) {
  double sum = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    sum += least_at(places[i].uses, costs[i], price);
  }
  return sum;
}

/// The most of a concave function between two values (golden section).
template <typename Function>
double top_of(double from, double to, const Function& value) {
  constexpr double golden = 0.6180339887498949;
  double left = to - golden * (to - from);
  double right = from + golden * (to - from);
  double at_left = value(left);
  double at_right = value(right);
  for (int i = 0; i < 45; ++i) {
    if (at_left < at_right) {
      from = left;
      left = std::exchange(right, from + golden * (to - from));
      at_left = std::exchange(at_right, value(right));
    } else {
      to = right;
      right = std::exchange(left, to - golden * (to - from));
      at_right = std::exchange(at_left, value(left));
    }
  }
  return 0.5 * (from + to);
}

double most_area(const std::vector<Place>& places) {
  double sum = 0.0;
  for (const Place& place : places) {
    double most = 0.0;
    for (const Use& use : place.uses) {
      most = std::max(most, use.area);
    }
    sum += most;
  }
  return sum;
}

}  // namespace

double least_at(const std::vector<Use>& uses, const std::vector<double>& costs, double price) {
  double least = HUGE_VAL;
  for (std::size_t i = 0; i < uses.size(); ++i) {
    least = std::min(least, costs[i] - price * uses[i].area);
  }
  return least;
}

std::vector<double> costs_of(const Place& place) {
  std::vector<double> costs;
  costs.reserve(place.uses.size());
  for (const Use& use : place.uses) {
    costs.push_back(use.cost);
  }
  return costs;
}

/// A box that is cut limit by limit.
Relaxation::Relaxation(const TwoSums& sums) : sums_(sums) {
  for (const Place& place : sums.exhaust) {
    exhaust_costs_.push_back(costs_of(place));
  }
  const double intake = most_area(sums.intake) + one_area;
  const double exhaust = most_area(sums.exhaust) + one_area;
  allowed_ = {{0.0, 0.0}, {intake, 0.0}, {intake, exhaust}, {0.0, exhaust}};
  for (const Limit& limit : sums.limits) {
    if (limit.least > -HUGE_VAL) {
      cut(limit, limit.least, 1.0);
    }
    if (limit.most < HUGE_VAL) {
      cut(limit, limit.most, -1.0);
    }
  }
}

void Relaxation::cut(const Limit& limit, double bound, double sign) {
  std::vector<Corner> kept;
  const auto height = [&](const Corner& p) {
    return sign * (limit.intake * p.intake + limit.exhaust * p.exhaust - bound) + limit_slack;
  };
  for (std::size_t i = 0; i < allowed_.size(); ++i) {
    const Corner& a = allowed_[i];
    const Corner& b = allowed_[(i + 1) % allowed_.size()];
    const double at_a = height(a);
    const double at_b = height(b);
    if (at_a >= 0.0) {
      kept.push_back(a);
    }
    if ((at_a < 0.0) != (at_b < 0.0)) {
      const double t = at_a / (at_a - at_b);
      kept.push_back(
          {a.intake + t * (b.intake - a.intake), a.exhaust + t * (b.exhaust - a.exhaust)});
    }
  }
  allowed_ = std::move(kept);
}

double Relaxation::bound(const Costs& intake, Prices prices) const {
  double least = HUGE_VAL;
  for (const Corner& p : allowed_) {
    least = std::min(least, prices.intake * p.intake + prices.exhaust * p.exhaust);
  }
  return sum_at(sums_.intake, intake, prices.intake) +
         sum_at(sums_.exhaust, exhaust_costs_, prices.exhaust) + least;
}

Prices Relaxation::dual(const Costs& intake) const {
  double dearest = 0.0;
  for (const auto* places : {&sums_.intake, &sums_.exhaust}) {
    for (const Place& place : *places) {
      for (const Use& use : place.uses) {
        dearest = use.area > 0.0 ? std::max(dearest, use.cost / use.area) : dearest;
      }
    }
  }
  const double most = 4.0 * dearest;
  const auto best_exhaust = [&](double price) {
    return top_of(-most, most, [&](double other) { return bound(intake, {price, other}); });
  };
  const double price = top_of(-most, most, [&](double at) {
    return bound(intake, {at, best_exhaust(at)});
  });
  return {price, best_exhaust(price)};
}

}  // namespace ridgeward::placement
