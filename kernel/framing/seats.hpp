#pragma once
// What a member's ends and its bearing on the plate need: points, tail, birdsmouth.

#include "framing/framing.hpp"
#include "model/roof_model.hpp"

#include <string>
#include <vector>

namespace ridgeward::framing {

/// Where a member passes over the outer face of a wall.
struct OverPlate {
  double slope_rad = 0.0;     ///< of the member
  double tail_m = 0.0;        ///< from its foot, along it
  double deck_m = 0.0;        ///< height of the roof surface over the plate there, plumb
  double deck_plumb_m = 0.0;  ///< thickness of the deck, plumb
  double wall_thickness_m = 0.0;
};

/// Tail, overhang and birdsmouth. The plumb cut is what of the member's plumb depth lies below the
/// plate; the seat is that over the tangent of the slope, as wide as the wall at most. A member
/// whose top would not clear the plate gets none; one that passes over the plate tells how far.
void set_seat(Member& member, const OverPlate& plate);

/// Long and short point from the length and the side cuts of both ends.
void set_points(Member& member);

/// Depth of a birdsmouth square to the member's edge.
double notch_m(const Member& member);

/// What the birdsmouths of each part come to where they can't be cut as they are: deeper than a
/// quarter of the stock, or a roof so low that no rafter clears the plate.
std::vector<std::string> seat_notes(const model::RoofModel& model, const Framing& framing);

}  // namespace ridgeward::framing
