#include "dxf/drawing.hpp"

#include "dxf/blocks.hpp"
#include "support/importing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>
#include <map>
#include <numbers>
#include <optional>
#include <sstream>

namespace ridgeward::dxf {

namespace {

constexpr std::size_t most_named = 8;

/// Hears what dxflib reads.
class Listener : public DL_CreationAdapter {
 public:
  Block model;
  Blocks blocks;
  int unit_code = 0;

  void setVariableInt(const std::string& key, int value, int /*code*/) override {
    if (key == "$INSUNITS") {
      unit_code = value;
    }
  }
  void addBlock(const DL_BlockData& data) override {
    if (data.name.starts_with("*Model") || data.name.starts_with("*MODEL")) {
      into_ = &model;
      return;
    }
    into_ = &blocks[importing::small(data.name)];
    *into_ = Block{{data.bpx, data.bpy, data.bpz}, {}, {}, {}};
  }
  void endBlock() override { into_ = &model; }

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
                                 is_from_below()});
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
  void addCircle(const DL_CircleData& /*data*/) override { pass_over("circle"); }
  void addEllipse(const DL_EllipseData& /*data*/) override { pass_over("ellipse"); }
  void addSpline(const DL_SplineData& /*data*/) override { pass_over("spline"); }

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
    bulges_.clear();
    elevation_ = data.elevation;
    const auto flags = static_cast<unsigned>(data.flags);
    open_->is_closed = (flags & 1U) != 0;
    constexpr unsigned in_space = 8;
    is_open_mirrored_ = is_from_below() && (flags & in_space) == 0;
  }
  void addVertex(const DL_VertexData& data) override {
    if (open_) {
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
    Piece piece{drawn.layer, {}, drawn.is_closed};
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
    add(is_open_mirrored_ ? mirrored(std::move(piece)) : std::move(piece));
  }

 private:
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
  void pass_over(const char* what) {
    if (!is_elevation(layer())) {
      ++into_->unread[std::string(what) + " on " + layer()];
    }
  }
  void add(Piece piece) {
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
  std::optional<Piece> open_;
  std::vector<double> bulges_;  ///< of the sides of `open_`
  double elevation_ = 0.0;
  bool is_open_mirrored_ = false;
  std::size_t corners_ = 0;
};

/// +1 where `p` lies left of the line from `a` to `b`, -1 right, 0 on it.
int side_of(const Position& a, const Position& b, const Position& p) {
  const double turn = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
  return turn > 0.0 ? 1 : (turn < 0.0 ? -1 : 0);
}

/// Two sides, each from one corner to another.
struct Sides {
  Position a, b, c, d;

  bool meet() const {
    for (const std::size_t k : {0U, 1U}) {
      if (std::max(a[k], b[k]) < std::min(c[k], d[k]) ||
          std::max(c[k], d[k]) < std::min(a[k], b[k])) {
        return false;
      }
    }
    return side_of(a, b, c) * side_of(a, b, d) <= 0 && side_of(c, d, a) * side_of(c, d, b) <= 0;
  }
  /// A place where they do: REQUIRES that they meet.
  Position place() const {
    const double turn = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
    if (turn == 0.0) {
      return c;
    }
    const double along = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / turn;
    return {a[0] + along * (b[0] - a[0]), a[1] + along * (b[1] - a[1])};
  }
};

/// The first two sides that meet and are no neighbours, or of which one runs back along the other.
std::optional<Sides> sides_that_meet(const std::vector<Position>& loop) {
  const std::size_t n = loop.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Sides next{loop[i], loop[(i + 1) % n], loop[(i + 1) % n], loop[(i + 2) % n]};
    const double ahead = (next.b[0] - next.a[0]) * (next.d[0] - next.c[0]) +
                         (next.b[1] - next.a[1]) * (next.d[1] - next.c[1]);
    if (side_of(next.a, next.b, next.d) == 0 && ahead < 0.0) {
      return next;
    }
    for (std::size_t k = i + 2; k < n && (i != 0 || k + 1 < n); ++k) {
      const Sides apart{loop[i], loop[i + 1], loop[k], loop[(k + 1) % n]};
      if (apart.meet()) {
        return apart;
      }
    }
  }
  return std::nullopt;
}

}  // namespace

bool Outline::is_in_space() const {
  const auto [low, high] = std::minmax_element(heights.begin(), heights.end());
  return !heights.empty() && *low != *high;
}

bool is_elevation(const std::string& layer) { return importing::small(layer).starts_with("elev"); }

std::optional<RoofLine::Kind> roof_kind(const std::string& layer) {
  using Kind = RoofLine::Kind;
  static const std::map<std::string, Kind> kinds{
      {"eave", Kind::eave},       {"rake", Kind::rake},       {"ridge", Kind::fold},
      {"hip", Kind::fold},        {"valley", Kind::fold},     {"pitch_break", Kind::fold},
      {"shed_top", Kind::border}, {"headwall", Kind::border}, {"sidewall", Kind::border},
      {"step_wall", Kind::border}};
  const std::string name = importing::small(layer);
  const auto at = kinds.find(name.substr(name.find_last_of('-') + 1));
  return at == kinds.end() ? std::nullopt : std::optional(at->second);
}

std::string named(const std::map<std::string, std::size_t>& counts) {
  std::string text;
  std::size_t told = 0;
  for (const auto& [name, count] : counts) {
    if (told++ == most_named) {
      return text + fmt::format(" and {} more", counts.size() - most_named);
    }
    text += fmt::format("{}{} ({})", text.empty() ? "" : ", ", name, count);
  }
  return text;
}

Drawing read_drawing(std::string_view bytes) {
  Drawing drawing;
  drawing.text = check_text(bytes);
  std::istringstream stream{std::string(bytes)};
  stream.imbue(std::locale::classic());
  Listener listener;
  DL_Dxf reader;
  reader.in(stream, &listener);
  if (drawing.text.is_whole) {
    listener.finish();
  }
  drawing.unit_code = listener.unit_code;
  place_all(listener.model, listener.blocks, drawing);
  return drawing;
}

std::string place_words(const Position& p) {
  const auto plain = [](double x) {
    std::string text = fmt::format("{:.3f}", x);
    text.erase(text.find_last_not_of('0') + 1);
    text.erase(text.find_last_not_of('.') + 1);
    return text == "-0" ? "0" : text;
  };
  return plain(p[0]) + ", " + plain(p[1]);
}

void check_outline(const Outline& outline) {
  constexpr std::size_t most = 5000;
  std::vector<Position> loop = outline.corners;
  loop.erase(std::unique(loop.begin(), loop.end()), loop.end());
  if (loop.size() > 1 && loop.front() == loop.back()) {
    loop.pop_back();
  }
  const std::optional<Sides> met = loop.size() > most ? std::nullopt : sides_that_meet(loop);
  if (met) {
    throw importing::Refused(
        fmt::format("layer {}, at {}", outline.layer, place_words(met->place())),
        fmt::format("the outline meets itself: its side from {} to {} and that from {} to {}",
                    place_words(met->a), place_words(met->b), place_words(met->c),
                    place_words(met->d)),
        "draw each wall once, in order round the house, no side touching another");
  }
}

double twice_area(const std::vector<Position>& loop) {
  double sum = 0.0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Position& a = loop[i];
    const Position& b = loop[(i + 1) % loop.size()];
    sum += (a[0] - loop[0][0]) * (b[1] - loop[0][1]) - (a[1] - loop[0][1]) * (b[0] - loop[0][0]);
  }
  return sum;
}

bool contains(const std::vector<Position>& loop, const Position& p) {
  bool is_in = false;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Position& a = loop[i];
    const Position& b = loop[(i + 1) % loop.size()];
    if ((a[1] > p[1]) != (b[1] > p[1]) &&
        p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])) {
      is_in = !is_in;
    }
  }
  return is_in;
}

}  // namespace ridgeward::dxf
