#pragma once
// Mends what is nearly a relation: edges nearly parallel, nearly square, nearly in line.

#include "units/length.hpp"

#include <glm/vec2.hpp>

#include <vector>

namespace ridgeward::surface {

/// The line of one edge, the interior on its left. Parallel and square lines of one plan share
/// their direction up to sign or quarter turn, to the last bit.
struct EdgeLine {
  glm::dvec2 direction{1.0, 0.0};  ///< any length
  glm::dvec2 anchor{0.0};
};

struct RegularPlan {
  std::vector<EdgeLine> lines;         ///< of all loops, one after another
  std::vector<glm::dvec2> corners;     ///< start of each edge on the mended lines
  std::vector<std::size_t> loop_ends;  ///< one past the last edge of each loop
  std::vector<double> moved_m;         ///< by corner: how far mending moved it
  double most_moved_m = 0.0;           ///< farthest that a corner had to go
  std::size_t most_moved_corner = 0;
};

/// How far an end of a wall may be moved to bring it in line: 1/32 in. Larger differences are
/// taken as meant.
inline constexpr double mend_m = units::inch_m / 32;

/// REQUIRES simple loops without zero edges or spikes.
/// Laws: what is not nearly a relation stays as given; no corner moves more than 1/8 in.
RegularPlan regularise(const std::vector<std::vector<glm::dvec2>>& loops);

/// The loops `first_loop` up to `end_loop` of a plan of several parts, as a plan of its own.
RegularPlan take_loops(const RegularPlan& plan, std::size_t first_loop, std::size_t end_loop);

/// Corners where consecutive lines of each loop cross; where a line goes on in the same direction,
/// the foot of `given` on it.
std::vector<glm::dvec2> corners_of(const std::vector<EdgeLine>& lines,
                                   const std::vector<std::size_t>& loop_ends,
                                   const std::vector<glm::dvec2>& given);

/// Index of the edge before `i` in its loop, and after.
std::size_t edge_before(std::size_t i, const std::vector<std::size_t>& loop_ends);
std::size_t edge_after(std::size_t i, const std::vector<std::size_t>& loop_ends);

}  // namespace ridgeward::surface
