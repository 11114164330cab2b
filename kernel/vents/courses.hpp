#pragma once
// The courses of shingles and the ice barrier at an eave.

#include "model/roof_model.hpp"
#include "vents/vents.hpp"

namespace ridgeward::vents {

/// Rows counted from the eave: the butt of row k lies (k - 1) exposures up the slope from the edge
/// of the starter, which passes the drip edge. `wall_line_m` is up the slope from the drip edge.
/// REQUIRES an exposure above 0. Law: the wall line lies within the exposure of `wall_row`, its
/// lower end included.
Courses courses_at(const model::Roofing& roofing, double wall_line_m);

/// Whether the job asks for an ice barrier: said, or snow at the site, or climate zone 6 to 8.
bool has_ice_barrier(const model::RoofModel& model);

/// How far up the slope it reaches from the drip edge (IRC R905.1.2): 24 in inside the wall,
/// measured level from the face that the model names, and on a pitch of 8/12 or more at least 36 in
/// up the slope. `overhang_m` is level, from the drip edge to the outer face.
double ice_barrier_reach_m(const model::RoofModel& model, const model::Part& part,
                           units::Pitch pitch, double overhang_m);

}  // namespace ridgeward::vents
