#pragma once
// Eaves that lie beneath other roofs, told from those that are seen. Private to this folder.

#include "rebuild/sides.hpp"

#include <vector>

namespace ridgeward::rebuild {

/// Outlines that the faces of `group` may have had before other roofs hid a part of them, the
/// likeliest first; empty for a single plane and for more than sixteen. All take the roof as convex
/// in plan: it lies within the eave lines of its planes and the rakes that are seen. A plane whose
/// eave is hidden has it at the height of the longest eave that is seen; where none is, a little
/// beneath the lowest corner. Where that leaves the outline open, it is closed by standing edges a
/// little beyond the farthest corner.
/// (1) With the planes of the group and no others.
/// (2) Turned: planes of one pitch that meet in one point at multiples of one angle (a turret) have
///     all their fellows around that point.
/// (3) Mirrored: about the upright plane in which two planes of one pitch meet, unless a plane that
///     is seen contradicts it.
/// Whether one is right is for the caller to measure.
std::vector<SideLoop> completions_of(const Faces& all, const Group& group, double tolerance_m);

}  // namespace ridgeward::rebuild
