#pragma once
// From faces and arcs of the wavefront to planes, lines and walls of the roof.

#include "surface/drip.hpp"
#include "surface/mesh.hpp"
#include "surface/surface.hpp"

namespace ridgeward::surface {

/// The mesh as planes, walls, lines and nodes, with loops, frames and ids; kinds and names of lines
/// follow. `drips` holds one entry a part.
/// REQUIRES a tidy mesh.
Surface assemble(const model::RoofModel& model, const std::vector<Drip>& drips, const Mesh& mesh);

/// Names the kind of every line from the faces beside it; docs/surface.md has the rules.
void classify_lines(const model::RoofModel& model, Surface& surface);

/// Gives every line its id, counted along where names repeat.
void name_lines(Surface& surface);

/// Closed loops of the steps around one face, its outside seen with `along` to the right and `up`
/// up; outer loops first, larger before smaller.
std::vector<Loop> trace_loops(const Surface& surface, const std::vector<LoopStep>& steps,
                              glm::dvec3 along, glm::dvec3 up);

}  // namespace ridgeward::surface
