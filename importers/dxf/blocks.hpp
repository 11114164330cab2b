#pragma once
// What a drawing is put together from: pieces, and references to blocks of pieces.

#include "dxf/drawing.hpp"
#include "support/importing.hpp"
#include "support/planes.hpp"

#include <map>
#include <set>
#include <string>
#include <vector>

namespace ridgeward::dxf {

/// Whether a piece is to be seen in the model, as far as it says so itself.
enum class Seen { shown, invisible, on_sheet };

/// Names of layers, in small letters.
struct Layers {
  std::set<std::string> off;
  std::set<std::string> frozen;

  bool hides(const std::string& layer) const {
    const std::string name = importing::small(layer);
    return off.contains(name) || frozen.contains(name);
  }
};

/// A line, an open or closed polyline, or a face.
struct Piece {
  std::string layer;
  std::vector<importing::Point> corners;
  bool is_closed = false;
  bool is_face = false;
  double sagitta = 0.0;  ///< the largest distance from an arc to the chords it is taken as
  Seen seen = Seen::shown;
};

/// Where a block stands: turned, scaled, moved, several times in rows and columns.
struct Reference {
  std::string block;
  std::string layer;
  importing::Point at{0.0, 0.0, 0.0};
  importing::Point scale{1.0, 1.0, 1.0};
  double turn_rad = 0.0;
  int columns = 1;
  int rows = 1;
  double column_gap = 0.0;
  double row_gap = 0.0;
  bool is_mirrored = false;  ///< seen from below: its extrusion points down
  Seen seen = Seen::shown;
};

struct Block {
  importing::Point base{0.0, 0.0, 0.0};
  std::vector<Piece> pieces;
  std::vector<Reference> references;
  std::map<std::string, std::size_t> unread;  ///< things that are passed over, "circle on WALL"
};

/// By name in small letters.
using Blocks = std::map<std::string, Block>;

/// Throws importing::Refused where a coordinate is farther than 1e9 from 0, 0.
void check_place(const importing::Point& p);

/// The corners of an arc after `from`, `to` being the last, so that each chord takes 15 degrees or
/// less; `bulge` is the tangent of a quarter of its angle, positive counter-clockwise. `sagitta`
/// grows to what the chords are off.
std::vector<importing::Point> flattened(const importing::Point& from, const importing::Point& to,
                                        double bulge, double& sagitta);

/// Files the pieces of the model space and of all blocks that it refers to, however nested; what
/// lies on layer 0 of a block lies on the layer of its reference. Each reference of the model space
/// is an instance, for outlines are made of lines of one. What is not to be seen is counted in
/// Drawing::left; a reference on a frozen layer hides all its block. Throws importing::Refused for
/// more than 100 000 corners or 20 000 references, or blocks nested more than 16 deep.
void place_all(const Block& model, const Blocks& blocks, const Layers& layers, Drawing& drawing);

}  // namespace ridgeward::dxf
