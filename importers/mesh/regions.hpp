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

/// Metres, z up. Either side may be the front.
struct Triangles {
  std::vector<Point> points;
  std::vector<std::array<std::uint32_t, 3>> corners;
  /// Where they come from single precision: the diagonal of the grid on which it lets corners lie.
  double step_m = 0.0;
};

/// Makes one point of those closer than `tolerance_m`, and drops triangles without area.
void weld(Triangles& mesh, double tolerance_m);

struct Flat {
  std::vector<importing::Polygon> up;  ///< regions that lie open to the sky
  double up_m2 = 0.0;
  double moved_m = 0.0;    ///< how far corners were moved to lie on their planes
  std::size_t hidden = 0;  ///< regions under others: undersides, floors, what is double
  double hidden_m2 = 0.0;
  std::size_t turned = 0;  ///< of `up`, those that faced down
  double turned_m2 = 0.0;
  std::size_t crumbs = 0;  ///< too small or too narrow for a plane
  double crumbs_m2 = 0.0;
  std::size_t strips = 0;  ///< cut edges of slabs
  double strips_m2 = 0.0;
  double carried_m = 0.0;       ///< how far tops were carried on over them
  double upright_m2 = 0.0;      ///< walls
  double upside_down_m2 = 0.0;  ///< undersides with no top that is parallel
};

/// 1. Grows regions from the largest triangles over shared sides as long as corners lie within
///    `tolerance_m` of the region's plane and normals within 3 degrees, of small triangles as far
///    as the tolerance turns them, at most 30; the plane is set to least squares and the region
///    grown again, until it grows no more.
/// 2. Moves corners onto all planes that they touch (three meet in a point, two in a line) where
///    that is nearer than three times the tolerance.
/// 3. Takes what has nothing above it, whichever side is its front; of what faces down more than
///    half must be open, as undersides may look out from beneath their tops.
/// 4. Leaves out the cut edges of slabs (mesh/slabs.hpp), and gives the borders of the rest.
/// REQUIRES a welded mesh.
Flat flat_regions(Triangles mesh, double tolerance_m);

/// What is looked for in a mesh, and what has been done to it.
struct Sought {
  std::optional<double> tolerance_m{};  ///< none: told from the mesh
  std::string id;                       ///< of the building
  std::optional<double> north_deg{};
  Point moved_by{0.0, 0.0, 0.0};  ///< what was taken from all corners beforehand
  bool may_be_measured = false;   ///< corners may be noisy
  bool is_all_roof = false;       ///< picked as roof by its name
  std::string other_up{};         ///< the axis that the option up may name instead; none without it
};

/// Welds, finds the planes that lie open to the sky, says how many and what was left out, and gives
/// them to the host as one building, moved back. Refused where there is none.
void give_planes(Triangles mesh, const Sought& sought, const importing::Host& host);

}  // namespace ridgeward::mesh
