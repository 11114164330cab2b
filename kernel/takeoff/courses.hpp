#pragma once
// Shingles laid on the planes, course by course and shingle by shingle.

#include "takeoff/takeoff.hpp"

namespace ridgeward::takeoff {

/// A shingle of the usual metric size, and how it is laid. Common practice, no source.
namespace shingle {
inline constexpr double length_m = 39.375 * units::inch_m;
inline constexpr double height_m = 13.25 * units::inch_m;
inline constexpr int nails_each = 4;
inline constexpr int cap_nails_each = 2;
/// Courses in a row start with a sixth of a shingle less each, and with a whole one again.
inline constexpr int steps = 6;
/// A left-over narrower than this is thrown away.
inline constexpr double least_left_over_m = 6 * units::inch_m;
}  // namespace shingle

/// Lays every plane but crickets. Courses start at the starter's edge (model::Roofing) and go up by
/// the exposure until nothing of the plane is left; each stretch of a course is laid from its left
/// end with the shingle that its row starts with, then whole ones, then what is missing. A piece is
/// as long as the plane is wide anywhere beneath the shingle's height. Obstacles that cut the deck
/// are laid around.
/// Left-overs are used again on the same plane, the narrowest that serves: what is cut off at a
/// left end has its left factory edge and serves at right ends, and the other way round; slanting
/// cuts are squared off first.
std::vector<ShingledPlane> lay_shingles(const model::RoofModel& model,
                                        const surface::Surface& surface);

}  // namespace ridgeward::takeoff
