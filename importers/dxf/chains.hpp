#pragma once
// Outlines of lines that join end to end.

#include "dxf/drawing.hpp"

#include <functional>
#include <string>

namespace ridgeward::dxf {

/// Whether a layer counts.
using Takes = std::function<bool(const std::string& layer)>;

/// Makes outlines of strokes of one layer and block that join end to end, within a ten-thousandth
/// of the longest of them: of straight ones first, then with arcs, then of what is left within 5
/// ten-thousandths, which is counted (Drawing::joins). What is left stays a stroke, and the chains
/// that it makes are filed as open. A stroke that
/// was drawn before counts once (Drawing::doubles). Cost: the square of their number.
void close_strokes(Drawing& drawing);

/// Of the open chains on layers that count the longest: where its ends lie and how
/// far apart, in the drawing's coordinates. Empty where none has three lines and an opening shorter
/// than half of it.
std::string nearly_closed(const Drawing& drawing, const Takes& takes);

/// Of the layer that counts with the most lines: how many there are, and of the ends at which no
/// other line ends the two that lie nearest to each other. Empty where it has not three lines, or
/// more than 4000, or those two lie farther apart than half its longest line.
std::string loose_ends(const Drawing& drawing, const Takes& takes);

}  // namespace ridgeward::dxf
