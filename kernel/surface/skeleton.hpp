#pragma once
// Weighted straight skeleton of a plan, by a wavefront that rises with height.
//
// Every edge's front is a line that moves inward at its own plan speed, run over rise, as the
// height t grows; a gable stands still (speed 0). Where fronts meet, faces meet. All events of one
// height are taken together, so symmetric plans, in which most events coincide, need no
// perturbation. Sources: Biedl, Held, Huber, Kaaser, Palfrader, "Weighted straight skeletons in the
// plane" (2015), on what a weighted skeleton is; the batch treatment is our own (docs/surface.md).

#include <glm/vec2.hpp>

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace ridgeward::surface {

/// From height `from_t` on the front moves `run_per_rise` inward for each unit of height.
struct Phase {
  double from_t = 0.0;
  double run_per_rise = 0.0;
};

/// One side of the plan, the interior on its left.
struct PlanEdge {
  /// Along the edge, any length. Parallel edges share it up to sign, square ones up to a quarter
  /// turn: then they are exactly parallel and square for the wavefront too.
  glm::dvec2 direction{1.0, 0.0};
  glm::dvec2 anchor{0.0};     ///< a point of its line
  glm::dvec2 start{0.0};      ///< its first corner, used where it continues the edge before it
  double run_per_rise = 0.0;  ///< from t = 0; 0 stands
  std::vector<Phase> later;   ///< speed changes, ascending, from_t > 0
};

/// Loops one after another; the outer one counter-clockwise, courtyards clockwise.
struct Plan {
  std::vector<PlanEdge> edges;
  std::vector<std::size_t> loop_ends;  ///< one past the last edge of each loop
  /// All fronts end at this height, and a level face closes what is still open there.
  std::optional<double> stops_at_t;
};

struct SkeletonNode {
  glm::dvec2 at{0.0};
  double t = 0.0;
};

/// What one front swept while it kept its speed; vertical where it stood. Or the level face on
/// top: the edge is then the first that reaches it, the phase `flat_phase`, the run endless.
struct SkeletonFace {
  static constexpr std::size_t flat_phase = std::numeric_limits<std::size_t>::max();
  std::size_t edge = 0;    ///< of the plan; for a step the edge before it
  std::size_t phase = 0;   ///< 0 from the start
  bool is_step = false;    ///< put in between two edges that continue each other at other speeds
  glm::dvec2 normal{0.0};  ///< unit, inward, in plan
  double run_per_rise = 0.0;
};

/// A straight line between two faces; seen from outside, `left` is on the left hand of from -> to.
struct SkeletonArc {
  static constexpr std::int32_t underside = -1;
  std::uint32_t from = 0;
  std::uint32_t to = 0;
  std::int32_t left = underside;
  std::int32_t right = underside;
};

struct Skeleton {
  enum class Outcome {
    closed,
    open,   ///< only standing fronts are left: no roof closes over the plan
    failed  ///< the wavefront lost its way; never seen on a plan that keeps the laws
  };
  Outcome outcome = Outcome::closed;
  std::vector<SkeletonNode> nodes;
  std::vector<SkeletonFace> faces;  ///< faces[i] belongs to plan edge i, then steps and phases
  std::vector<SkeletonArc> arcs;
  std::vector<std::size_t> open_edges;  ///< edges whose fronts were left standing
  bool used_quad = false;               ///< doubles could not tell two events apart
};

/// REQUIRES simple loops, each edge longer than 0, neighbours not folded back on each other.
/// Laws: every arc has two faces; each face's arcs close to loops; faces tile the plan.
/// Cost: O(n) a batch, O(n^2) in all, O(n) memory. Doubles first; where two events come too close
/// to be told apart in doubles, everything again in 113-bit floating point.
Skeleton raise_wavefront(const Plan& plan);

}  // namespace ridgeward::surface
