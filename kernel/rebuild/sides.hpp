#pragma once
// The border of a group of faces as sides that could be drawn. Private to this folder.

#include "rebuild/faces.hpp"

#include <glm/vec2.hpp>

#include <optional>
#include <vector>

namespace ridgeward::rebuild {

/// An edge within this of square to its plane's fall is level enough for an eave.
inline constexpr double square_cosine = 0.996;  // 5 degrees

inline double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

/// A side of a group's border; the group lies on its left.
struct Border {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  std::size_t face = 0;
  bool is_joint = false;    ///< another face of the building joins here at one height
  bool is_covered = false;  ///< another face of the building lies higher here
};
using BorderLoop = std::vector<Border>;

/// Closed runs of sides that have no face of the group beyond; outer ones counter-clockwise.
std::vector<BorderLoop> borders_of(const Faces& all, const Group& group, double tolerance_m);
double area_of(const BorderLoop& loop);

/// How the plane beside an edge falls, seen from the edge.
enum class Fall { toward, away, across };
Fall fall_of(const Slope& slope, glm::dvec2 a, glm::dvec2 b);

/// A side of an outline: one or more of the border that go on in one line and are alike.
struct Side {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  Fall fall = Fall::across;
  std::size_t plane = 0;
  bool is_clipped = false;  ///< a gable whose top is clipped: an eave in the middle of it
  /// Of an eave that is hidden, whose plane may be one like `plane` only.
  std::optional<double> height_m = std::nullopt;
};
using SideLoop = std::vector<Side>;

inline double length_of(const Side& side) { return glm::distance(side.a, side.b); }
/// Its own, or that of the plane at the middle of the side.
double height_of(const Faces& all, const Side& side);

/// The outer loop `number` of `borders` as sides, then those of the holes within it.
std::vector<SideLoop> loops_of(const Faces& all, const std::vector<BorderLoop>& borders,
                               std::size_t number, double tolerance_m);

/// How an outline is closed where a group was cut off from others.
enum class Closing {
  as_cut,     ///< along the cut: standing edges
  hull,       ///< by the convex hull
  rectangle,  ///< by the rectangle around it, square to its longest eave
  beyond,     ///< the same, grown where no side of the border lies
  completed   ///< by eaves that are hidden (hidden.hpp)
};
/// REQUIRES hull, rectangle or beyond. Where other planes cut off all eaves (a cricket), the
/// rectangle is square to the fall of the plane with the longest border, and its sides that a plane
/// falls toward are eaves; empty where that plane is level.
SideLoop closed(const Faces& all, const SideLoop& sides, Closing closing, double tolerance_m);

}  // namespace ridgeward::rebuild
