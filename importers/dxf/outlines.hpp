#pragma once
// Which of the closed outlines of a plan become roofs, and which courtyards.

#include "dxf/in_space.hpp"

#include <string>

namespace ridgeward::dxf {

/// How many outlines one plan may have.
constexpr std::size_t most_outlines = 500;

/// Keeps the outlines that count: those in an even number of others bear roofs, the others are
/// courtyards. They are those on the wanted layers, but of both faces of the same walls (0.05 to
/// 0.6 m apart all round) the one towards the weather, of outlines drawn twice one, and rooms none:
/// an outline inside another is a room where it lies on another layer, or where it or one beside it
/// runs along the outer one within 0.6 m, unless the option layer named it. What is left out, and
/// each courtyard with its place, is told. Returns what the outlines are drawn to, "wall" or
/// "drip". Refused where nothing is left, or more than 500, or an outline crosses itself.
std::string pick(Drawing& drawing, const Unit& unit, const Options& options,
                 const importing::Host& host);

}  // namespace ridgeward::dxf
