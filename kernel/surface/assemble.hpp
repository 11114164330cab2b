#pragma once
// From faces and arcs of the wavefront to planes, lines and walls of the roof.

#include "surface/drip.hpp"
#include "surface/skeleton.hpp"
#include "surface/surface.hpp"

namespace ridgeward::surface {

/// Adds the part's planes, walls, lines and nodes to `surface`. `north_deg` as in model::Site.
/// REQUIRES a closed skeleton of drip.plan, without short arcs.
void add_part(const model::Part& part, std::size_t part_index, const Drip& drip,
              const Skeleton& skeleton, double north_deg, Surface& surface);

/// Names the kind of every line from the faces beside it; docs/surface.md has the rules.
void classify_lines(Surface& surface);

/// Gives every line its id, counted along where names repeat.
void name_lines(Surface& surface);

/// Closed loops of the steps around one face, its outside seen with `along` to the right and `up`
/// up; outer loops first, larger before smaller.
std::vector<Loop> trace_loops(const Surface& surface, const std::vector<LoopStep>& steps,
                              glm::dvec3 along, glm::dvec3 up);

}  // namespace ridgeward::surface
