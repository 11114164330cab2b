#pragma once
// Polygons that nearly touch made to touch.

#include "xyz/cloud.hpp"

#include <vector>

namespace ridgeward::xyz {

struct Piece {
  Plane plane;
  importing::Polygon polygon;
};

/// Makes corners that lie closer than `within_m` in plan one place in plan, each piece at its own
/// height there, and puts corners of others that lie so near to a side into it, so that neighbours
/// share whole sides. Loops of less than three corners go. REQUIRES planes that are not upright.
void close_seams(std::vector<Piece>& pieces, double within_m);

}  // namespace ridgeward::xyz
