#pragma once
// Flat regions of a cloud of points.

#include "support/planes.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

namespace ridgeward::xyz {

using importing::Point;
using Index = std::uint32_t;

/// Cells of space, so that points near a place are found without looking at all. Cost: n log n to
/// build, nine searches a question.
class Grid {
 public:
  Grid(const std::vector<Point>& points, double cell_m);

  /// Calls take(index) for every point within `reach_m` of p. REQUIRES reach_m <= cell_m.
  template <class Take>
  void near(const Point& p, double reach_m, Take take) const {
    const Key middle = key_of(p);
    for (int n = 0; n < 9; ++n) {
      const Key first{middle[0] + n % 3 - 1, middle[1] + n / 3 - 1, middle[2] - 1};
      for (std::size_t i = start_of(first); i < cells_.size() && is_in(cells_[i].first, first);
           ++i) {
        const Point& q = (*points_)[cells_[i].second];
        if (std::hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]) <= reach_m) {
          take(cells_[i].second);
        }
      }
    }
  }

 private:
  using Key = std::array<std::int32_t, 3>;
  static bool is_in(const Key& cell, const Key& first) {
    return cell[0] == first[0] && cell[1] == first[1] && cell[2] <= first[2] + 2;
  }
  Key key_of(const Point& p) const;
  std::size_t start_of(const Key& first) const;

  const std::vector<Point>* points_;
  double cell_m_;
  std::vector<std::pair<Key, Index>> cells_;
};

/// dot(normal, p) = offset; the normal is of length 1 and points up.
struct Plane {
  Point normal{0.0, 0.0, 1.0};
  double offset = 0.0;
};
double off(const Plane& plane, const Point& p);

struct Region {
  Plane plane;
  double spread_m = 0.0;  ///< root of the mean square of the distances of its points
  std::vector<Index> points;
};

/// The plane through the middle of points that is nearest to them, by the least of the eigenvalues
/// of their moments. REQUIRES three of them.
Region fitted(const std::vector<Point>& all, std::vector<Index> points);

/// Leaves of all points that lie closer together than `least_m` one for each cell of that size.
void thin_out(std::vector<Point>& points, double least_m);

inline constexpr double wanted_neighbours = 14.0;

struct Density {
  double per_m2 = 0.0;   ///< on surfaces; 0 where points lie too thinly to tell
  double reach_m = 0.0;  ///< wanted_neighbours lie within it on a surface
};
Density density_of(const std::vector<Point>& points);

/// Grows regions from the flattest places, over points within `reach_m` whose own neighbours lie in
/// a plane within 20 degrees of the region's and that lie within `tolerance_m` of it; the plane is
/// set anew each time the region has grown by half. What is left goes to the nearest plane beside
/// it. Regions in one plane that touch are put together; those of fewer than `least_points` are
/// given up. Largest first.
std::vector<Region> flat_regions(const std::vector<Point>& points, double reach_m,
                                 double tolerance_m, std::size_t least_points);

}  // namespace ridgeward::xyz
