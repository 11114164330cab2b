#pragma once
// Where along and up a plane an intake vent may lie, by its kind and position.

#include "vents/band.hpp"
#include "vents/courses.hpp"
#include "vents/pieces.hpp"

#include <optional>
#include <vector>

namespace ridgeward::vents {

/// A level band over an eave, with the stretch of it that lies whole on the plane.
struct IntakeBand {
  double drip_v_m = 0.0;
  double low_m = 0.0;  ///< up the slope from the drip edge
  double high_m = 0.0;
  std::optional<Courses> courses;  ///< upslope position
  bool is_over_break = false;      ///< no eave: the drip edge is that of the slope above a break
  BandStretch stretch;
};

/// All bands of a product on a plane over its `eaves` (feet_of), from the left. None where the
/// overhang has no room for a vent in its soffit.
std::vector<IntakeBand> intake_bands(const Site& site, const surface::Plane& plane,
                                     const std::vector<EaveLine>& eaves,
                                     const model::Product& product, model::Position position);

}  // namespace ridgeward::vents
