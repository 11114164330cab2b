#pragma once
// From a group of faces to parts that could have been drawn. Private to this folder.

#include "model/roof_model.hpp"

#include "rebuild/sides.hpp"

#include <string>
#include <vector>

namespace ridgeward::rebuild {

/// What a group of faces may be as parts of a model, one for each outer loop; empty when no edge of
/// the outline could bear a plane. Outlines are drip lines, heights of plates those of the highest
/// eave, edges as the planes beside them fall. REQUIRES a closing other than completed.
std::vector<model::Part> parts_of(const Faces& all, const Group& group, Closing closing,
                                  double tolerance_m);

/// The same by each of the outlines that hidden eaves may have left (hidden.hpp).
std::vector<std::vector<model::Part>> completed_parts_of(const Faces& all, const Group& group,
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
