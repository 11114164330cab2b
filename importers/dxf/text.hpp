#pragma once
// The text of a DXF file, before the library dxflib reads it: dxflib takes what is no number for 0
// or cuts it short, and finds nothing in what is no DXF.

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>

namespace ridgeward::dxf {

struct Text {
  bool is_whole = false;  ///< it ends with the mark EOF
  std::size_t lines = 0;
  std::string section;  ///< that it ends in; empty where in none
};

/// Reads the groups of a drawing. Refused, with line and group code, where a coordinate, a bulge,
/// an angle or a scale of what the importer reads, or the unit, is no number or lies beyond 1e9,
/// and where a group code is none; also what is no DXF as text, with a word on what it is instead.
/// The last line of a drawing that ends early may be cut and is not judged.
Text check_text(std::string_view bytes);

/// Hands over group by group, code and value without the blanks around it, to the mark EOF or to
/// where the drawing ends. REQUIRES a drawing that check_text takes.
void each_group(std::string_view bytes,
                const std::function<void(int code, std::string_view value)>& take);

}  // namespace ridgeward::dxf
