#include "xyz/cloud.hpp"

#include "support/vectors.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <numbers>
#include <numeric>
#include <set>

namespace ridgeward::xyz {

namespace {

using importing::dot;
using importing::minus;
using importing::plus;
using importing::scaled;

constexpr double least_cosine = 0.9397;         // 20 degrees
constexpr double least_cosine_of_one = 0.9976;  // 4 degrees: regions of one plane
constexpr double least_cosine_of_few = 0.9659;  // 15 degrees
constexpr std::size_t few_points = 100;
constexpr std::size_t least_neighbours = 5;
constexpr int no_region = -1;

/// Sums of points, from which their plane follows at any time.
class Moments {
 public:
  explicit Moments(const Point& near) : near_(near) {}
  void add(const Point& p) {
    const Point d = minus(p, near_);
    for (std::size_t i = 0; i < 3; ++i) {
      sum_.at(i) += d.at(i);
      for (std::size_t j = 0; j <= i; ++j) {
        squares_.at(3 * i + j) += d.at(i) * d.at(j);
      }
    }
    ++count_;
  }
  std::size_t count() const { return count_; }
  /// REQUIRES points. `spread_m` as in Region; `width_m` likewise, of the next broader direction.
  Plane plane(double& spread_m, double* width_m = nullptr) const;

 private:
  Point near_;
  Point sum_{0.0, 0.0, 0.0};
  std::array<double, 9> squares_{};
  std::size_t count_ = 0;
};

using Matrix = std::array<Point, 3>;

/// Turns the axes p and q so that the matrix has no term between them (Jacobi), and the columns of
/// `turned` with it.
void turn(Matrix& m, Matrix& turned, std::size_t p, std::size_t q) {
  const double between = m.at(p).at(q);
  if (std::abs(between) < 1e-300) {
    return;
  }
  const double theta = (m.at(q).at(q) - m.at(p).at(p)) / (2.0 * between);
  const double t = (theta < 0.0 ? -1.0 : 1.0) / (std::abs(theta) + std::hypot(theta, 1.0));
  const double c = 1.0 / std::hypot(t, 1.0);
  const double s = t * c;
  for (std::size_t k = 0; k < 3; ++k) {
    const double kp = m.at(k).at(p);
    const double kq = m.at(k).at(q);
    m.at(k).at(p) = c * kp - s * kq;
    m.at(k).at(q) = s * kp + c * kq;
  }
  for (std::size_t k = 0; k < 3; ++k) {
    const double pk = m.at(p).at(k);
    const double qk = m.at(q).at(k);
    m.at(p).at(k) = c * pk - s * qk;
    m.at(q).at(k) = s * pk + c * qk;
    const double tp = turned.at(k).at(p);
    const double tq = turned.at(k).at(q);
    turned.at(k).at(p) = c * tp - s * tq;
    turned.at(k).at(q) = s * tp + c * tq;
  }
}

Plane Moments::plane(double& spread_m, double* width_m) const {
  const auto n = static_cast<double>(count_);
  const Point middle = scaled(sum_, 1.0 / n);
  Matrix m{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      m.at(i).at(j) = squares_.at(3 * i + j) / n - middle.at(i) * middle.at(j);
      m.at(j).at(i) = m.at(i).at(j);
    }
  }
  Matrix turned{Point{1.0, 0.0, 0.0}, Point{0.0, 1.0, 0.0}, Point{0.0, 0.0, 1.0}};
  for (int round = 0; round < 8; ++round) {
    turn(m, turned, 0, 1);
    turn(m, turned, 0, 2);
    turn(m, turned, 1, 2);
  }
  std::size_t least = 0;
  for (std::size_t k = 1; k < 3; ++k) {
    least = m.at(k).at(k) < m.at(least).at(least) ? k : least;
  }
  spread_m = std::sqrt(std::max(0.0, m.at(least).at(least)));
  if (width_m != nullptr) {
    std::array<double, 3> sizes{m[0][0], m[1][1], m[2][2]};
    std::sort(sizes.begin(), sizes.end());
    *width_m = std::sqrt(std::max(0.0, sizes[1]));
  }
  Plane plane;
  plane.normal = {turned[0].at(least), turned[1].at(least), turned[2].at(least)};
  if (plane.normal[2] < 0.0) {
    plane.normal = scaled(plane.normal, -1.0);
  }
  plane.offset = dot(plane.normal, plus(middle, near_));
  return plane;
}

class Grower {
 public:
  Grower(const std::vector<Point>& points, double reach_m, double tolerance_m)
      : points_(points), reach_m_(reach_m), tolerance_m_(tolerance_m), grid_(points, reach_m) {}

  std::vector<Region> run(std::size_t least_points) {
    look_around();
    std::vector<Index> order(points_.size());
    std::iota(order.begin(), order.end(), Index{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](Index a, Index b) { return spreads_[a] < spreads_[b]; });
    region_of_.assign(points_.size(), no_region);
    for (const Index seed : order) {
      if (region_of_[seed] == no_region && spreads_[seed] <= 0.7 * tolerance_m_) {
        grow(seed, least_points);
      }
    }
    put_together();
    give_up_small(least_points);
    constexpr int most_rounds = 10;
    for (int round = 0; round < most_rounds && give_to_nearest(); ++round) {
    }
    return regions(least_points);
  }

 private:
  /// The plane of each point's neighbours; points with too few have an endless spread.
  void look_around() {
    normals_.resize(points_.size());
    spreads_.assign(points_.size(), std::numeric_limits<double>::infinity());
    for (Index i = 0; i < points_.size(); ++i) {
      Moments around(points_[i]);
      grid_.near(points_[i], reach_m_, [&](Index k) { around.add(points_[k]); });
      if (around.count() > least_neighbours) {
        normals_[i] = around.plane(spreads_[i]).normal;
      }
    }
  }

  void grow(Index seed, std::size_t least_points) {
    const int number = static_cast<int>(planes_.size());
    Moments whole(points_[seed]);
    Plane plane{normals_[seed], dot(normals_[seed], points_[seed])};
    double spread_m = 0.0;
    std::size_t settle_at = 10;
    std::vector<Index> taken{seed};
    region_of_[seed] = number;
    whole.add(points_[seed]);
    for (std::size_t next = 0; next < taken.size(); ++next) {
      grid_.near(points_[taken[next]], reach_m_, [&](Index k) {
        const bool belongs =
            region_of_[k] == no_region && std::abs(off(plane, points_[k])) <= tolerance_m_ &&
            spreads_[k] < reach_m_ && std::abs(dot(plane.normal, normals_[k])) >= least_cosine;
        if (belongs) {
          region_of_[k] = number;
          taken.push_back(k);
          whole.add(points_[k]);
        }
      });
      if (taken.size() >= settle_at) {
        plane = whole.plane(spread_m);
        settle_at += settle_at / 2;
      }
    }
    double width_m = 0.0;
    plane = whole.plane(spread_m, &width_m);
    // Small ones and strips along folds are free again; larger regions may take them in.
    if (taken.size() < std::max<std::size_t>(least_points / 2, 4) || width_m < 0.3 * reach_m_) {
      for (const Index k : taken) {
        region_of_[k] = no_region;
      }
      return;
    }
    planes_.push_back(plane);
    members_.push_back(std::move(taken));
  }

  /// Regions of one plane that touch become one.
  void put_together() {
    std::vector<int> leader(planes_.size());
    std::iota(leader.begin(), leader.end(), 0);
    const auto find = [&](int r) {
      while (leader[static_cast<std::size_t>(r)] != r) {
        r = leader[static_cast<std::size_t>(r)];
      }
      return r;
    };
    for (const auto& [a, b] : touching()) {
      const int one = find(a);
      const int other = find(b);
      if (one != other && are_one(one, other)) {
        const bool is_larger = size_of(one) >= size_of(other);
        leader[static_cast<std::size_t>(is_larger ? other : one)] = is_larger ? one : other;
      }
    }
    for (int& r : region_of_) {
      r = r == no_region ? r : find(r);
    }
  }
  /// Sets free the points of regions that are too small, and of small ones that are only the fold
  /// between larger ones: most of their points lie on planes of those.
  void give_up_small(std::size_t least_points) {
    std::map<int, std::vector<Index>> members;
    for (Index i = 0; i < points_.size(); ++i) {
      members[region_of_[i]].push_back(i);
    }
    std::map<int, std::set<int>> beside;
    for (const auto& [a, b] : touching()) {
      beside[a].insert(b);
      beside[b].insert(a);
    }
    for (const auto& [number, own] : members) {
      const std::set<int>& others = beside[number];
      const auto is_on_larger = [&, size = own.size()](Index k) {
        return std::any_of(others.begin(), others.end(), [&](int other) {
          return members.at(other).size() > size &&
                 std::abs(off(planes_[static_cast<std::size_t>(other)], points_[k])) <=
                     tolerance_m_;
        });
      };
      const bool is_small = own.size() < least_points;
      const bool is_fold =
          own.size() < 8 * least_points &&
          2 * static_cast<std::size_t>(std::count_if(own.begin(), own.end(), is_on_larger)) >
              own.size();
      if (number != no_region && (is_small || is_fold)) {
        for (const Index k : own) {
          region_of_[k] = no_region;
        }
      }
    }
  }
  std::set<std::pair<int, int>> touching() const {
    std::set<std::pair<int, int>> pairs;
    for (Index i = 0; i < points_.size(); ++i) {
      const int own = region_of_[i];
      if (own == no_region) {
        continue;
      }
      grid_.near(points_[i], reach_m_, [&](Index k) {
        if (region_of_[k] > own) {
          pairs.emplace(own, region_of_[k]);
        }
      });
    }
    return pairs;
  }
  std::size_t size_of(int region) const {
    return members_[static_cast<std::size_t>(region)].size();
  }
  /// The direction of a small region says little: that its points lie on the other's plane has to
  /// do.
  bool are_one(int a, int b) const {
    const Plane& one = planes_[static_cast<std::size_t>(a)];
    const Plane& other = planes_[static_cast<std::size_t>(b)];
    const auto is_on = [&](const Plane& plane, int region) {
      const std::vector<Index>& members = members_[static_cast<std::size_t>(region)];
      double sum = 0.0;
      for (const Index k : members) {
        sum += std::abs(off(plane, points_[k]));
      }
      return sum <= tolerance_m_ / 2.0 * static_cast<double>(members.size());
    };
    return dot(one.normal, other.normal) >= (std::min(size_of(a), size_of(b)) < few_points
                                                 ? least_cosine_of_few
                                                 : least_cosine_of_one) &&
           (is_on(one, b) || is_on(other, a));
  }

  /// Each point to the plane among those of its neighbours that it lies nearest to. Returns whether
  /// points without a region got one.
  bool give_to_nearest() {
    std::vector<int> given = region_of_;
    bool has_given = false;
    for (Index i = 0; i < points_.size(); ++i) {
      double least = tolerance_m_;
      grid_.near(points_[i], reach_m_, [&](Index k) {
        const int region = region_of_[k];
        if (region == no_region) {
          return;
        }
        const double distance =
            std::abs(off(planes_[static_cast<std::size_t>(region)], points_[i]));
        if (distance < least) {
          least = distance;
          given[i] = region;
        }
      });
      has_given = has_given || (region_of_[i] == no_region && given[i] != no_region);
    }
    region_of_ = std::move(given);
    return has_given;
  }

  std::vector<Region> regions(std::size_t least_points) const {
    std::map<int, std::vector<Index>> members;
    for (Index i = 0; i < points_.size(); ++i) {
      if (region_of_[i] != no_region) {
        members[region_of_[i]].push_back(i);
      }
    }
    std::vector<Region> all;
    for (auto& [number, own] : members) {
      if (own.size() >= std::max<std::size_t>(least_points, 3)) {
        all.push_back(fitted(points_, std::move(own)));
      }
    }
    std::stable_sort(all.begin(), all.end(), [](const Region& a, const Region& b) {
      return a.points.size() > b.points.size();
    });
    return all;
  }

  const std::vector<Point>& points_;
  double reach_m_;
  double tolerance_m_;
  Grid grid_;
  std::vector<Point> normals_;
  std::vector<double> spreads_;
  std::vector<int> region_of_;
  std::vector<Plane> planes_;
  std::vector<std::vector<Index>> members_;  ///< as they grew
};

}  // namespace

Grid::Grid(const std::vector<Point>& points, double cell_m) : points_(&points), cell_m_(cell_m) {
  cells_.reserve(points.size());
  for (Index i = 0; i < points.size(); ++i) {
    cells_.emplace_back(key_of(points[i]), i);
  }
  std::sort(cells_.begin(), cells_.end());
}

Grid::Key Grid::key_of(const Point& p) const {
  Key key{};
  for (std::size_t k = 0; k < 3; ++k) {
    key.at(k) = static_cast<std::int32_t>(std::floor(p.at(k) / cell_m_));
  }
  return key;
}

std::size_t Grid::start_of(const Key& first) const {
  return static_cast<std::size_t>(
      std::lower_bound(cells_.begin(), cells_.end(), std::pair(first, Index{0})) - cells_.begin());
}

double off(const Plane& plane, const Point& p) { return dot(plane.normal, p) - plane.offset; }

Region fitted(const std::vector<Point>& all, std::vector<Index> points) {
  Region region;
  Moments whole(all[points.front()]);
  for (const Index k : points) {
    whole.add(all[k]);
  }
  region.plane = whole.plane(region.spread_m);
  region.points = std::move(points);
  return region;
}

void thin_out(std::vector<Point>& points, double least_m) {
  std::vector<std::pair<std::array<std::int32_t, 3>, Index>> cells;
  cells.reserve(points.size());
  for (Index i = 0; i < points.size(); ++i) {
    cells.emplace_back();
    for (std::size_t k = 0; k < 3; ++k) {
      cells.back().first.at(k) = static_cast<std::int32_t>(std::floor(points[i].at(k) / least_m));
    }
    cells.back().second = i;
  }
  std::sort(cells.begin(), cells.end());
  const auto last = std::unique(cells.begin(), cells.end(),
                                [](const auto& a, const auto& b) { return a.first == b.first; });
  std::vector<Point> kept;
  for (auto at = cells.begin(); at != last; ++at) {
    kept.push_back(points[at->second]);
  }
  points = std::move(kept);
}

Density density_of(const std::vector<Point>& points) {
  constexpr std::size_t samples = 400;
  const std::size_t step = std::max<std::size_t>(1, points.size() / samples);
  constexpr int most_tries = 12;  // to 1.16 m
  double reach_m = 0.1;
  for (int tried = 0; tried < most_tries; ++tried, reach_m *= 1.25) {
    const Grid grid(points, reach_m);
    std::vector<std::size_t> counts;
    for (std::size_t i = 0; i < points.size(); i += step) {
      std::size_t count = 0;
      grid.near(points[i], reach_m, [&](Index) { ++count; });
      counts.push_back(count);
    }
    const auto middle = counts.begin() + static_cast<std::ptrdiff_t>(counts.size() / 2);
    std::nth_element(counts.begin(), middle, counts.end());
    if (!counts.empty() && static_cast<double>(*middle) >= wanted_neighbours) {
      const double per_m2 = static_cast<double>(*middle) / (std::numbers::pi * reach_m * reach_m);
      return {per_m2, std::sqrt(wanted_neighbours / (std::numbers::pi * per_m2))};
    }
  }
  return {};
}

std::vector<Region> flat_regions(const std::vector<Point>& points, double reach_m,
                                 double tolerance_m, std::size_t least_points) {
  return Grower(points, reach_m, tolerance_m).run(least_points);
}

}  // namespace ridgeward::xyz
