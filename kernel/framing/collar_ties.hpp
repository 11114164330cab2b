#pragma once
// Level ties between the rafters that meet at a ridge.

#include "framing/edge_members.hpp"

namespace ridgeward::framing {

/// Where the model asks for them, between commons that meet at a ridge with their sides together or
/// in one plane, cut off under the deck. Pairs are counted along the ridge; the first gets one.
/// Assumptions: those that can't stand (too high or too low), rafters without one opposite.
void add_collar_ties(const Building& building, Framing& framing);

}  // namespace ridgeward::framing
