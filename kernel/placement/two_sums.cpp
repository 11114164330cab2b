#include "placement/two_sums.hpp"

#include "placement/relaxation.hpp"

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
constexpr std::size_t most_states = 400000;

/// One sum of the places so far, and how it was come to.
struct State {
  double area = 0.0;
  double cost = 0.0;
  std::uint32_t from = 0;
  std::uint32_t use = 0;
};
using Layer = std::vector<State>;

/// What one look at the sums found.
struct Look {
  double cost = HUGE_VAL;    ///< of the cheapest pair that keeps the limits
  double low = HUGE_VAL;     ///< no pair whose intake was cut short costs less
  std::uint32_t intake = 0;  ///< of the last layers
  std::uint32_t exhaust = 0;
  bool is_cut = false;  ///< something was left out as too dear
  bool is_given_up = false;
};

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
  std::vector<Layer> list(const std::vector<Place>& places, const Costs& costs, double price,
                          bool keeps_all);
  Look look(const Costs& intake, bool keeps_all);
  void pair_up(bool keeps_all, Look& look) const;
  Solved solve(const Costs& intake, double less_than, bool is_exact);
  double settle(TwoSumsFound& found) const;

  const TwoSums& sums_;
  Relaxation relaxation_;
  std::vector<double> shares_;  ///< at one of them every choice is most even
  Prices prices_;
  double gap_ = 0.0;  ///< above the bound: what is listed
  bool is_cut_ = false;
  bool is_given_up_ = false;
  std::vector<Layer> intake_;
  std::vector<Layer> exhaust_;
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

/// Leaves of equal areas the cheapest.
void keep_each_area(Layer& layer) {
  std::sort(layer.begin(), layer.end(), [](const State& l, const State& r) {
    return l.area != r.area ? l.area < r.area : l.cost < r.cost;
  });
  std::size_t kept = 0;
  for (const State& state : layer) {
    if (kept > 0 && state.area - layer[kept - 1].area <= one_area) {
      if (state.cost < layer[kept - 1].cost) {
        layer[kept - 1] = state;
      }
    } else {
      layer[kept++] = state;
    }
  }
  layer.resize(kept);
}

/// Leaves those than which no larger one is as cheap; in order of areas.
void keep_cheap_areas(Layer& layer) {
  std::sort(layer.begin(), layer.end(), [](const State& l, const State& r) {
    return l.area != r.area ? l.area > r.area : l.cost < r.cost;
  });
  std::size_t kept = 0;
  for (const State& state : layer) {
    if (kept == 0 || state.cost < layer[kept - 1].cost) {
      layer[kept++] = state;
    }
  }
  layer.resize(kept);
  std::reverse(layer.begin(), layer.end());
}

/// Sums place by place, without those that at these prices lie more than the gap above the least.
std::vector<Layer> Searcher::list(const std::vector<Place>& places, const Costs& costs,
                                  double price, bool keeps_all) {
  std::vector<Layer> layers{{State{}}};
  double least = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    least += least_at(places[i].uses, costs[i], price);
    Layer layer;
    const Layer& before = layers.back();
    for (std::uint32_t u = 0; u < places[i].uses.size(); ++u) {
      for (std::uint32_t s = 0; s < before.size(); ++s) {
        const State state{before[s].area + places[i].uses[u].area, before[s].cost + costs[i][u], s,
                          u};
        if (state.cost - price * state.area - least <= gap_) {
          layer.push_back(state);
        } else {
          is_cut_ = true;
        }
      }
    }
    keeps_all ? keep_each_area(layer) : keep_cheap_areas(layer);
    is_given_up_ = is_given_up_ || layer.size() > most_states;
    layers.push_back(std::move(layer));
    if (is_given_up_ || layers.back().empty()) {
      break;
    }
  }
  return layers;
}

/// The cheapest intake beside each exhaust.
void Searcher::pair_up(bool keeps_all, Look& look) const {
  const Layer& intake = intake_.back();
  const Layer& exhaust = exhaust_.back();
  for (std::uint32_t e = 0; e < exhaust.size(); ++e) {
    double least = 0.0;
    double most = HUGE_VAL;
    for (const Limit& limit : sums_.limits) {
      const double rest = limit.exhaust * exhaust[e].area;
      const double low = limit.least - rest - limit_slack;
      const double high = limit.most - rest + limit_slack;
      if (limit.intake > 0.0) {
        least = std::max(least, low / limit.intake);
        most = std::min(most, high / limit.intake);
      } else if (limit.intake < 0.0) {
        least = std::max(least, high / limit.intake);
        most = std::min(most, low / limit.intake);
      } else if (low > 0.0 || high < 0.0) {
        most = -1.0;
      }
    }
    if (most < least) {
      continue;
    }
    auto at = std::lower_bound(intake.begin(), intake.end(), least,
                               [](const State& s, double area) { return s.area < area; });
    if (!keeps_all && at != intake.end() && at->area > most) {
      look.low = std::min(look.low, exhaust[e].cost + at->cost);
    }
    for (; at != intake.end() && at->area <= most; ++at) {
      const double cost = exhaust[e].cost + at->cost;
      if (cost < look.cost) {
        look.cost = cost;
        look.intake = static_cast<std::uint32_t>(at - intake.begin());
        look.exhaust = e;
      }
      if (!keeps_all) {
        break;  // the larger ones are dearer
      }
    }
  }
}

Look Searcher::look(const Costs& intake, bool keeps_all) {
  Look look;
  is_cut_ = is_given_up_ = false;
  exhaust_ = list(sums_.exhaust, relaxation_.exhaust_costs(), prices_.exhaust, true);
  intake_ = list(sums_.intake, intake, prices_.intake, keeps_all);
  look.is_cut = is_cut_;
  look.is_given_up = is_given_up_;
  if (!is_given_up_ && intake_.size() > sums_.intake.size() &&
      exhaust_.size() > sums_.exhaust.size()) {
    pair_up(keeps_all, look);
  }
  return look;
}

std::vector<std::size_t> traced(const std::vector<Layer>& layers, std::uint32_t at) {
  std::vector<std::size_t> uses(layers.size() - 1);
  for (std::size_t i = layers.size() - 1; i > 0; --i) {
    uses[i - 1] = layers[i][at].use;
    at = layers[i][at].from;
  }
  return uses;
}

/// The least choice at these costs. The gap grows until the least lies within it. Where the
/// cheapest intake that is large enough is too large, its cost is a bound only, which is all that a
/// range of shares needs; `is_exact` asks for more.
Solved Searcher::solve(const Costs& intake, double less_than, bool is_exact) {
  Solved solved;
  const double low = relaxation_.bound(intake, prices_);
  bool keeps_all = false;
  gap_ = std::max(1e-6, first_gap * std::abs(low));
  while (true) {
    const Look seen = look(intake, keeps_all);
    solved.is_given_up = seen.is_given_up;
    const double within = seen.is_cut ? low + gap_ : HUGE_VAL;
    const bool is_short = !keeps_all && seen.low < std::min({seen.cost, within, less_than});
    if (is_short && is_exact) {
      keeps_all = true;
      continue;
    }
    const double least = std::min(seen.low, seen.cost);
    if (least <= within || within >= less_than || seen.is_given_up) {
      solved.low = least <= within ? least : HUGE_VAL;
      if (seen.cost < less_than) {
        solved.found = TwoSumsFound{Search::best, seen.cost, traced(intake_, seen.intake),
                                    traced(exhaust_, seen.exhaust), 0.0};
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
