#pragma once
// From a group of faces to parts that could have been drawn. Private to this folder.

#include "model/roof_model.hpp"

#include "rebuild/faces.hpp"

#include <string>
#include <vector>

namespace ridgeward::rebuild {

/// A side of a group's border; the group lies on its left.
struct Border {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  std::size_t face = 0;
  bool is_joint = false;  ///< another face of the building joins here at one height
};
using BorderLoop = std::vector<Border>;

/// Closed runs of sides that have no face of the group beyond; outer ones counter-clockwise.
std::vector<BorderLoop> borders_of(const Faces& all, const Group& group, double tolerance_m);

/// How an outline is closed where a group was cut off from others.
enum class Closing {
  as_cut,     ///< along the cut: standing edges
  hull,       ///< by the convex hull
  rectangle,  ///< by the rectangle around it, square to its longest eave
  beyond      ///< the same, grown where no side of the border lies
};

/// What a group of faces may be as parts of a model, one for each outer loop; empty when no edge of
/// the outline could bear a plane. Outlines are drip lines, heights of plates those of the highest
/// eave, edges as the planes beside them fall.
std::vector<model::Part> parts_of(const Faces& all, const Group& group, Closing closing,
                                  double tolerance_m);

/// A group of one plane as a part that rises from its lowest edge, or, where that is not level,
/// from its lowest corner, cut off by a hand's width. Level planes are given a fall of 0.1 degree.
enum class Pieces {
  whole,  ///< one part
  convex  ///< a part for each convex piece: for outlines over which no plane can be raised
};
std::vector<model::Part> plain_parts_of(const Faces& all, const Group& group, Pieces pieces,
                                        double tolerance_m);

}  // namespace ridgeward::rebuild
