#include "dxf/drawing.hpp"

#include "support/importing.hpp"

#include <algorithm>
#include <cmath>
#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>
#include <map>
#include <optional>
#include <sstream>

namespace ridgeward::dxf {

namespace {

constexpr std::size_t most_corners = 100000;
constexpr double farthest = 1e9;

double distance(const Position& a, const Position& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1]);
}

/// Hears what dxflib reads.
class Listener : public DL_CreationAdapter {
 public:
  Drawing drawing;

  void setVariableInt(const std::string& key, int value, int /*code*/) override {
    if (key == "$INSUNITS") {
      drawing.unit_code = value;
    }
  }
  void addBlock(const DL_BlockData& data) override {
    is_in_block_ = !data.name.starts_with("*Model") && !data.name.starts_with("*MODEL");
  }
  void endBlock() override { is_in_block_ = false; }

  void addLine(const DL_LineData& data) override {
    if (is_passed_over()) {
      return;
    }
    count(2);
    add_stroke(attributes.getLayer(), {data.x1, data.y1, data.z1}, {data.x2, data.y2, data.z2});
  }
  void add3dFace(const DL_3dFaceData& data) override {
    if (is_passed_over()) {
      return;
    }
    count(4);
    Face face{attributes.getLayer(), {}};
    for (int i = 0; i < 4; ++i) {
      const std::array<double, 3> corner{data.x[i], data.y[i], data.z[i]};
      at(corner[0], corner[1]);
      at(corner[2], 0.0);
      if (std::find(face.corners.begin(), face.corners.end(), corner) == face.corners.end()) {
        face.corners.push_back(corner);
      }
    }
    if (face.corners.size() > 2 && !is_elevation(face.layer)) {
      drawing.faces.push_back(std::move(face));
    }
  }
  void addPolyline(const DL_PolylineData& data) override {
    finish();
    if (!is_passed_over()) {
      open_ = Outline{attributes.getLayer(), {}, false, {}};
      elevation_ = data.elevation;
      heights_.clear();
      is_closed_ = (static_cast<unsigned>(data.flags) & 1U) != 0;
    }
  }
  void addVertex(const DL_VertexData& data) override {
    if (open_) {
      count(1);
      open_->corners.push_back(at(data.x, data.y));
      at(data.z, elevation_);
      heights_.push_back(data.z != 0.0 ? data.z : elevation_);
      open_->has_arcs = open_->has_arcs || std::abs(data.bulge) > 1e-6;
    }
  }
  void endEntity() override { finish(); }
  void endSequence() override { finish(); }

  /// Files the polyline that is open.
  void finish() {
    if (!open_) {
      return;
    }
    Outline outline = std::move(*open_);
    open_.reset();
    std::vector<Position>& corners = outline.corners;
    if (is_elevation(outline.layer)) {
      return;
    }
    const bool returns = corners.size() > 3 && distance(corners.front(), corners.back()) < 1e-9;
    if (roof_kind(outline.layer)) {
      for (std::size_t i = 0; i + (is_closed_ && !returns ? 0 : 1) < corners.size(); ++i) {
        const std::size_t k = (i + 1) % corners.size();
        add_roof_line(outline.layer, {corners[i][0], corners[i][1], heights_[i]},
                      {corners[k][0], corners[k][1], heights_[k]});
      }
    }
    if (returns) {
      corners.pop_back();
      heights_.pop_back();
    }
    if ((is_closed_ || returns) && corners.size() > 2) {
      outline.heights = heights_;
      drawing.outlines.push_back(std::move(outline));
      return;
    }
    for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
      drawing.strokes.push_back({outline.layer, corners[i], corners[i + 1]});
    }
  }

 private:
  bool is_passed_over() {
    drawing.passed_over += is_in_block_ ? 1U : 0U;
    return is_in_block_;
  }
  static Position at(double x, double y) {
    if (!(std::abs(x) < farthest) || !(std::abs(y) < farthest)) {
      throw importing::Refused("", "a corner lies nowhere", "check that the file is whole");
    }
    return {x, y};
  }
  void count(std::size_t more) {
    corners_ += more;
    if (corners_ > most_corners) {
      throw importing::Refused("", "there are more than 100000 corners",
                               "give the plan without furniture and hatching");
    }
  }

  /// Seen from the side: no part of the plan.
  static bool is_elevation(const std::string& layer) {
    return importing::small(layer).starts_with("elev");
  }
  void add_roof_line(const std::string& layer, const std::array<double, 3>& from,
                     const std::array<double, 3>& to) {
    if (const std::optional<RoofLine::Kind> kind = roof_kind(layer)) {
      at(from[2], to[2]);
      drawing.roof.push_back({*kind, from, to});
    }
  }
  void add_stroke(const std::string& layer, const std::array<double, 3>& from,
                  const std::array<double, 3>& to) {
    if (is_elevation(layer)) {
      return;
    }
    drawing.strokes.push_back({layer, at(from[0], from[1]), at(to[0], to[1])});
    add_roof_line(layer, from, to);
  }

  std::optional<Outline> open_;
  double elevation_ = 0.0;
  std::vector<double> heights_;  ///< of the corners of `open_`
  bool is_closed_ = false;
  bool is_in_block_ = false;
  std::size_t corners_ = 0;
};

/// Takes the stroke of `layer` that starts or ends at p, the other way round where it must.
std::optional<Position> take_next(std::vector<Stroke>& strokes, const std::string& layer,
                                  const Position& p, double reach) {
  for (auto stroke = strokes.begin(); stroke != strokes.end(); ++stroke) {
    if (stroke->layer != layer) {
      continue;
    }
    const bool is_forward = distance(stroke->from, p) <= reach;
    if (is_forward || distance(stroke->to, p) <= reach) {
      const Position end = is_forward ? stroke->to : stroke->from;
      strokes.erase(stroke);
      return end;
    }
  }
  return std::nullopt;
}

}  // namespace

bool Outline::is_in_space() const {
  const auto [low, high] = std::minmax_element(heights.begin(), heights.end());
  return !heights.empty() && *low != *high;
}

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

Drawing read_drawing(std::string_view bytes) {
  const Text text = check_text(bytes);
  std::istringstream stream{std::string(bytes)};
  stream.imbue(std::locale::classic());
  Listener listener;
  DL_Dxf reader;
  reader.in(stream, &listener);
  listener.drawing.text = text;
  if (text.is_whole) {
    listener.finish();
  }
  return std::move(listener.drawing);
}

void close_strokes(Drawing& drawing) {
  double longest = 0.0;
  for (const Stroke& stroke : drawing.strokes) {
    longest = std::max(longest, distance(stroke.from, stroke.to));
  }
  const double reach = 1e-4 * longest;
  std::vector<Stroke> left = std::move(drawing.strokes);
  drawing.strokes.clear();
  while (!left.empty()) {
    const Stroke first = left.back();
    left.pop_back();
    std::vector<Stroke> before = left;
    std::vector<Position> corners{first.from, first.to};
    while (distance(corners.front(), corners.back()) > reach || corners.size() < 4) {
      const std::optional<Position> next = take_next(left, first.layer, corners.back(), reach);
      if (!next) {
        break;
      }
      corners.push_back(*next);
    }
    if (corners.size() > 3 && distance(corners.front(), corners.back()) <= reach) {
      corners.pop_back();
      drawing.outlines.push_back({first.layer, std::move(corners), false, {}});
    } else {
      left = std::move(before);
      drawing.strokes.push_back(first);
    }
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
