#pragma once
// Flat regions of a triangle mesh.

#include "support/planes.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace ridgeward::mesh {

using importing::Point;

/// Triangles anticlockwise seen from outside. Metres, z up.
struct Triangles {
  std::vector<Point> points;
  std::vector<std::array<std::uint32_t, 3>> corners;
};

/// Makes one point of those closer than `tolerance_m`, and drops triangles without area.
void weld(Triangles& mesh, double tolerance_m);

struct Flat {
  std::vector<importing::Polygon> up;  ///< regions that face up and lie open to the sky
  std::size_t hidden = 0;              ///< regions that face up under others
  double moved_m = 0.0;                ///< how far corners were moved to lie on their planes
};

/// Grows regions from the largest triangles over shared sides as long as corners lie within
/// `tolerance_m` of the region's plane and normals within 3 degrees; sets each plane to the middle
/// of its triangles; moves corners onto all planes that they touch (three meet in a point, two in a
/// line) where that is nearer than three times the tolerance; and gives the borders of what faces
/// up. REQUIRES a welded mesh.
Flat flat_regions(Triangles mesh, double tolerance_m);

/// What is looked for in a mesh, and what has been done to it.
struct Sought {
  double tolerance_m = 0.01;
  std::string id;  ///< of the building
  std::optional<double> north_deg{};
  Point moved_by{0.0, 0.0, 0.0};  ///< what was taken from all corners beforehand
  bool is_single = false;         ///< corners went through single precision
};

/// Welds, finds the planes that face up, says how many, and gives them to the host as one building,
/// moved back. Refused where none faces up.
void give_planes(Triangles mesh, const Sought& sought, const importing::Host& host);

}  // namespace ridgeward::mesh
