#pragma once
// What roof planes cover, as blocks; seen only inside this folder.

#include "solid/stack.hpp"
#include "surface/surface.hpp"

namespace ridgeward::solid {

Slope slope_of(const surface::Plane& plane);
inline Slope level_at(double z) { return {{0.0, 0.0}, z}; }

}  // namespace ridgeward::solid
