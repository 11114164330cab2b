#pragma once
// Whether outlines are simple and turn the right way. Exact: on the integer grid of
// units::grid_m, with 128-bit products.

#include "base/fault.hpp"

#include <glm/vec2.hpp>

#include <string>
#include <utility>
#include <vector>

namespace ridgeward::model {

/// Most corners of a part's or a ceiling's loops together.
inline constexpr std::size_t most_corners = 20000;

/// One closed loop of corners and the JSON pointer of its list.
struct Loop {
  std::vector<glm::dvec2> corners;
  std::string where;
};

/// Faults of one loop by itself: outline.too_few, outline.zero_edge, outline.spike,
/// outline.crosses_itself. REQUIRES finite coordinates within 10 km.
Faults check_simple(const Loop& loop);
/// Two sides of a loop, the lower number first; side i goes from corner i to the next one.
using SidePair = std::pair<std::size_t, std::size_t>;
/// Sides that share more of the plan than neighbours share a corner: the first few pairs that
/// cross, touch, or turn back on each other. Empty for a simple loop. REQUIRES as check_simple, and
/// three corners, no two neighbours at one place.
std::vector<SidePair> meeting_sides(const std::vector<glm::dvec2>& corners);
/// Whether a simple loop runs counter-clockwise seen from above.
bool is_counter_clockwise(const std::vector<glm::dvec2>& corners);
/// Faults of holes against the outline and each other: hole.outside, hole.overlaps.
/// REQUIRES that each loop is simple.
Faults check_holes(const Loop& outline, const std::vector<Loop>& holes);

}  // namespace ridgeward::model
