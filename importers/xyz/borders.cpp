#include "xyz/borders.hpp"

#include "xyz/cloud.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

namespace ridgeward::xyz {

namespace {

constexpr double widest_gap = 1.92;  // 110 degrees without a neighbour make a border
constexpr double small_hole_m = 1.5;
constexpr double least_facing = 0.7;  // cosine between a border and the empty side of its points
constexpr double foreign_worth = 0.6;
constexpr std::size_t least_run = 5;
constexpr double same_line_m = 0.15;
constexpr double hand_m = 0.1;
constexpr double least_told = 0.3;  // of the points of a strip: border points of a true border

struct EdgePoint {
  Spot at{0.0, 0.0};
  Spot outward{0.0, 0.0};
};

/// Points that stand in a line.
struct Run {
  std::size_t count = 0;
  Across direction;
  Spot outward{0.0, 0.0};
  double off_m = 0.0;  ///< the innermost of them
  double from_m = 0.0;
  double to_m = 0.0;
};

double along(const Spot& across, const Spot& p) { return across[0] * p[1] - across[1] * p[0]; }
double dot(const Spot& a, const Spot& b) { return a[0] * b[0] + a[1] * b[1]; }

double middle_of(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

class Finder {
 public:
  Finder(const std::vector<Spot>& points, double reach_m) : points_(points), reach_m_(reach_m) {}

  Borders run(const std::vector<Joint>& joints, const std::vector<Across>& directions,
              std::size_t most) {
    Borders borders;
    std::vector<EdgePoint> open = edge_points();
    borders.per_m2 = per_m2_;
    drop_small_holes(open);
    std::erase_if(open, [&](const EdgePoint& point) {
      return std::any_of(joints.begin(), joints.end(),
                         [&](const Joint& joint) { return is_at(joint, point); });
    });
    std::vector<std::vector<Run>> lines;  // runs that go on in one line
    for (std::size_t count = 0; count < most; ++count) {
      const Run best = best_of_all(open, directions);
      if (best.count < least_run) {
        break;
      }
      const double edge_m = outermost({best});
      const std::size_t told = std::erase_if(open, [&](const EdgePoint& point) {
        const double at = along(best.outward, point.at);
        return dot(best.outward, point.outward) > 0.5 &&
               std::abs(dot(best.outward, point.at) - edge_m) < 0.9 * reach_m_ &&
               at > best.from_m - reach_m_ / 2.0 && at < best.to_m + reach_m_ / 2.0;
      });
      if (told == 0) {
        break;
      }
      const auto same = std::find_if(lines.begin(), lines.end(), [&](const auto& runs) {
        return runs.front().outward == best.outward &&
               std::abs(outermost({runs.front()}) - edge_m) < same_line_m;
      });
      if (same == lines.end()) {
        lines.push_back({best});
      } else {
        same->push_back(best);
      }
    }
    for (const std::vector<Run>& runs : lines) {
      borders.straight.push_back(straight(runs));
    }
    return borders;
  }

 private:
  Straight straight(const std::vector<Run>& runs) const {
    const Run& first = runs.front();
    const double edge_m = outermost(gone_on(runs));
    const double at = (first.from_m + first.to_m) / 2.0;
    const Spot& out = first.outward;
    return {first.direction,
            out,
            edge_m,
            length_of(runs),
            {out[0] * edge_m - out[1] * at, out[1] * edge_m + out[0] * at}};
  }
  /// The runs as far as their line goes on being a border: steps along it that have points within
  /// and none beyond. Where there are too few such steps, as they are.
  std::vector<Run> gone_on(const std::vector<Run>& runs) const {
    struct Step {
      bool is_within = false;
      bool is_beyond = false;
    };
    const Spot& out = runs.front().outward;
    const double edge_m = outermost(runs);
    std::map<int, Step> steps;
    for (const Spot& p : points_) {
      const double over_m = dot(out, p) - edge_m;
      Step& step = steps[static_cast<int>(std::floor(along(out, p) / reach_m_))];
      step.is_within = step.is_within || (over_m > -0.6 * reach_m_ && over_m < 0.3 * reach_m_);
      step.is_beyond = step.is_beyond || (over_m >= 0.3 * reach_m_ && over_m < 1.5 * reach_m_);
    }
    const auto is_border = [&](int number) {
      const auto at = steps.find(number);
      return at != steps.end() && at->second.is_within && !at->second.is_beyond;
    };
    std::vector<Run> whole;
    for (const auto& [number, step] : steps) {
      // The last steps may be border in part only.
      if (is_border(number - 1) && is_border(number) && is_border(number + 1)) {
        whole.push_back(runs.front());
        whole.back().off_m = edge_m - 0.6 * reach_m_;
        whole.back().from_m = number * reach_m_;
        whole.back().to_m = (number + 1) * reach_m_;
      }
    }
    return length_of(whole) > length_of(runs) ? whole : runs;
  }
  static double length_of(const std::vector<Run>& runs) {
    double sum = 0.0;
    for (const Run& run : runs) {
      sum += run.to_m - run.from_m;
    }
    return sum;
  }

  /// Points with a wide empty angle. Sets the density from the others.
  std::vector<EdgePoint> edge_points() {
    std::vector<Point> flattened(points_.size());
    std::transform(points_.begin(), points_.end(), flattened.begin(), [](const Spot& p) {
      return Point{p[0], p[1], 0.0};
    });
    const Grid grid(flattened, reach_m_);
    const double around_m2 = std::numbers::pi * reach_m_ * reach_m_;
    std::vector<EdgePoint> found;
    std::vector<double> densities;
    std::vector<double> angles;
    for (const Spot& p : points_) {
      angles.clear();
      grid.near({p[0], p[1], 0.0}, reach_m_, [&](Index k) {
        const Spot& q = points_[k];
        if (q != p) {
          angles.push_back(std::atan2(q[1] - p[1], q[0] - p[0]));
        }
      });
      const auto [gap, middle] = widest_of(angles);
      if (gap > widest_gap) {
        found.push_back({p, {std::cos(middle), std::sin(middle)}});
      } else {
        densities.push_back(static_cast<double>(angles.size() + 1) / around_m2);
      }
    }
    // Of regions that are all border: the density that the reach was chosen by.
    per_m2_ = densities.empty() ? wanted_neighbours / around_m2 : middle_of(std::move(densities));
    return found;
  }
  /// The widest gap between directions, and its middle.
  static std::pair<double, double> widest_of(std::vector<double>& angles) {
    std::sort(angles.begin(), angles.end());
    std::pair<double, double> widest{angles.empty() ? 2.0 * std::numbers::pi : 0.0, 0.0};
    for (std::size_t i = 0; i < angles.size(); ++i) {
      const double next =
          i + 1 < angles.size() ? angles[i + 1] : angles[0] + 2.0 * std::numbers::pi;
      if (next - angles[i] > widest.first) {
        widest = {next - angles[i], (next + angles[i]) / 2.0};
      }
    }
    return widest;
  }
  bool is_at(const Joint& joint, const EdgePoint& point) const {
    const double at = along(joint.line.across, point.at);
    return std::abs(off(joint.line, point.at)) < 0.8 * reach_m_ &&
           std::abs(dot(joint.line.across, point.outward)) > least_facing && at > joint.from_m &&
           at < joint.to_m;
  }

  /// Points around chimneys, skylights and what was not seen: they hang together and reach less far
  /// than the region's outer border.
  void drop_small_holes(std::vector<EdgePoint>& found) const {
    std::vector<Point> at(found.size());
    std::transform(found.begin(), found.end(), at.begin(), [](const EdgePoint& point) {
      return Point{point.at[0], point.at[1], 0.0};
    });
    const Grid grid(at, reach_m_);
    std::vector<int> cluster(found.size(), -1);
    std::vector<double> sizes;
    for (Index seed = 0; seed < found.size(); ++seed) {
      if (cluster[seed] < 0) {
        sizes.push_back(size_of_cluster(at, grid, seed, static_cast<int>(sizes.size()), cluster));
      }
    }
    const double largest = sizes.empty() ? 0.0 : *std::max_element(sizes.begin(), sizes.end());
    std::size_t i = 0;
    std::erase_if(found, [&](const EdgePoint&) {
      const double own = sizes[static_cast<std::size_t>(cluster[i++])];
      return own < small_hole_m && own < largest / 2.0;
    });
  }
  /// Marks all points that hang together with one. Returns how far they reach.
  double size_of_cluster(const std::vector<Point>& at, const Grid& grid, Index seed, int number,
                         std::vector<int>& cluster) const {
    Point low = at[seed];
    Point high = low;
    std::vector<Index> open{seed};
    cluster[seed] = number;
    while (!open.empty()) {
      const Point& p = at[open.back()];
      open.pop_back();
      low = {std::min(low[0], p[0]), std::min(low[1], p[1]), 0.0};
      high = {std::max(high[0], p[0]), std::max(high[1], p[1]), 0.0};
      grid.near(p, reach_m_, [&](Index k) {
        if (cluster[k] < 0) {
          cluster[k] = number;
          open.push_back(k);
        }
      });
    }
    return std::max(high[0] - low[0], high[1] - low[1]);
  }

  Run best_of_all(const std::vector<EdgePoint>& open, const std::vector<Across>& directions) const {
    Run best;
    double most = 0.0;
    for (const Across& direction : directions) {
      for (const double sign : {1.0, -1.0}) {
        Run run = best_run(open, {sign * direction.across[0], sign * direction.across[1]});
        run.direction = direction;
        const double worth =
            static_cast<double>(run.count) * (direction.is_own ? 1.0 : foreign_worth);
        if (worth > most) {
          most = worth;
          best = run;
        }
      }
    }
    return best;
  }

  /// The best run square to `outward`: a strip that many points lie in without a gap.
  Run best_run(const std::vector<EdgePoint>& open, const Spot& outward) const {
    std::vector<std::array<double, 2>> some;
    for (const EdgePoint& point : open) {
      if (point.outward[0] * outward[0] + point.outward[1] * outward[1] > 0.7) {
        some.push_back({point.at[0] * outward[0] + point.at[1] * outward[1],
                        point.at[1] * outward[0] - point.at[0] * outward[1]});
      }
    }
    std::sort(some.begin(), some.end());
    Run best;
    best.outward = outward;
    std::vector<double> strip;
    for (std::size_t i = 0, j = 0; i < some.size(); ++i) {
      for (; j < some.size() && some[j][0] <= some[i][0] + 0.6 * reach_m_; ++j) {
      }
      if (j - i <= best.count) {
        continue;
      }
      strip.clear();
      for (std::size_t k = i; k < j; ++k) {
        strip.push_back(some[k][1]);
      }
      std::sort(strip.begin(), strip.end());
      for (std::size_t first = 0, k = 1; k <= strip.size(); ++k) {
        if (k < strip.size() && strip[k] - strip[k - 1] <= 2.0 * reach_m_) {
          continue;
        }
        const double length_m = strip[k - 1] - strip[first];
        const double least = least_told * 0.6 * reach_m_ * per_m2_ * length_m;
        if (k - first > best.count && length_m > 1.2 * reach_m_ &&
            static_cast<double>(k - first) > least) {
          best.count = k - first;
          best.off_m = some[i][0];
          best.from_m = strip[first];
          best.to_m = strip[k - 1];
        }
        first = k;
      }
    }
    return best;
  }

  /// Where the border of runs in one line lies: the outermost points, of a strip a hand broad, lie
  /// as far within it on average as so many points take up.
  double outermost(const std::vector<Run>& runs) const {
    std::vector<double> offs;
    for (const Spot& p : points_) {
      const double out = dot(runs.front().outward, p);
      const double at = along(runs.front().outward, p);
      const bool is_in = std::any_of(runs.begin(), runs.end(), [&](const Run& run) {
        return at >= run.from_m && at <= run.to_m && out >= run.off_m &&
               out <= run.off_m + 1.2 * reach_m_;
      });
      if (is_in) {
        offs.push_back(out);
      }
    }
    std::sort(offs.rbegin(), offs.rend());
    const double per_m = per_m2_ * length_of(runs);
    const auto wanted = static_cast<std::size_t>(std::max(3.0, hand_m * per_m));
    const std::size_t count = std::min(offs.size(), wanted);
    double sum = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
      sum += offs[i];
    }
    const auto n = static_cast<double>(count);
    return sum / n + (n + 1.0) / 2.0 / per_m;
  }

  const std::vector<Spot>& points_;
  double reach_m_;
  double per_m2_ = 0.0;
};

}  // namespace

Borders borders_of(const std::vector<Spot>& points, double reach_m,
                   const std::vector<Joint>& joints, const std::vector<Across>& directions,
                   std::size_t most) {
  return Finder(points, reach_m).run(joints, directions, most);
}

}  // namespace ridgeward::xyz
