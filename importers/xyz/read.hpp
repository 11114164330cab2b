#pragma once
// Points as text: one a line.

#include "support/planes.hpp"

#include <cstddef>
#include <string_view>
#include <vector>

namespace ridgeward::xyz {

using importing::Point;

inline constexpr std::size_t most_points = 10'000'000;

/// How the file's numbers become metres with z up.
struct Axes {
  double unit_m = 1.0;
  bool is_y_up = false;
};

struct Text {
  std::vector<Point> points;    ///< metres, z up
  std::size_t passed_over = 0;  ///< lines of words before the points
};

/// Reads lines of x, y, z and further columns, which are passed over; between them blanks, commas
/// or semicolons. Where semicolons part, commas are decimal points. A first line of words may name
/// the columns (x, y, z; easting, northing, height) in any order. Lines with # or // are comments.
/// A line of one whole number says how many points follow. Refused, with the line: what is no
/// number, NaN or farther than 100 000 km; fewer points than the file says; more than most_points.
Text read_text(std::string_view text, const Axes& axes);

/// Whether bytes begin like such a text: all whole lines of them, and at least one.
bool looks_like_points(std::string_view head);

}  // namespace ridgeward::xyz
