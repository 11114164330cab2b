#pragma once
// Hips, valleys and ridge boards where an opening lies over them.

#include "framing/edge_members.hpp"

namespace ridgeward::framing {

/// Cuts them at the opening's rectangle and its headers: each piece between is a member of its own,
/// with `opening` set and the header that it ends at, if there is one on that side. Both ends of
/// such a board have to be carried; the conflict `broken_board` says so.
void break_boards(const Building& building, Framing& framing);

/// Boards flat on the deck of the earlier roof along the valleys of overlaid parts: the part's
/// valley stock, its edge along the valley, under the part's jacks. None under valley sets of
/// trusses.
void add_sleepers(const Building& building, Framing& framing);

}  // namespace ridgeward::framing
