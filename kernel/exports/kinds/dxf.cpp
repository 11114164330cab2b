// DXF, release 12 (AC1009), plain text: the roof in plan and in four elevations.
#include "base/polygon.hpp"
#include "exports/exporter.hpp"
#include "units/length.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <set>

namespace ridgeward::exports {

namespace {

using surface::LineKind;

constexpr double near_m = 1e-6;
constexpr double text_m = 0.12;
constexpr double hidden_by_m = 1e-4;

/// EAVE, RIDGE, ...: the word of the trade in capitals.
std::string layer_of(const char* word) {
  std::string layer = word;
  std::transform(layer.begin(), layer.end(), layer.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return layer;
}

std::string layer_of(framing::MemberKind kind) {
  using Kind = framing::MemberKind;
  switch (kind) {
    case Kind::hip:
      return "HIP_RAFTER";
    case Kind::valley:
      return "VALLEY_RAFTER";
    case Kind::ridge_board:
    case Kind::header:
    case Kind::lookout:
    case Kind::collar_tie:
      return layer_of(framing::word(kind));
    case Kind::blocking:
    case Kind::vented_blocking:
      return "BLOCKING";
    case Kind::valley_sleeper:
      return "SLEEPER";
    default:
      return framing::is_truss(kind) ? "TRUSS" : "RAFTER";
  }
}

/// Colours of the AutoCAD colour index, dark on white: none is needed to tell layers apart.
int colour_of(const std::string& layer) {
  if (layer.find("SLOT") != std::string::npos || layer == "EXHAUST") {
    return 1;
  }
  if (layer.find("RAFTER") != std::string::npos || layer == "RIDGE_BOARD" || layer == "TRUSS") {
    return 8;
  }
  return 7;
}

/// One face in its way of the eye: its corners as seen, and how far behind they lie.
struct Screen {
  polygon::Loops loops;
  glm::dvec3 point{0.0};  ///< in the coordinates of the view: right, up, towards the eye
  glm::dvec3 normal{0.0};

  double depth_at(glm::dvec2 p) const {
    return point.z - (normal.x * (p.x - point.x) + normal.y * (p.y - point.y)) / normal.z;
  }
};

/// An elevation: looking along `into`, level.
struct View {
  glm::dvec3 right{1.0, 0.0, 0.0};
  glm::dvec3 to_eye{0.0, -1.0, 0.0};
  glm::dvec3 seen(const glm::dvec3& p) const {
    return {glm::dot(p, right), p.z, glm::dot(p, to_eye)};
  }
  glm::dvec3 turned(const glm::dvec3& v) const { return seen(v); }
};

class DxfWriter {
 public:
  explicit DxfWriter(const Assessment& assessment)
      : a_(assessment),
        is_imperial_(assessment.model.unit == units::LengthUnit::ft ||
                     assessment.model.unit == units::LengthUnit::in),
        scale_(is_imperial_ ? 1.0 / units::inch_m : 1000.0) {}
  std::string write();

 private:
  void pair(int code, const std::string& value) {
    entities_ += fmt::format("{:3}\n{}\n", code, value);
  }
  void place(int code, const glm::dvec3& p);
  void line(const std::string& layer, const glm::dvec3& a, const glm::dvec3& b);
  void loop(const std::string& layer, const std::vector<glm::dvec3>& corners);
  void text(const std::string& layer, const glm::dvec3& at, const std::string& words);

  void plan();
  void plan_openings();
  void plan_words();
  std::vector<Screen> screens(const View& view) const;
  void elevation(const View& view, glm::dvec2 at);
  void elevations();
  std::string compass(const glm::dvec3& direction) const;
  std::string header() const;

  const Assessment& a_;
  bool is_imperial_;
  double scale_;  ///< drawing units a metre
  std::string entities_;
  std::set<std::string> layers_;
  glm::dvec3 low_{HUGE_VAL};
  glm::dvec3 high_{-HUGE_VAL};
};

void DxfWriter::place(int code, const glm::dvec3& p) {
  for (int i = 0; i < 3; ++i) {
    const double value = p[i] * scale_;
    pair(code + 10 * i, fmt::format("{:.6f}", std::abs(value) < 5e-7 ? 0.0 : value));
  }
  low_ = glm::min(low_, p);
  high_ = glm::max(high_, p);
}

void DxfWriter::line(const std::string& layer, const glm::dvec3& a, const glm::dvec3& b) {
  layers_.insert(layer);
  pair(0, "LINE");
  pair(8, layer);
  place(10, a);
  place(11, b);
}

void DxfWriter::loop(const std::string& layer, const std::vector<glm::dvec3>& corners) {
  for (std::size_t i = 0; i < corners.size(); ++i) {
    line(layer, corners[i], corners[(i + 1) % corners.size()]);
  }
}

/// Release 12 knows no letters but ASCII.
void DxfWriter::text(const std::string& layer, const glm::dvec3& at, const std::string& words) {
  layers_.insert(layer);
  pair(0, "TEXT");
  pair(8, layer);
  place(10, at);
  pair(40, fmt::format("{:.6f}", text_m * scale_));
  std::string ascii;
  for (const char letter : words) {
    const auto byte = static_cast<unsigned char>(letter);
    if (byte < 0x80U) {
      ascii += byte < 0x20U ? ' ' : letter;
    } else if (byte >= 0xc0U) {
      ascii += '?';  // one for each letter, not for each byte
    }
  }
  pair(1, ascii);
}

/// Lines of the roof and timber in space: from above they are the plan, and each is truly long.
void DxfWriter::plan() {
  for (const surface::Line& one : a_.surface.lines) {
    if (one.kind != LineKind::wall_edge) {
      line(layer_of(surface::word(one.kind)), a_.surface.nodes[one.from], a_.surface.nodes[one.to]);
    }
  }
  for (const auto& outlines : a_.surface.wall_outlines) {
    for (const std::vector<glm::dvec2>& outline : outlines) {
      std::vector<glm::dvec3> corners;
      corners.reserve(outline.size());
      for (const glm::dvec2 p : outline) {
        corners.emplace_back(p, 0.0);
      }
      loop("WALL", corners);
    }
  }
  for (const framing::Member& member : a_.framing.members) {
    if (member.part_of.is_none()) {
      line(layer_of(member.kind), member.from, member.to);
    }
  }
  for (const surface::Region& region : a_.surface.regions) {
    std::vector<glm::dvec3> corners;
    corners.reserve(region.outline_uv.size());
    for (const glm::dvec2 uv : region.outline_uv) {
      corners.push_back(a_.surface.planes[region.plane].frame.at(uv));
    }
    loop("OBSTACLE", corners);
  }
}

void DxfWriter::plan_openings() {
  for (const vents::Slot& slot : a_.vents.slots) {
    const surface::Frame& frame = a_.surface.planes[slot.plane].frame;
    if (model::is_in_soffit(slot.kind)) {
      line("SLOT", slot.from, slot.to);
      continue;
    }
    const double low = slot.lower_v_m();
    const double high = low + slot.width_m;
    loop("SLOT", {frame.at({slot.start_m, low}), frame.at({slot.end_m, low}),
                  frame.at({slot.end_m, high}), frame.at({slot.start_m, high})});
  }
  for (const vents::Exhaust& exhaust : a_.vents.exhausts) {
    if (exhaust.plane.is_none()) {
      line("EXHAUST", exhaust.from, exhaust.to);
      continue;
    }
    const surface::Frame& frame = a_.surface.planes[exhaust.plane].frame;
    const double half = 0.5 * exhaust.hole_m;
    loop("EXHAUST", {frame.at(exhaust.at_uv + glm::dvec2{-half, -half}),
                     frame.at(exhaust.at_uv + glm::dvec2{half, -half}),
                     frame.at(exhaust.at_uv + glm::dvec2{half, half}),
                     frame.at(exhaust.at_uv + glm::dvec2{-half, half})});
  }
}

void DxfWriter::plan_words() {
  const units::Style style = is_imperial_ ? units::Style::feet_inches : units::Style::metric;
  for (const surface::Plane& plane : a_.surface.planes) {
    const std::vector<glm::dvec3> corners = surface::corners(a_.surface, plane.loops.front());
    glm::dvec3 middle{0.0};
    for (const glm::dvec3& corner : corners) {
      middle += corner / static_cast<double>(corners.size());
    }
    text("PLANE", middle, plane.id + "  " + units::show_pitch(plane.pitch, style));
  }
  for (const surface::Line& one : a_.surface.lines) {
    if (one.kind != LineKind::wall_edge && one.length_m > 4 * text_m) {
      text("LENGTH", 0.5 * (a_.surface.nodes[one.from] + a_.surface.nodes[one.to]),
           units::show(one.length_m, style));
    }
  }
}

/// Faces that the eye sees from the front, as seen.
std::vector<Screen> DxfWriter::screens(const View& view) const {
  std::vector<Screen> all;
  const auto add = [&](const std::vector<surface::Loop>& loops, const glm::dvec3& normal) {
    Screen screen;
    screen.normal = view.turned(normal);
    if (screen.normal.z <= near_m || loops.empty()) {
      return;
    }
    for (const surface::Loop& one : loops) {
      polygon::Loop seen;
      for (const glm::dvec3& corner : surface::corners(a_.surface, one)) {
        screen.point = view.seen(corner);
        seen.emplace_back(screen.point);
      }
      screen.loops.push_back(std::move(seen));
    }
    all.push_back(std::move(screen));
  };
  for (const surface::Plane& plane : a_.surface.planes) {
    add(plane.loops, plane.frame.normal);
  }
  for (const surface::WallFace& wall : a_.surface.walls) {
    if (wall.kind != surface::WallFace::Kind::underside) {
      add(wall.loops, wall.normal);
    }
  }
  return all;
}

/// Where along the segment from a to b (as seen) it crosses the sides of a face.
void add_cuts(const Screen& screen, glm::dvec2 a, glm::dvec2 b, std::vector<double>& cuts) {
  const glm::dvec2 d = b - a;
  for (const polygon::Loop& loop : screen.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 e = loop[(i + 1) % loop.size()] - loop[i];
      const double cross = d.x * e.y - d.y * e.x;
      if (std::abs(cross) < 1e-12) {
        continue;
      }
      const glm::dvec2 w = loop[i] - a;
      const double t = (w.x * e.y - w.y * e.x) / cross;
      if (t > 0.0 && t < 1.0) {
        cuts.push_back(t);
      }
    }
  }
}

bool is_hidden(const std::vector<Screen>& screens, const glm::dvec3& p) {
  return std::any_of(screens.begin(), screens.end(), [&](const Screen& screen) {
    return screen.depth_at(glm::dvec2(p)) > p.z + hidden_by_m &&
           polygon::contains(screen.loops, glm::dvec2(p));
  });
}

/// A stretch of a segment, as shares of it.
struct Seen {
  double from = 0.0;
  double to = 0.0;
};

/// What of the segment from a to b no face hides.
std::vector<Seen> seen_of(const std::vector<Screen>& faces, const glm::dvec3& a,
                          const glm::dvec3& b) {
  std::vector<double> cuts{0.0, 1.0};
  for (const Screen& face : faces) {
    add_cuts(face, glm::dvec2(a), glm::dvec2(b), cuts);
  }
  std::sort(cuts.begin(), cuts.end());
  std::vector<Seen> all;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    if (cuts[i + 1] - cuts[i] <= 1e-9 ||
        is_hidden(faces, glm::mix(a, b, 0.5 * (cuts[i] + cuts[i + 1])))) {
      continue;
    }
    if (!all.empty() && cuts[i] - all.back().to <= 1e-9) {
      all.back().to = cuts[i + 1];
    } else {
      all.push_back({cuts[i], cuts[i + 1]});
    }
  }
  return all;
}

/// What of the roof's lines is seen, each on the layer of the elevation and its word.
void DxfWriter::elevation(const View& view, glm::dvec2 at) {
  const std::string name = "ELEV_" + compass(view.to_eye);
  const std::vector<Screen> faces = screens(view);
  for (const surface::Line& one : a_.surface.lines) {
    const glm::dvec3 a = view.seen(a_.surface.nodes[one.from]);
    const glm::dvec3 b = view.seen(a_.surface.nodes[one.to]);
    if (glm::length(glm::dvec2(b - a)) < near_m) {
      continue;
    }
    const bool is_wall = one.kind == LineKind::wall_edge;
    const std::string layer = name + "_" + (is_wall ? "WALL" : layer_of(surface::word(one.kind)));
    for (const Seen& seen : seen_of(faces, a, b)) {
      line(layer, {glm::dvec2(glm::mix(a, b, seen.from)) + at, 0.0},
           {glm::dvec2(glm::mix(a, b, seen.to)) + at, 0.0});
    }
  }
  text(name, {at + glm::dvec2{0.0, -4 * text_m}, 0.0}, "ELEVATION " + compass(view.to_eye));
}

/// The side of the sky that a level direction of the plan points to.
std::string DxfWriter::compass(const glm::dvec3& direction) const {
  static const std::array<const char*, 8> words{"N", "NE", "E", "SE", "S", "SW", "W", "NW"};
  const double from_y = std::atan2(direction.x, direction.y) * 180 / std::numbers::pi;
  const double azimuth = from_y - a_.model.site.north_deg;
  const auto eighth = static_cast<long>(std::lround(azimuth / 45.0));
  return words[static_cast<std::size_t>((eighth % 8 + 8) % 8)];
}

/// In a row below the plan, heights from the model's datum.
void DxfWriter::elevations() {
  const glm::dvec3 low = low_;
  const glm::dvec3 high = high_;
  const double gap_m = 3.0;
  double right_m = low.x;
  const double base_m = low.y - gap_m - std::max(0.0, high.z);
  for (const View& view : {View{{1, 0, 0}, {0, -1, 0}}, View{{0, 1, 0}, {1, 0, 0}},
                           View{{-1, 0, 0}, {0, 1, 0}}, View{{0, -1, 0}, {-1, 0, 0}}}) {
    const double a = glm::dot(low, view.right);
    const double b = glm::dot(high, view.right);
    elevation(view, {right_m - std::min(a, b), base_m});
    right_m += std::abs(b - a) + gap_m;
  }
}

std::string DxfWriter::header() const {
  const auto corner = [&](const char* name, const glm::dvec3& p) {
    return fmt::format("  9\n{}\n 10\n{:.6f}\n 20\n{:.6f}\n 30\n{:.6f}\n", name, p.x * scale_,
                       p.y * scale_, p.z * scale_);
  };
  std::string out = "  0\nSECTION\n  2\nHEADER\n  9\n$ACADVER\n  1\nAC1009\n" +
                    fmt::format("  9\n$INSUNITS\n 70\n{}\n", is_imperial_ ? 1 : 4) +
                    corner("$EXTMIN", low_) + corner("$EXTMAX", high_) +
                    "  0\nENDSEC\n  0\nSECTION\n  2\nTABLES\n  0\nTABLE\n  2\nLTYPE\n 70\n1\n  0\n"
                    "LTYPE\n  2\nCONTINUOUS\n 70\n0\n  3\nSolid line\n 72\n65\n 73\n0\n 40\n0.0\n"
                    "  0\nENDTAB\n";
  out += fmt::format("  0\nTABLE\n  2\nLAYER\n 70\n{}\n", layers_.size() + 1);
  const auto layer = [](const std::string& name) {
    return fmt::format("  0\nLAYER\n  2\n{}\n 70\n0\n 62\n{}\n  6\nCONTINUOUS\n", name,
                       colour_of(name));
  };
  out += layer("0");
  for (const std::string& name : layers_) {
    out += layer(name);
  }
  return out + "  0\nENDTAB\n  0\nENDSEC\n";
}

std::string DxfWriter::write() {
  plan();
  plan_openings();
  plan_words();
  elevations();
  return header() + "  0\nSECTION\n  2\nENTITIES\n" + entities_ + "  0\nENDSEC\n  0\nEOF\n";
}

/// Always the whole drawing: layers are switched where it is read.
Result<std::string> write_dxf(const Assessment& assessment, const Content& content,
                              const Tell& /*tell*/) {
  static_cast<void>(content);
  return DxfWriter(assessment).write();
}

}  // namespace

extern const Exporter dxf_kind;
const Exporter dxf_kind{
    ".dxf", "plan and four elevations, a layer a kind of line; DXF R12 (inches or millimetres)",
    write_dxf};

}  // namespace ridgeward::exports
