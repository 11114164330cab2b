#pragma once
// What a DXF plan holds: closed outlines and single lines, by layer.

#include "dxf/text.hpp"
#include "support/crossing.hpp"

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::dxf {

constexpr std::size_t most_corners = 100000;

using Position = std::array<double, 2>;

/// A closed run of corners, in plan; the first is not repeated.
struct Outline {
  std::string layer;
  std::vector<Position> corners;
  std::vector<double> heights{};  ///< of the corners; none: all at one
  double sagitta = 0.0;           ///< the largest distance from an arc to its chords
  std::size_t instance = 0;       ///< of the block it stands in, in Drawing::instances

  /// Whether it was drawn in space: its corners lie at different heights.
  bool is_in_space() const;
};

struct Stroke {
  std::string layer;
  Position from{0.0, 0.0};
  Position to{0.0, 0.0};
  double sagitta = 0.0;
  std::size_t instance = 0;
};

/// Lines that join end to end but don't come round.
struct OpenChain {
  std::string layer;
  Position from{0.0, 0.0};
  Position to{0.0, 0.0};
  std::size_t lines = 0;
  double length = 0.0;
};

/// A line of a roof in space, as plans that were drawn from a model carry them.
struct RoofLine {
  enum class Kind { eave, rake, fold, border, edge };
  Kind kind = Kind::border;  ///< fold: a ridge, hip, valley or break; edge: of an outline in plan
  std::array<double, 3> from{0.0, 0.0, 0.0};
  std::array<double, 3> to{0.0, 0.0, 0.0};

  /// Whether a plane lies on either side.
  bool bears_two() const { return kind == Kind::fold; }
};

/// A flat piece drawn as such: three corners or four.
struct Face {
  std::string layer;
  std::vector<std::array<double, 3>> corners;
};

struct Drawing {
  std::vector<Outline> outlines;
  std::vector<Stroke> strokes;  ///< lines, and the sides of open polylines
  std::vector<RoofLine> roof;   ///< on layers named by the words of the trade, but of elevations
  std::vector<Face> faces;      ///< 3DFACE, and of meshes drawn as POLYLINE
  int unit_code = 0;            ///< $INSUNITS; 0: none said
  /// Names of the blocks that the model space refers to, each time; the first is itself.
  std::vector<std::string> instances;
  std::map<std::string, std::size_t> placed;   ///< block references by name
  std::map<std::string, std::size_t> missing;  ///< those whose block is not in the file
  std::map<std::string, std::size_t> unread;   ///< things passed over: "circle on WALL"
  /// What is not to be seen in the model, by layer: "on layers that are off".
  std::map<std::string, std::map<std::string, std::size_t>> left;
  std::map<std::string, std::size_t> doubles;  ///< strokes that were drawn twice, by layer
  std::vector<OpenChain> open;                 ///< of the strokes
  std::size_t joins = 0;     ///< corners of outlines where ends were joined that lay apart
  double widest_join = 0.0;  ///< the widest of these
  Text text;                 ///< how the file ends
};

/// What a layer's name says of the lines on it: its last word after a dash, or all of it, as the
/// program's own drawings name them ("RIDGE", "A-ROOF-RIDGE"); none where it is no line of a roof.
std::optional<RoofLine::Kind> roof_kind(const std::string& layer);

/// Whether the layer has `word` in its name, in capitals or not.
bool has(const std::string& layer, const std::string& word);

/// The words for walls, and for roofs, that are in the layer's name: English, German, French and
/// Spanish (words of the trade, no source). Short ones count at the start of a word only.
std::vector<std::string> words_of_walls(const std::string& layer);
std::vector<std::string> words_of_roofs(const std::string& layer);

/// Whether lines on the layer mark gables.
bool is_for_gables(const std::string& layer);

/// Whether what is on the layer is seen from the side: no part of the plan.
bool is_elevation(const std::string& layer);

/// Reads the entities of the model space and of the blocks that stand in it; of a file that ends
/// early those that are whole. Throws importing::Refused for more than 100 000 corners, and as
/// check_text does.
Drawing read_drawing(std::string_view bytes);

/// "WALL-INT (2), ROOF (1)": names with how often each is there, eight at most.
std::string named(const std::map<std::string, std::size_t>& counts);

/// Throws importing::Refused, with layer and place, for an outline that meets itself other than at
/// the corner between neighbours, or turns back on itself; of more than 5000 corners none is
/// judged.
void check_outline(const Outline& outline);

/// "12.5, -3": a place of the drawing, in its own coordinates.
std::string place_words(const Position& p);

/// Positive for counter-clockwise.
double twice_area(const std::vector<Position>& loop);
using importing::contains;

}  // namespace ridgeward::dxf
