#pragma once
// The pieces of reading a model file, one function an object. Private to this folder.
// Each takes the cursor of its value and fills in the model; faults go to the cursor's reading.

#include "model/json_cursor.hpp"
#include "model/roof_model.hpp"

#include <set>
#include <string>

namespace ridgeward::model {

/// Keeps `target` where nothing was given. Whether something was.
template <class T, class U>
bool take(T& target, std::optional<U> given) {
  if (given) {
    target = std::move(*given);
  }
  return given.has_value();
}

/// Ids that were met so far; id.twice for one met again.
class Ids {
 public:
  /// The id at `cursor`, or `otherwise` where none is given.
  std::string read(const Cursor& cursor, const std::string& otherwise);

 private:
  std::set<std::string> met_;
};

/// version.missing, version.unknown unless the value is 1.
void read_version(const Cursor& cursor);
/// "ft", "in", "m" or "mm".
std::optional<units::LengthUnit> read_unit(const Cursor& cursor);

/// [x, y] in metres.
std::optional<glm::dvec2> read_point(const Cursor& cursor);
/// A list of corners; empty after any fault. outline.too_many over most_corners.
std::vector<glm::dvec2> read_corners(const Cursor& cursor);
/// Corners of a simple loop, turned counter-clockwise where they are not: for outlines that carry
/// no edges. Empty after any fault.
std::vector<glm::dvec2> read_loop(const Cursor& cursor);

void read_parts(const Cursor& list, RoofModel& model);
void read_framing(Cursor cursor, Part& part, std::vector<std::string>& assumptions);
void read_site(Cursor cursor, RoofModel& model);
void read_roofing(Cursor cursor, RoofModel& model);
void read_ceilings(const Cursor& list, RoofModel& model);
void read_dividers(const Cursor& list, RoofModel& model);
void read_obstacles(const Cursor& list, RoofModel& model);
void read_vents(Cursor cursor, RoofModel& model);
void read_prices(const Cursor& cursor, RoofModel& model);
void read_air(Cursor cursor, RoofModel& model);

/// name.unknown unless `plane` ("main/2", "main/2:b") is built on an edge of a part.
void check_plane_name(const Cursor& cursor, const std::string& plane, const RoofModel& model);
/// The same for both planes of a line ("main/0|main/2#2").
void check_line_name(const Cursor& cursor, const std::string& line, const RoofModel& model);

}  // namespace ridgeward::model
