#pragma once
// Walls as a tape measured them, read from the lines of a table.

#include "units/length.hpp"

#include "support/importing.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::tape {

/// One wall as written.
struct Wall {
  std::size_t line = 0;
  double length_m = 0.0;
  double turn_rad = 0.0;  ///< to the left at its end
  std::string kind;
  std::string pitch;
  std::string overhang;

  /// "line 4, column overhang"
  std::string where(const char* column) const;
};

struct Part {
  std::string id;
  std::string plate;
  std::size_t plate_line = 0;
  double x_m = 0.0;  ///< where its first wall starts
  double y_m = 0.0;
  bool is_placed = false;  ///< x or y is given
  std::vector<Wall> walls;
};

struct Table {
  std::vector<Part> parts;
  std::vector<std::string> unknown;  ///< names of columns that are passed over
  std::vector<std::string> doubts;   ///< a sentence each
  bool has_bare = false;             ///< a length of a wall has no unit of its own
  bool is_metric = true;             ///< all of them have one, and it is metric
};

/// Reads CSV (RFC 4180; semicolons and tabs serve too) as spreadsheets leave it: ends of lines of
/// any kind, columns without a name and lines of nothing but empty cells. `unit` is that of numbers
/// without one. Throws importing::Refused, with line and column, for what can't be read, for walls
/// under 5 cm or over 1000 m, for a name that is nearly one of a column, and for more than 2000
/// walls.
Table read_table(std::string_view text, units::LengthUnit unit);

/// The length that a cell gives. Throws importing::Refused with `where`.
double length_in(const std::string& text, units::LengthUnit bare, const std::string& where);

}  // namespace ridgeward::tape
