#include "dxf/blocks.hpp"
#include "dxf/drawing.hpp"
#include "dxf/text.hpp"
#include "support/importing.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>
#include <map>
#include <numbers>
#include <optional>
#include <sstream>
#include <utility>

namespace ridgeward::dxf {

namespace {

/// Hears what dxflib reads.
class Listener : public DL_CreationAdapter {
 public:
  Block model;
  Blocks blocks;
  Layers layers;
  int unit_code = 0;

  /// Each group before dxflib takes it, for what it does not tell. It hands an entity over when it
  /// takes the first group of the next one.
  void group(int code, const std::string& value) {
    switch (code) {
      case 0:
        end_of(coming_);
        drawn_ = std::exchange(coming_, Entity{value});
        break;
      case 2:
        coming_.name = value;
        break;
      case 8:
        coming_.layer = value;
        break;
      case 60:
        coming_.is_invisible = whole_number(value) == 1;
        break;
      case 62:
        coming_.colour = whole_number(value);
        break;
      case 67:
        coming_.is_on_sheet = whole_number(value) == 1;
        break;
      case 70:
        coming_.flags = static_cast<unsigned>(whole_number(value));
        break;
      case 71:
      case 72:
      case 73:
      case 74:
        coming_.corners.at(static_cast<std::size_t>(code) - 71) = whole_number(value);
        break;
      default:
        break;
    }
  }

  void setVariableInt(const std::string& key, int value, int /*code*/) override {
    if (key == "$INSUNITS") {
      unit_code = value;
    }
  }
  void addBlock(const DL_BlockData& data) override {
    const std::string name = importing::small(data.name);
    is_sheet_ = name.starts_with("*paper");
    if (is_sheet_ || name.starts_with("*model")) {
      into_ = &model;
      return;
    }
    into_ = &blocks[name];
    *into_ = Block{{data.bpx, data.bpy, data.bpz}, {}, {}, {}};
  }
  void endBlock() override {
    into_ = &model;
    is_sheet_ = false;
  }

  void addInsert(const DL_InsertData& data) override {
    into_->references.push_back({data.name,
                                 layer(),
                                 {data.ipx, data.ipy, data.ipz},
                                 {data.sx, data.sy, data.sz},
                                 radians(data.angle),
                                 data.cols,
                                 data.rows,
                                 data.colSp,
                                 data.rowSp,
                                 is_from_below(),
                                 seen()});
  }
  void addLine(const DL_LineData& data) override {
    add({layer(), {{data.x1, data.y1, data.z1}, {data.x2, data.y2, data.z2}}});
  }
  void addArc(const DL_ArcData& data) override {
    double span = std::fmod(data.angle2 - data.angle1, 360.0);
    span = radians(span > 0.0 ? span : span + 360.0);
    const auto at = [&](double angle) {
      return importing::Point{data.cx + data.radius * std::cos(angle),
                              data.cy + data.radius * std::sin(angle), data.cz};
    };
    // In two halves, so that a whole circle has chords too.
    const double start = radians(data.angle1);
    const double bulge = std::tan(span / 8.0);
    Piece piece{layer(), {at(start)}};
    for (const double share : {0.5, 1.0}) {
      const importing::Point from = piece.corners.back();
      append(piece, flattened(from, at(start + share * span), bulge, piece.sagitta));
    }
    add(seen_from_above(std::move(piece)));
  }
  void addCircle(const DL_CircleData& /*data*/) override { pass_over("circle", layer()); }
  void addEllipse(const DL_EllipseData& /*data*/) override { pass_over("ellipse", layer()); }
  void addSpline(const DL_SplineData& /*data*/) override { pass_over("spline", layer()); }

  void add3dFace(const DL_3dFaceData& data) override {
    Piece face{layer(), {}};
    face.is_face = true;
    for (int i = 0; i < 4; ++i) {
      const importing::Point corner{data.x[i], data.y[i], data.z[i]};
      if (std::find(face.corners.begin(), face.corners.end(), corner) == face.corners.end()) {
        face.corners.push_back(corner);
      }
    }
    if (face.corners.size() > 2) {
      add(std::move(face));
    }
  }
  void addPolyline(const DL_PolylineData& data) override {
    finish();
    open_ = Piece{layer(), {}};
    open_->seen = seen();
    bulges_.clear();
    elevation_ = data.elevation;
    const auto flags = static_cast<unsigned>(data.flags);
    open_->is_closed = (flags & 1U) != 0;
    constexpr unsigned in_space = 8;
    constexpr unsigned grid = 16;
    constexpr unsigned faces = 64;
    if ((flags & (grid | faces)) != 0) {
      mesh_ = Mesh{flags, {data.m, data.n}, {}};
    }
    is_open_mirrored_ = is_from_below() && (flags & in_space) == 0;
  }
  void addVertex(const DL_VertexData& data) override {
    constexpr unsigned frame = 16;  // of a spline, beside the corners that it was made of
    const bool is_frame = drawn_.type == "VERTEX" && (drawn_.flags & frame) != 0;
    if (open_ && !is_frame) {
      count(1);
      open_->corners.push_back({data.x, data.y, data.z != 0.0 ? data.z : elevation_});
      bulges_.push_back(data.bulge);
    }
  }
  void endEntity() override { finish(); }
  void endSequence() override { finish(); }

  /// Files the polyline that is open.
  void finish() {
    if (!open_) {
      return;
    }
    const Piece drawn = std::move(*open_);
    open_.reset();
    if (mesh_) {
      add_faces(*std::exchange(mesh_, std::nullopt), drawn);
      return;
    }
    Piece piece{drawn.layer, {}, drawn.is_closed};
    piece.seen = drawn.seen;
    for (std::size_t i = 0; i < drawn.corners.size(); ++i) {
      const importing::Point& from = drawn.corners[i];
      const importing::Point& to = drawn.corners[(i + 1) % drawn.corners.size()];
      piece.corners.push_back(from);
      const bool has_side = drawn.is_closed || i + 1 < drawn.corners.size();
      if (has_side && std::abs(bulges_[i]) > 1e-6) {
        append(piece, flattened(from, to, bulges_[i], piece.sagitta));
        piece.corners.pop_back();
      }
    }
    keep(is_open_mirrored_ ? mirrored(std::move(piece)) : std::move(piece));
  }

 private:
  /// What the groups of an entity say.
  struct Entity {
    std::string type;
    std::string layer = "0";
    std::string name{};
    bool is_invisible = false;
    bool is_on_sheet = false;
    unsigned flags = 0;
    int colour = 0;
    std::array<int, 4> corners{};  ///< of a face of a mesh, from 1; negative: its side is not drawn
  };
  /// A POLYLINE that is no line but many faces.
  struct Mesh {
    unsigned flags = 0;
    std::array<std::size_t, 2> size{};  ///< of a grid: its rows, and the corners of each
    std::vector<std::array<int, 4>> faces;
  };

  static int whole_number(const std::string& text) {
    int number = 0;
    const std::size_t first = std::min(text.find_first_not_of(" \t"), text.size());
    std::from_chars(text.data() + first, text.data() + text.size(), number);
    return number;
  }
  static double radians(double degrees) { return degrees * std::numbers::pi / 180.0; }
  std::string layer() { return attributes.getLayer(); }
  /// Whether the entity's own coordinates are those of someone who looks up at it.
  bool is_from_below() {
    const double* way = getExtrusion()->getDirection();
    return std::hypot(way[0], way[1]) < 1e-6 && way[2] < 0.0;
  }
  static Piece mirrored(Piece piece) {
    for (importing::Point& p : piece.corners) {
      p = {-p[0], p[1], -p[2]};
    }
    return piece;
  }
  Piece seen_from_above(Piece piece) {
    return is_from_below() ? mirrored(std::move(piece)) : std::move(piece);
  }
  static void append(Piece& piece, const std::vector<importing::Point>& corners) {
    piece.corners.insert(piece.corners.end(), corners.begin(), corners.end());
  }
  Seen seen() const {
    if (is_sheet_ || drawn_.is_on_sheet) {
      return Seen::on_sheet;
    }
    return drawn_.is_invisible ? Seen::invisible : Seen::shown;
  }
  /// An entity is whole: takes what dxflib does not tell of it.
  void end_of(const Entity& entity) {
    static const std::map<std::string, const char*> unread{
        {"MESH", "mesh (MESH)"},   {"HATCH", "hatch"}, {"REGION", "region"},
        {"3DSOLID", "solid body"}, {"BODY", "body"},   {"SURFACE", "surface"},
        {"MLINE", "multiple line"}};
    constexpr unsigned is_frozen = 1;
    constexpr unsigned is_corner = 64;
    constexpr unsigned is_of_faces = 128;
    if (entity.type == "LAYER") {
      const std::string name = importing::small(entity.name);
      if (entity.colour < 0) {
        layers.off.insert(name);
      }
      if ((entity.flags & is_frozen) != 0) {
        layers.frozen.insert(name);
      }
    } else if (entity.type == "VERTEX" && mesh_ && (entity.flags & is_of_faces) != 0 &&
               (entity.flags & is_corner) == 0) {
      count(entity.corners.size());
      mesh_->faces.push_back(entity.corners);
    } else if (const auto at = unread.find(entity.type);
               at != unread.end() && !entity.is_invisible && !entity.is_on_sheet && !is_sheet_) {
      pass_over(at->second, entity.layer);
    }
  }
  void pass_over(const char* what, const std::string& layer) {
    if (!is_elevation(layer) && !layers.hides(layer)) {
      ++into_->unread[std::string(what) + " on " + layer];
    }
  }
  /// The faces of a mesh, as if each were drawn by itself.
  void add_faces(const Mesh& mesh, const Piece& drawn) {
    constexpr unsigned smoothed = 4;
    constexpr unsigned grid = 16;
    if ((mesh.flags & grid) == 0) {
      for (const std::array<int, 4>& face : mesh.faces) {
        add_face(face, drawn);
      }
      return;
    }
    const auto [rows, columns] = mesh.size;
    if ((mesh.flags & smoothed) != 0 || rows * columns != drawn.corners.size()) {
      pass_over("smoothed or incomplete mesh", drawn.layer);
      return;
    }
    constexpr unsigned rows_come_round = 1;
    constexpr unsigned columns_come_round = 32;
    const std::size_t last_row = rows - ((mesh.flags & rows_come_round) != 0 ? 0 : 1);
    const std::size_t last_column = columns - ((mesh.flags & columns_come_round) != 0 ? 0 : 1);
    for (std::size_t i = 0; i < last_row && rows > 1; ++i) {
      for (std::size_t k = 0; k < last_column && columns > 1; ++k) {
        const auto number = [n = columns, m = rows](std::size_t row, std::size_t column) {
          return static_cast<int>((row % m) * n + column % n + 1);
        };
        add_face({number(i, k), number(i + 1, k), number(i + 1, k + 1), number(i, k + 1)}, drawn);
      }
    }
  }
  void add_face(const std::array<int, 4>& numbers, const Piece& drawn) {
    Piece face{drawn.layer, {}};
    face.is_face = true;
    face.seen = drawn.seen;
    for (const int number : numbers) {
      const auto i = static_cast<std::size_t>(std::abs(static_cast<long long>(number)));
      if (i == 0 || i > drawn.corners.size()) {
        continue;  // 0: a face of three corners
      }
      const importing::Point& corner = drawn.corners[i - 1];
      if (std::find(face.corners.begin(), face.corners.end(), corner) == face.corners.end()) {
        face.corners.push_back(corner);
      }
    }
    if (face.corners.size() > 2) {
      keep(std::move(face));
    }
  }
  void add(Piece piece) {
    piece.seen = seen();
    keep(std::move(piece));
  }
  void keep(Piece piece) {
    count(piece.corners.size());
    for (const importing::Point& corner : piece.corners) {
      check_place(corner);
    }
    into_->pieces.push_back(std::move(piece));
  }
  /// Before they are kept: a file may hold any number of them, used or not.
  void count(std::size_t more) {
    corners_ += more;
    if (corners_ > 4 * most_corners) {
      throw importing::Refused("", "there are more than 400000 corners",
                               "give the plan without furniture and hatching");
    }
  }

  Block* into_ = &model;
  bool is_sheet_ = false;  ///< in a block of paper space
  Entity coming_;
  Entity drawn_;  ///< the one before: what dxflib hands over now
  std::optional<Piece> open_;
  std::optional<Mesh> mesh_;    ///< that `open_` is
  std::vector<double> bulges_;  ///< of the sides of `open_`
  double elevation_ = 0.0;
  bool is_open_mirrored_ = false;
  std::size_t corners_ = 0;
};

}  // namespace

Drawing read_drawing(std::string_view bytes) {
  Drawing drawing;
  drawing.text = check_text(bytes);
  Listener listener;
  DL_Dxf reader;
  std::istringstream stream;
  reader.in(stream, &listener);  // of nothing: sets the reader up
  stream = std::istringstream(std::string(bytes));
  stream.imbue(std::locale::classic());
  each_group(bytes, [&](int code, std::string_view value) {
    listener.group(code, std::string(value));
    reader.readDxfGroups(stream, &listener);
  });
  if (drawing.text.is_whole) {
    listener.finish();
  }
  drawing.unit_code = listener.unit_code;
  place_all(listener.model, listener.blocks, listener.layers, drawing);
  return drawing;
}

}  // namespace ridgeward::dxf
