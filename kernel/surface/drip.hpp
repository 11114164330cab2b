#pragma once
// From the walls to the drip outline: where each plane starts, and how high.

#include "base/fault.hpp"
#include "model/roof_model.hpp"
#include "surface/regularise.hpp"
#include "surface/skeleton.hpp"

#include <glm/vec2.hpp>

#include <string>
#include <vector>

namespace ridgeward::surface {

/// The plan that the wavefront rises from, and what it stands for.
struct Drip {
  RegularPlan walls;  ///< outer face of the walls
  Plan plan;          ///< the drip outline with the planes' speeds
  /// Edge of the part for each edge of the plan; jogs between unequal overhangs repeat the edge
  /// before them.
  std::vector<std::size_t> part_edge;
  std::vector<std::uint8_t> is_jog;
  /// By part edge: first and last edge of the straight run that bears one plane with it; itself
  /// where it has no such neighbour. The run's plane is that of its lowest edge.
  std::vector<std::size_t> run_first;
  std::vector<std::size_t> run_last;
  std::vector<double> overhang_m;  ///< of each part edge, after levelling the fascia
  double base_m = 0.0;             ///< height at t = 0: the lowest drip line
  double wall_height_m = 0.0;      ///< of the deck at the wall line: plate + heel
  std::vector<std::string> assumptions;
};

/// `drawn`: the part's outlines, mended together with those of all other parts, so that what two
/// parts have in common agrees. Faults: overhang.collides. `where` is the part's JSON pointer.
Result<Drip> lay_out_drip(const model::Part& part, const RegularPlan& drawn,
                          const std::string& where);

/// Outlines and courtyards of all parts, mended together; one entry a part.
std::vector<RegularPlan> mend(const std::vector<model::Part>& parts);

}  // namespace ridgeward::surface
