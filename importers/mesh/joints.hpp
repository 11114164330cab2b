#pragma once
// Sides of triangles on which corners of others lie. Private to this folder.

#include "mesh/regions.hpp"

#include <cstddef>

namespace ridgeward::mesh {

/// Where a corner lies on a side that has no other triangle beside it (a T-joint, as where a hole
/// was cut into a face strip by strip), the side's triangle is parted there, so that regions grow
/// across. Corners that lie nearer than `tolerance_m` count. REQUIRES a welded mesh. Returns how
/// many triangles were added; none where the mesh is a heap of loose triangles.
std::size_t part_at_joints(Triangles& mesh, double tolerance_m);

}  // namespace ridgeward::mesh
