#pragma once
// Growing flat regions over a triangle mesh. Private to this folder.

#include "mesh/regions.hpp"
#include "support/vectors.hpp"

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

namespace ridgeward::mesh {

using Triangle = std::array<std::uint32_t, 3>;
using Side = std::pair<std::uint32_t, std::uint32_t>;

/// Normal with the triangle's doubled area as length.
inline Point normal_of(const Triangles& mesh, const Triangle& t) {
  return importing::cross(importing::minus(mesh.points[t[1]], mesh.points[t[0]]),
                          importing::minus(mesh.points[t[2]], mesh.points[t[0]]));
}

struct Region {
  Point normal{0.0, 0.0, 1.0};
  double offset = 0.0;
  double area_m2 = 0.0;
  std::vector<std::size_t> triangles;
};

inline double off(const Region& region, const Point& p) {
  return importing::dot(region.normal, p) - region.offset;
}

/// Regions from the largest triangle on, over shared sides. REQUIRES a welded mesh.
std::vector<Region> grow(const Triangles& mesh, double tolerance_m);

/// The nearest point to p on one to three planes; none where they don't meet in one place.
std::optional<Point> onto(const std::vector<const Region*>& planes, const Point& p);

/// Moves corners onto their planes, the largest ones first. Returns the longest move.
double make_exact(Triangles& mesh, const std::vector<Region>& regions, double tolerance_m);

}  // namespace ridgeward::mesh
