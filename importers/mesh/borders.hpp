#pragma once
// Straight sides of planes whose corners are noisy. Private to this folder.

#include "mesh/slabs.hpp"

namespace ridgeward::mesh {

/// Sides that no other top shares (eaves, rakes) run from corner to corner of a fine mesh, and are
/// as noisy as these. Where four or more in turn lie about one line by no more than half of
/// `tolerance_m` on the whole, and by twice as much anywhere, they become that line, set to least
/// squares in the top's plane; lines meet where they cross, or where they cross the line that two
/// tops share. Tops of a few triangles are left as they are, and so are straight sides.
void straighten(Triangles& mesh, const std::vector<Region>& regions, Tops& tops,
                double tolerance_m);

}  // namespace ridgeward::mesh
