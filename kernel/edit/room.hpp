#pragma once
// Where along an edge there is room for another part; private to the folder.

#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <optional>
#include <vector>

namespace ridgeward::edit {

/// Of an edge, measured from its left end seen from outside.
struct Stretch {
  double from_m = 0.0;
  double to_m = 0.0;
  double length_m() const { return to_m - from_m; }
};

/// An edge of the outline of `model.parts[part]`.
struct EdgePlace {
  std::size_t part = 0;
  std::size_t edge = 0;
};

/// Stretches along the edge over which a band of the plan, from `near_m` to `far_m` in from the
/// wall, lies within a roof plane that rises from this edge: free of hips, valleys, rakes and of
/// other parts on the plane. In order. REQUIRES near_m < far_m and `surface` of `model`.
std::vector<Stretch> free_on_roof(const model::RoofModel& model, const surface::Surface& surface,
                                  EdgePlace place, double near_m, double far_m);
/// Stretches along the edge before which no other part stands within `out_m` of the wall.
std::vector<Stretch> free_outside(const model::RoofModel& model, EdgePlace place, double out_m);
/// What two lists in order have in common, in order.
std::vector<Stretch> common(const std::vector<Stretch>& one, const std::vector<Stretch>& other);

/// The middle of a place for something `wide_m` wide: the middle of the edge where there is room,
/// else that of the widest stretch, if it leaves `beside_m` on both sides. None: nowhere.
std::optional<double> place_in(const std::vector<Stretch>& free, double edge_m, double wide_m,
                               double beside_m);
/// The longest; of length 0 where there is none.
Stretch widest(const std::vector<Stretch>& free);

}  // namespace ridgeward::edit
