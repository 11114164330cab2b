#include "placement/two_sums.hpp"

#include "placement/relaxation.hpp"
#include "placement/sum_list.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <queue>
#include <utility>

namespace ridgeward::placement {

namespace {

constexpr double cost_slack = 1e-9;
/// Of what costs at least, listed at first.
constexpr double first_gap = 0.005;
/// Sums listed at once, at most.
constexpr std::size_t most_sums = 400000;
/// A gap of so little leaves few sums.
constexpr double small_gap = 0.02;

/// What a range of shares holds.
struct Solved {
  double low = HUGE_VAL;  ///< no choice below what was asked for costs less
  std::optional<TwoSumsFound> found;
  bool is_given_up = false;
};

class Searcher {
 public:
  explicit Searcher(const TwoSums& sums) : sums_(sums), relaxation_(sums) {}
  TwoSumsFound run(double less_than);

 private:
  void add_shares(const Place& place, const Use& use);
  void find_shares();
  double uneven(const Place& place, const Use& use, double from, double to) const;
  Costs costs_between(std::size_t first, std::size_t last) const;
  SumList listed_exhaust();
  void look_at_cheap(const Costs& intake);
  void look_at_all(const Costs& intake);
  Solved solve(const Costs& intake, double less_than, bool is_leaf);
  double settle(TwoSumsFound& found) const;

  const TwoSums& sums_;
  Relaxation relaxation_;
  std::vector<double> shares_;  ///< at one of them every choice is most even
  Prices prices_;
  double gap_ = 0.0;  ///< above the bound: what is listed
  /// What the last look saw.
  Pair pair_;
  TwoSumsFound choice_;
  bool is_cut_ = false;
  bool is_given_up_ = false;
};

void Searcher::add_shares(const Place& place, const Use& use) {
  for (std::size_t e = 0; e < place.eaves_m.size(); ++e) {
    for (const double side : {-sums_.section_m, sums_.section_m}) {
      const double share = (use.lengths_m[e] + side) / place.eaves_m[e];
      if (share > 0.0 && share < 1.0) {
        shares_.push_back(share);
      }
    }
  }
}

/// What is uneven is piecewise linear in the share: its least lies where some eave is at its bound.
void Searcher::find_shares() {
  shares_ = {0.0};
  if (sums_.metre_uneven <= 0.0) {
    return;
  }
  shares_.push_back(1.0);
  for (const Place& place : sums_.intake) {
    for (const Use& use : place.uses) {
      add_shares(place, use);
    }
  }
  std::sort(shares_.begin(), shares_.end());
  shares_.erase(std::unique(shares_.begin(), shares_.end()), shares_.end());
}

/// How far a use departs from the share that is kindest to each eave, of those between two.
double Searcher::uneven(const Place& place, const Use& use, double from, double to) const {
  double sum = 0.0;
  for (std::size_t e = 0; e < place.eaves_m.size(); ++e) {
    const double kindest = std::clamp(use.lengths_m[e] / place.eaves_m[e], from, to);
    sum += beyond(sums_, place.eaves_m[e], use.lengths_m[e], kindest);
  }
  return sum;
}

/// Costs of intake at the share that is kindest to each use, of those from `first` to `last`.
Costs Searcher::costs_between(std::size_t first, std::size_t last) const {
  Costs costs;
  for (const Place& place : sums_.intake) {
    costs.push_back(costs_of(place));
    for (std::size_t i = 0; sums_.metre_uneven > 0.0 && i < place.uses.size(); ++i) {
      costs.back()[i] +=
          sums_.metre_uneven * uneven(place, place.uses[i], shares_[first], shares_[last]);
    }
  }
  return costs;
}

SumList Searcher::listed_exhaust() {
  SumList list(prices_.exhaust, gap_);
  for (std::size_t i = 0; i < sums_.exhaust.size() && !is_given_up_; ++i) {
    list.add(sums_.exhaust[i].uses, relaxation_.exhaust_costs()[i], Keep::each_area);
    is_given_up_ = list.last().size() > most_sums;
  }
  is_cut_ = list.is_cut();
  return list;
}

/// Only those sums of intake than which no larger one is as cheap. They are few, but the cheapest
/// may be larger than the limits allow.
void Searcher::look_at_cheap(const Costs& intake) {
  is_given_up_ = false;
  const SumList exhaust = listed_exhaust();
  SumList list(prices_.intake, gap_);
  for (std::size_t i = 0; i < sums_.intake.size() && !is_given_up_; ++i) {
    list.add(sums_.intake[i].uses, intake[i], Keep::cheap_areas);
    is_given_up_ = list.last().size() > most_sums;
  }
  is_cut_ = is_cut_ || list.is_cut();
  pair_ = is_given_up_ ? Pair{} : cheapest(list.last(), exhaust.last(), sums_.limits);
  if (pair_.cost < HUGE_VAL) {
    choice_ = {Search::best, pair_.cost, list.traced(pair_.left), exhaust.traced(pair_.exhaust),
               0.0};
  }
}

/// All sums of intake, in two halves: their pairs are never listed.
void Searcher::look_at_all(const Costs& intake) {
  is_given_up_ = false;
  const SumList exhaust = listed_exhaust();
  SumList left(prices_.intake, gap_);
  SumList right(prices_.intake, gap_);
  std::size_t first = 0;
  std::size_t end = sums_.intake.size();
  while (first < end && !is_given_up_) {
    const bool is_left = left.last().size() <= right.last().size();
    const std::size_t at = is_left ? first++ : --end;
    SumList& list = is_left ? left : right;
    list.add(sums_.intake[at].uses, intake[at], Keep::each_area);
    is_given_up_ = list.last().size() > most_sums;
  }
  is_cut_ = is_cut_ || left.is_cut() || right.is_cut();
  pair_ = is_given_up_
              ? Pair{}
              : cheapest_of_halves(left.last(), right.last(), exhaust.last(), sums_.limits);
  if (pair_.cost < HUGE_VAL) {
    choice_ = {Search::best, pair_.cost, left.traced(pair_.left), exhaust.traced(pair_.exhaust),
               0.0};
    const std::vector<std::size_t> rest = right.traced(pair_.right);
    choice_.intake.insert(choice_.intake.end(), rest.rbegin(), rest.rend());
  }
}

/// The least choice at these costs. The gap grows until the least lies within it. Where the
/// cheapest intake that is large enough is too large, its cost is a bound only; that does for a
/// range of shares, as long as a great deal would have to be listed for more.
Solved Searcher::solve(const Costs& intake, double less_than, bool is_leaf) {
  Solved solved;
  const double low = relaxation_.bound(intake, prices_);
  const bool is_exact = is_leaf || less_than - low <= small_gap * std::abs(low);
  bool is_all = false;
  gap_ = std::max(1e-6, first_gap * std::abs(low));
  while (true) {
    const bool is_last = gap_ >= less_than - low;
    gap_ = std::min(gap_, std::max(0.0, less_than - low));
    is_all ? look_at_all(intake) : look_at_cheap(intake);
    const double within = is_cut_ ? low + gap_ : HUGE_VAL;
    if (!is_all && is_exact && pair_.low < std::min({pair_.cost, within, less_than})) {
      is_all = true;
      continue;
    }
    const double least = std::min(pair_.low, pair_.cost);
    if (least <= within || is_last || !is_cut_ || is_given_up_) {
      solved.is_given_up = is_given_up_;
      solved.low = least <= within ? least : HUGE_VAL;
      if (pair_.cost < less_than) {
        solved.found = choice_;
      }
      return solved;
    }
    gap_ *= 3.0;
  }
}

/// The share at which a choice is most even, and what it costs with what is uneven.
double Searcher::settle(TwoSumsFound& found) const {
  double cost = 0.0;
  for (std::size_t i = 0; i < sums_.exhaust.size(); ++i) {
    cost += sums_.exhaust[i].uses[found.exhaust[i]].cost;
  }
  for (std::size_t i = 0; i < sums_.intake.size(); ++i) {
    cost += sums_.intake[i].uses[found.intake[i]].cost;
  }
  double least = HUGE_VAL;
  for (const double share : shares_) {
    double sum = 0.0;
    for (std::size_t i = 0; sums_.metre_uneven > 0.0 && i < sums_.intake.size(); ++i) {
      const Place& place = sums_.intake[i];
      sum += uneven(place, place.uses[found.intake[i]], share, share);
    }
    if (sum < least) {
      least = sum;
      found.share = share;
    }
  }
  return cost + sums_.metre_uneven * least;
}

/// Shares from the `first` to the `last`; no choice at them costs less than `low`.
struct Range {
  double low = 0.0;
  std::size_t first = 0;
  std::size_t last = 0;
  bool operator<(const Range& other) const { return low > other.low; }
};

TwoSumsFound Searcher::run(double less_than) {
  TwoSumsFound best;
  if (!relaxation_.is_possible()) {
    return best;
  }
  find_shares();
  prices_ = relaxation_.dual(costs_between(0, shares_.size() - 1));
  best.cost = less_than;
  std::priority_queue<Range> open;
  open.push({-HUGE_VAL, 0, shares_.size() - 1});
  while (!open.empty()) {
    const Range range = open.top();
    open.pop();
    if (range.low >= best.cost - cost_slack) {
      break;
    }
    const bool is_leaf = range.first == range.last;
    Solved solved = solve(costs_between(range.first, range.last), best.cost - cost_slack, is_leaf);
    if (solved.is_given_up) {
      best.search = Search::given_up;
      return best;
    }
    if (solved.found) {
      solved.found->cost = settle(*solved.found);
      if (solved.found->cost < best.cost - cost_slack) {
        best = *solved.found;
      }
    }
    if (solved.low < best.cost - cost_slack && !is_leaf) {
      const std::size_t middle = range.first + (range.last - range.first) / 2;
      open.push({solved.low, range.first, middle});
      open.push({solved.low, middle + 1, range.last});
    }
  }
  return best;
}

}  // namespace

double beyond(const TwoSums& sums, double eave_m, double length_m, double share) {
  return std::max(0.0, std::abs(length_m - share * eave_m) - sums.section_m);
}

TwoSumsFound least_of(const TwoSums& sums, double less_than) {
  return Searcher(sums).run(less_than);
}

}  // namespace ridgeward::placement
