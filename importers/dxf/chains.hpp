#pragma once
// Outlines of lines that join end to end.

#include "dxf/drawing.hpp"

namespace ridgeward::dxf {

/// Makes outlines of strokes of one layer and block that join end to end, within a ten-thousandth
/// of the longest of them: of straight ones first, then with arcs, then of what is left within 5
/// ten-thousandths, which is counted (Drawing::joins). What is left stays a stroke, and the chains
/// that it makes are filed as open. Cost: the square of their number.
void close_strokes(Drawing& drawing);

/// Of the open chains on layers with `word` in their name the longest: where its ends lie and how
/// far apart, in the drawing's coordinates. Empty where none has three lines and an opening shorter
/// than half of it.
std::string nearly_closed(const Drawing& drawing, const std::string& word);

}  // namespace ridgeward::dxf
