#include "base/rays.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::polygon {

double nearest_side(const Loops& loops, glm::dvec2 start, glm::dvec2 way) {
  double nearest = HUGE_VAL;
  for (const Loop& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 a = loop[i] - start;
      const glm::dvec2 side = loop[(i + 1) % loop.size()] - loop[i];
      const double turn = way.x * side.y - way.y * side.x;
      const double on_side = turn != 0.0 ? (a.x * way.y - a.y * way.x) / turn : -1.0;
      const double far = turn != 0.0 ? (a.x * side.y - a.y * side.x) / turn : -1.0;
      if (on_side >= 0.0 && on_side <= 1.0 && far >= 0.0) {
        nearest = std::min(nearest, far);
      }
    }
  }
  return nearest;
}

}  // namespace ridgeward::polygon
