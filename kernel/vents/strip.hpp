#pragma once
// The strip of vent that is laid over a slot: how far it reaches and how its ends are cut.

#include "vents/band.hpp"
#include "vents/pieces.hpp"

#include <optional>

namespace ridgeward::vents {

/// A strip of vent in plane coordinates, as far as it lies on the plane.
struct Strip {
  double low_v_m = 0.0;
  double high_v_m = 0.0;
};

/// Furthest u that the strip reaches along the border line that ends it.
double vent_end_m(const Site& site, const surface::Plane& plane, const BandEnd& end, Strip strip,
                  bool is_left);

/// How a strip of `depth_m` is cut at its end; none where no hip and no valley ends it.
std::optional<Mitre> mitre_at(const Site& site, const surface::Plane& plane, const BandEnd& end,
                              double depth_m);

}  // namespace ridgeward::vents
