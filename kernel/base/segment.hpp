#pragma once
// Distances from points to segments and loops in the plane. Lengths in the caller's unit.

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <algorithm>
#include <limits>
#include <span>

namespace ridgeward::segment {

/// How far along from `a` to `b`, 0 to 1, the point nearest to `p` lies; 0 where the two are one.
inline double nearest_share(glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
  const glm::dvec2 way = b - a;
  const double squared = glm::dot(way, way);
  return squared > 0.0 ? std::clamp(glm::dot(p - a, way) / squared, 0.0, 1.0) : 0.0;
}

inline glm::dvec2 nearest(glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
  return a + nearest_share(a, b, p) * (b - a);
}

inline double distance(glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
  return glm::distance(p, nearest(a, b, p));
}

/// To the sides of a closed loop, from within or without; infinite for an empty one.
inline double distance_to_loop(std::span<const glm::dvec2> loop, glm::dvec2 p) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < loop.size(); ++i) {
    least = std::min(least, distance(loop[i], loop[(i + 1) % loop.size()], p));
  }
  return least;
}

}  // namespace ridgeward::segment
