#pragma once
// How far it is to a polygon's border in one direction.

#include "base/polygon.hpp"

namespace ridgeward::polygon {

/// How far from `start`, in steps of `way`, the nearest side of `loops` is met; infinity for none.
/// Sides along `way` are not met.
double nearest_side(const Loops& loops, glm::dvec2 start, glm::dvec2 way);

}  // namespace ridgeward::polygon
