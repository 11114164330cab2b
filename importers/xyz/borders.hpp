#pragma once
// The borders of a flat region, told from its points.

#include "xyz/cells.hpp"

#include <vector>

namespace ridgeward::xyz {

/// A direction that borders may be square to.
struct Across {
  double angle = 0.0;     ///< in plan, 0 to pi
  Spot across{1.0, 0.0};  ///< in the region
  bool is_own = false;    ///< along or across the region's own fall
};

/// A line whose other side other points belong to: what is border there is told already.
struct Joint {
  Line line;
  double from_m = 0.0;  ///< along it, counted by (-across.y, across.x)
  double to_m = 0.0;
};

struct Straight {
  Across along;
  Spot outward{1.0, 0.0};
  double edge_m = 0.0;  ///< dot(outward, p) there
  double length_m = 0.0;
  Spot middle{0.0, 0.0};
};

struct Borders {
  double per_m2 = 0.0;  ///< density of the region's points
  std::vector<Straight> straight;
};

/// Straight borders, the best told first, at most `most`. Points with an empty angle of 110 degrees
/// or more are border; those around small holes and along joints are passed over. A strip that at
/// least five of them lie in without a gap is a border; it lies as far out as the outermost points
/// and their density say.
Borders borders_of(const std::vector<Spot>& points, double reach_m,
                   const std::vector<Joint>& joints, const std::vector<Across>& directions,
                   std::size_t most);

}  // namespace ridgeward::xyz
