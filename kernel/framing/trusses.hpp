#pragma once
// Names the top chords of trusses, puts them together to trusses and lays the level tops of hip
// ends.
//
// A hip end is a step-down set. From the end wall inwards: short jacks from the side walls to the
// hip, up to the girder, the last station no more than 8 ft from the outer face of the end wall
// (common practice, no source); then step-down trusses with level tops that rise with the hip; then
// commons that reach the ridge. End jacks stand square to the end wall; their top chords run on
// over the level tops to the hip, so the tops lie lower by the jacks' plumb depth. The hip is a
// rafter of the part's hip stock from corner to ridge.

#include "framing/edge_members.hpp"

namespace ridgeward::framing {

/// Renames the rafters of truss parts by the truss that they are the top chord of, fills
/// Framing::trusses and adds the level tops.
/// Where a truss part meets another roof in a valley, the chords of the later part, or of the
/// shorter ridges of one part, are a valley set on the other roof, whose trusses run on beneath.
/// REQUIRES the rafters of all planes in `framing`.
void add_trusses(const Building& building, Framing& framing);

}  // namespace ridgeward::framing
