#include "placement/sum_list.hpp"

#include "placement/relaxation.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace ridgeward::placement {

namespace {

void keep_each_area(Layer& layer) {
  std::sort(layer.begin(), layer.end(), [](const Sum& l, const Sum& r) {
    return l.area != r.area ? l.area < r.area : l.cost < r.cost;
  });
  std::size_t kept = 0;
  for (const Sum& sum : layer) {
    if (kept == 0 || sum.area - layer[kept - 1].area > one_area) {
      layer[kept++] = sum;
    } else if (sum.cost < layer[kept - 1].cost) {
      layer[kept - 1] = sum;
    }
  }
  layer.resize(kept);
}

void keep_cheap_areas(Layer& layer) {
  std::sort(layer.begin(), layer.end(), [](const Sum& l, const Sum& r) {
    return l.area != r.area ? l.area > r.area : l.cost < r.cost;
  });
  std::size_t kept = 0;
  for (const Sum& sum : layer) {
    if (kept == 0 || sum.cost < layer[kept - 1].cost) {
      layer[kept++] = sum;
    }
  }
  layer.resize(kept);
  std::reverse(layer.begin(), layer.end());
}

/// The cheapest sum of any stretch of a layer, in constant time.
class Cheapest {
 public:
  explicit Cheapest(const Layer& layer) : layer_(layer) {
    std::vector<std::uint32_t> single(layer.size());
    for (std::uint32_t i = 0; i < layer.size(); ++i) {
      single[i] = i;
    }
    rows_.push_back(std::move(single));
    for (std::size_t width = 1; 2 * width <= layer.size(); width *= 2) {
      const std::vector<std::uint32_t>& narrow = rows_.back();
      std::vector<std::uint32_t> wide(layer.size() - 2 * width + 1);
      for (std::size_t i = 0; i < wide.size(); ++i) {
        wide[i] = cheaper(narrow[i], narrow[i + width]);
      }
      rows_.push_back(std::move(wide));
    }
  }
  /// REQUIRES first < end.
  std::uint32_t of(std::size_t first, std::size_t end) const {
    const auto level = static_cast<std::size_t>(std::bit_width(end - first) - 1);
    return cheaper(rows_[level][first], rows_[level][end - (std::size_t{1} << level)]);
  }

 private:
  std::uint32_t cheaper(std::uint32_t a, std::uint32_t b) const {
    return layer_[b].cost < layer_[a].cost ? b : a;
  }
  const Layer& layer_;
  std::vector<std::vector<std::uint32_t>> rows_;
};

}  // namespace

void SumList::add(const std::vector<Use>& uses, const std::vector<double>& costs, Keep keep) {
  least_ += least_at(uses, costs, price_);
  const Layer& before = layers_.back();
  Layer layer;
  layer.reserve(before.size() * 2);
  for (std::uint32_t u = 0; u < uses.size(); ++u) {
    for (std::uint32_t s = 0; s < before.size(); ++s) {
      const Sum sum{before[s].area + uses[u].area, before[s].cost + costs[u], s, u};
      if (sum.cost - price_ * sum.area - least_ <= gap_) {
        layer.push_back(sum);
      } else {
        is_cut_ = true;
      }
    }
  }
  keep == Keep::each_area ? keep_each_area(layer) : keep_cheap_areas(layer);
  layers_.push_back(std::move(layer));
}

std::vector<std::size_t> SumList::traced(std::size_t at) const {
  std::vector<std::size_t> uses(layers_.size() - 1);
  for (std::size_t i = layers_.size() - 1; i > 0; --i) {
    uses[i - 1] = layers_[i][at].use;
    at = layers_[i][at].from;
  }
  return uses;
}

std::optional<Window> window_beside(const std::vector<Limit>& limits, double exhaust) {
  Window window{0.0, HUGE_VAL};
  for (const Limit& limit : limits) {
    const double low = limit.least - limit.exhaust * exhaust - limit_slack;
    const double high = limit.most - limit.exhaust * exhaust + limit_slack;
    if (limit.intake > 0.0) {
      window.least = std::max(window.least, low / limit.intake);
      window.most = std::min(window.most, high / limit.intake);
    } else if (limit.intake < 0.0) {
      window.least = std::max(window.least, high / limit.intake);
      window.most = std::min(window.most, low / limit.intake);
    } else if (low > 0.0 || high < 0.0) {
      return std::nullopt;
    }
  }
  return window.least <= window.most ? std::optional(window) : std::nullopt;
}

Pair cheapest(const Layer& intake, const Layer& exhaust, const std::vector<Limit>& limits) {
  Pair best;
  for (std::size_t e = 0; e < exhaust.size(); ++e) {
    const std::optional<Window> window = window_beside(limits, exhaust[e].area);
    if (!window) {
      continue;
    }
    const auto at = std::lower_bound(intake.begin(), intake.end(), window->least,
                                     [](const Sum& sum, double area) { return sum.area < area; });
    if (at == intake.end()) {
      continue;
    }
    const double cost = exhaust[e].cost + at->cost;
    if (at->area > window->most) {
      best.low = std::min(best.low, cost);
    } else if (cost < best.cost) {
      best.cost = cost;
      best.exhaust = e;
      best.left = static_cast<std::size_t>(at - intake.begin());
    }
  }
  return best;
}

Pair cheapest_of_halves(const Layer& left, const Layer& right, const Layer& exhaust,
                        const std::vector<Limit>& limits) {
  Pair best;
  if (left.empty() || right.empty()) {
    return best;
  }
  const Cheapest cheapest(right);
  for (std::size_t e = 0; e < exhaust.size(); ++e) {
    const std::optional<Window> window = window_beside(limits, exhaust[e].area);
    // As the left sum grows, what is left of the window slides down the right list.
    std::size_t first = right.size();
    std::size_t end = right.size();
    for (std::size_t i = 0; window && i < left.size(); ++i) {
      while (first > 0 && right[first - 1].area >= window->least - left[i].area) {
        --first;
      }
      while (end > 0 && right[end - 1].area > window->most - left[i].area) {
        --end;
      }
      if (first >= end) {
        continue;
      }
      const std::uint32_t other = cheapest.of(first, end);
      const double cost = exhaust[e].cost + left[i].cost + right[other].cost;
      if (cost < best.cost) {
        best.cost = cost;
        best.exhaust = e;
        best.left = i;
        best.right = other;
      }
    }
  }
  return best;
}

}  // namespace ridgeward::placement
