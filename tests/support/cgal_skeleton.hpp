#pragma once
// The reference library's straight skeleton, seen through plain types so that only one file pays
// for its headers. Tests and benchmarks only.

#include <glm/vec2.hpp>

#include <vector>

namespace ridgeward::support {

/// Plan area of the face over each edge of `loops` (outer first), in order, equal speeds.
std::vector<double> reference_face_areas(const std::vector<std::vector<glm::dvec2>>& loops);
/// Builds the skeleton and returns its number of faces (for timing).
std::size_t reference_faces(const std::vector<std::vector<glm::dvec2>>& loops);

}  // namespace ridgeward::support
