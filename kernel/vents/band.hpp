#pragma once
// Where a level band of a plane (a slot, say) lies wholly on the plane, and what ends it.

#include "surface/surface.hpp"

#include <vector>

namespace ridgeward::vents {

/// One end of a stretch and the line of the plane's border that ends it; an obstacle or a header
/// ends it where `is_obstacle`.
struct BandEnd {
  double u_m = 0.0;
  LineId line;
  bool is_obstacle = false;
};
struct BandStretch {
  BandEnd left;
  BandEnd right;
};

/// Stretches along the eave over which all of the plane from `low_m` to `high_m` up the slope is
/// there, from the left. Planes with notches or a wing in front have several.
std::vector<BandStretch> stretches(const surface::Surface& surface, const surface::Plane& plane,
                                   double low_m, double high_m);

}  // namespace ridgeward::vents
