#pragma once
// What a DXF plan holds: closed outlines and single lines, by layer.

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::dxf {

using Position = std::array<double, 2>;

/// A closed run of corners; the first is not repeated.
struct Outline {
  std::string layer;
  std::vector<Position> corners;
  bool has_arcs = false;  ///< taken as straight
};

struct Stroke {
  std::string layer;
  Position from{0.0, 0.0};
  Position to{0.0, 0.0};
};

/// A line of a roof in space, as plans that were drawn from a model carry them.
struct RoofLine {
  bool is_eave = false;
  bool is_rake = false;
  std::array<double, 3> from{0.0, 0.0, 0.0};
  std::array<double, 3> to{0.0, 0.0, 0.0};
};

struct Drawing {
  std::vector<Outline> outlines;
  std::vector<Stroke> strokes;  ///< lines, and the sides of open polylines
  std::vector<RoofLine> roof;   ///< on layers named eave, rake, hip or valley, but of elevations
  int unit_code = 0;            ///< $INSUNITS; 0: none said
  std::size_t passed_over = 0;  ///< entities in blocks
};

/// Reads the entities of the model space. Throws importing::Refused for more than 100 000 corners.
Drawing read_drawing(std::string_view bytes);

/// Makes outlines of strokes of one layer that join end to end within a ten-thousandth of the
/// longest; what is left stays a stroke. Cost: the square of their number.
void close_strokes(Drawing& drawing);

/// Positive for counter-clockwise.
double twice_area(const std::vector<Position>& loop);
bool contains(const std::vector<Position>& loop, const Position& p);

}  // namespace ridgeward::dxf
