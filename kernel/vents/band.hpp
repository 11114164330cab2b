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

/// A level eave of a plane, in plane coordinates, or a pitch break that it rises from.
struct EaveLine {
  double v_m = 0.0;
  double from_u_m = 0.0;
  double to_u_m = 0.0;
  bool is_break = false;
};
/// The plane's eaves, from below and then from the left.
std::vector<EaveLine> eaves_of(const surface::Surface& surface, const surface::Plane& plane);

/// The same, and for a plane without any the pitch breaks at its foot (the upper slopes of a
/// gambrel or a mansard): what courses of shingles can be counted from.
std::vector<EaveLine> feet_of(const surface::Surface& surface, const surface::Plane& plane);

/// Stretches along the eaves, or breaks, at height `eave_v_m` of the plane over which all of it is
/// there from `low_m` to `high_m` above them up the slope, from the left. Planes with notches or a
/// wing in front have several. Where something else than a foot at that height lies level at the
/// plane's foot (a wall, another roof), no stretch lies above it; one without any foot under it is
/// none.
std::vector<BandStretch> stretches(const surface::Surface& surface, const surface::Plane& plane,
                                   double eave_v_m, double low_m, double high_m);

}  // namespace ridgeward::vents
