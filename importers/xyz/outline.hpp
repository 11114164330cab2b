#pragma once
// From flat regions of a cloud to polygons whose sides are exact lines.

#include "xyz/cloud.hpp"

#include <vector>

namespace ridgeward::xyz {

struct Outlined {
  std::vector<importing::Polygon> polygons;
  std::size_t filled_holes = 0;
};

/// Outlines the regions. REQUIRES regions of roof, largest first.
/// 1. Planes whose directions differ by a few degrees from those of larger ones, or from square to
///    them, take their directions; what is nearly level is made level.
/// 2. Where points of two regions lie beside each other, the line in which their planes meet is a
///    side of both.
/// 3. Other borders are told from points that have no neighbours of their region on one side: lines
///    along and across the directions of the planes, as far out as the outermost points and their
///    density say. Level borders of nearly one height become one height (eaves), others in nearly
///    one line one line (rakes).
/// 4. All lines of a plane cut it into cells; cells hold where they have at least half as many
///    points as their area promises, with the shortest border where that is in doubt.
/// Holes in which no other region is seen are filled: chimneys, and what the scanner did not see.
Outlined outline(const std::vector<Point>& points, std::vector<Region> regions, double reach_m,
                 double least_area_m2);

}  // namespace ridgeward::xyz
