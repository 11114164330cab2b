#pragma once
// Figures of the over-deck intake that no catalogue entry states: common practice, no source. The
// slot's own lines, width and hold-backs come from the catalogue, the courses from the model.

#include "units/length.hpp"

namespace ridgeward::vents::practice {

using units::inch_m;

/// Sections are set this far over the eave edge so that air enters from below.
inline constexpr double over_edge_m = 1 * inch_m;
/// A strip of underlayment along the eave under the vent, at least.
inline constexpr double underlayment_strip_m = 18 * inch_m;
/// Wider ones are cut from a whole roll.
inline constexpr double underlayment_roll_m = 36 * inch_m;
/// Underlayment over a vent goes on at least this far above it, and at an end on the open deck this
/// far past it.
inline constexpr double cover_beyond_m = 4 * inch_m;
inline constexpr double cover_past_end_m = 6 * inch_m;
/// Under flatter slopes than this in 12 underlayment lies double (IRC R905.2.2).
inline constexpr double single_underlayment_in_12 = 4.0;
/// Nails of the roofing go this far into the deck, or through one that is thinner (IRC R905.2.5,
/// from memory).
inline constexpr double nail_into_deck_m = 0.75 * inch_m;
/// Vertical leg of the rake metal over the ends of the vent, at least.
inline constexpr double rake_metal_leg_m = 1.25 * inch_m;
/// Upslope: rake metal goes on this far beyond the second course of underlayment.
inline constexpr double rake_metal_beyond_m = 24 * inch_m;
/// Upslope: line of the face nails above the butt of the face-nailed row.
inline constexpr double face_nails_m = 4.5 * inch_m;
/// Upslope: four more nails a shingle, this far below its top.
inline constexpr double top_nails_below_m = 1 * inch_m;
inline constexpr int top_nails_each = 4;
/// Nails through the vent into the deck.
inline constexpr double nail_length_m = 3 * inch_m;
/// Least clear space over the insulation at the slot (also IRC R806.3).
inline constexpr double over_insulation_m = 1 * inch_m;
/// An ice barrier reaches at least this far inside the wall, level (IRC R905.1.2), and from a pitch
/// of 8/12 on at least the second figure up the slope from the eave.
inline constexpr double ice_barrier_inside_m = 24 * inch_m;
inline constexpr double ice_barrier_slope_m = 36 * inch_m;

}  // namespace ridgeward::vents::practice
