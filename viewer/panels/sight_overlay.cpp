// What lies over the drawing: measured figures, the cutting plane's handle, what the pointer is on,
// the scale of flat pictures.
#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"

#include <fmt/format.h>
#include <glm/common.hpp>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::panels {
namespace {

ImVec2 vec(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

/// A card with words, its middle at `at`, kept within the viewport.
void card(ImDrawList& list, glm::dvec2 at, const scene::Viewport& port, glm::vec3 colour,
          const std::string& words) {
  const float s = ui_scale();
  ImFont* bold = font(Font::bold);
  const ImVec2 text = bold->CalcTextSizeA(bold->FontSize, 1e6F, 0.0F, words.c_str());
  const glm::dvec2 half(text.x / 2 + 7 * s, text.y / 2 + 4 * s);
  const glm::dvec2 low = glm::dvec2(port.x, port.y) + half + 2.0;
  const glm::dvec2 high = glm::dvec2(port.x + port.width, port.y + port.height) - half - 2.0;
  at = glm::clamp(at, low, glm::max(low, high));
  list.AddRectFilled(vec(at - half), vec(at + half), packed(draw::card, 0.97F), 4 * s);
  list.AddRect(vec(at - half), vec(at + half), packed(colour), 4 * s, 0, 1.6F * s);
  list.AddText(bold, bold->FontSize,
               {static_cast<float>(at.x) - text.x / 2, static_cast<float>(at.y) - text.y / 2},
               packed(draw::ink), words.c_str());
}

/// A spot by its kind: corners square, middles triangular, lines crossed, planes round.
void draw_spot(ImDrawList& list, glm::dvec2 at, scene::Spot::On on) {
  const float s = ui_scale();
  const ImVec2 p = vec(at);
  const float r = 6 * s;
  const ImU32 edge = packed(draw::ink);
  const ImU32 fill = packed(draw::selected);
  switch (on) {
    case scene::Spot::On::corner:
      list.AddRectFilled({p.x - r, p.y - r}, {p.x + r, p.y + r}, fill);
      list.AddRect({p.x - r, p.y - r}, {p.x + r, p.y + r}, edge, 0, 0, 1.8F * s);
      return;
    case scene::Spot::On::middle: {
      const std::array<ImVec2, 3> corners{ImVec2(p.x, p.y - r), ImVec2(p.x + r, p.y + r),
                                          ImVec2(p.x - r, p.y + r)};
      list.AddTriangleFilled(corners[0], corners[1], corners[2], fill);
      list.AddTriangle(corners[0], corners[1], corners[2], edge, 1.8F * s);
      return;
    }
    case scene::Spot::On::line:
      list.AddCircleFilled(p, r, fill, 20);
      list.AddLine({p.x - r, p.y - r}, {p.x + r, p.y + r}, edge, 1.8F * s);
      list.AddLine({p.x - r, p.y + r}, {p.x + r, p.y - r}, edge, 1.8F * s);
      return;
    case scene::Spot::On::plane:
      list.AddCircleFilled(p, r, fill, 20);
      list.AddCircle(p, r, edge, 20, 1.8F * s);
      return;
  }
}

struct Pen {
  ImDrawList& list;
  const scene::Lens& lens;

  void line(glm::dvec3 from, glm::dvec3 to, glm::vec3 colour, float width) const {
    const auto a = lens.pixel(from);
    const auto b = lens.pixel(to);
    if (a && b) {
      list.AddLine(vec(*a), vec(*b), packed(colour), width * ui_scale());
    }
  }
  void dashed(glm::dvec3 from, glm::dvec3 to, glm::vec3 colour) const {
    const auto a = lens.pixel(from);
    const auto b = lens.pixel(to);
    const double px = a && b ? glm::length(*b - *a) : 0.0;
    const int dashes = std::clamp(static_cast<int>(px / (7.0 * ui_scale())), 3, 400) | 1;
    for (int i = 0; i < dashes; i += 2) {
      line(glm::mix(from, to, double(i) / dashes), glm::mix(from, to, double(i + 1) / dashes),
           colour, 1.6F);
    }
  }
};

void draw_measure(const Look& look, const Pen& pen) {
  const std::vector<scene::Spot>& spots = look.state.sight.measure.spots;
  if (spots.empty()) {
    return;
  }
  const scene::Viewport& port = pen.lens.viewport;
  const scene::Figures figures = scene::figures(look.state.sight.measure);
  const auto words = [&](double length_m) { return units::show(length_m, look.state.style); };
  for (const scene::Spot& spot : spots) {
    if (spot.is_on_line()) {
      pen.line(spot.from, spot.to, draw::selected, 5.0F);
    }
  }
  if (figures.distance) {
    const glm::dvec3 from = spots.front().at;
    const glm::dvec3 to = spots.back().at;
    const glm::dvec3 corner =
        from.z < to.z ? glm::dvec3(glm::dvec2(to), from.z) : glm::dvec3(glm::dvec2(from), to.z);
    if (std::abs(to.z - from.z) > 0.01 && figures.distance->level_m > 0.01) {
      pen.dashed(from, corner, draw::ink);
      pen.dashed(corner, to, draw::ink);
    }
    pen.line(from, to, draw::card, 5.0F);
    pen.line(from, to, draw::ink, 2.4F);
    if (const auto middle = pen.lens.pixel((from + to) / 2.0)) {
      card(pen.list, *middle - glm::dvec2(0.0, 20.0 * ui_scale()), port, draw::ink,
           words(figures.distance->true_m));
    }
  } else if (figures.line) {
    if (const auto middle = pen.lens.pixel((spots.front().from + spots.front().to) / 2.0)) {
      card(pen.list, *middle - glm::dvec2(0.0, 20.0 * ui_scale()), port, draw::ink,
           words(figures.line->true_m));
    }
  }
  for (const scene::Spot& spot : spots) {
    if (const auto at = pen.lens.pixel(spot.at)) {
      draw_spot(pen.list, *at, spot.on);
    }
  }
}

void draw_pointed(const Look& look, const Pen& pen, Recorder& recorder) {
  const Sight& sight = look.state.sight;
  if (!sight.pointed) {
    return;
  }
  const scene::Spot& spot = *sight.pointed;
  const auto at = pen.lens.pixel(spot.at);
  std::string words;
  if (spot.is_on_line()) {
    pen.line(spot.from, spot.to, draw::selected, 2.4F);
    words = capitalised(draw::look_of(spot.role).words) + "  " +
            units::show(glm::length(spot.to - spot.from), look.state.style);
  }
  const bool would_measure = sight.is_measuring || sight.measure.spots.size() == 1;
  if (at && would_measure) {
    draw_spot(pen.list, *at, spot.on);
    words += spot.on == scene::Spot::On::corner   ? "  end"
             : spot.on == scene::Spot::On::middle ? "  middle"
                                                  : "";
  }
  if (!words.empty()) {
    const glm::dvec2 beside(0.0, 26.0 * ui_scale());
    card(pen.list, sight.pointed_px + beside, pen.lens.viewport, draw::selected, words);
    recorder.add({"pointed", "text", words, sight.pointed_px.x, sight.pointed_px.y, 0.0, 0.0});
  }
}

/// A bar of a round length, for flat pictures.
void draw_scale_bar(const Look& look, const Pen& pen, Recorder& recorder) {
  if (!look.state.camera.is_flat) {
    return;
  }
  const bool is_metric = look.state.style == units::Style::metric;
  const double unit_m = is_metric ? 1.0 : 12 * units::inch_m;
  const double px = pen.lens.px_per_m() * unit_m;
  double length = is_metric ? 0.1 : 0.25;
  for (const double more : is_metric ? std::array{0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0}
                                     : std::array{1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
    length = more * px <= 150.0 * ui_scale() ? more : length;
  }
  const float s = ui_scale();
  const scene::Viewport& port = pen.lens.viewport;
  const auto right = static_cast<float>(port.x + port.width) - 16 * s;
  const auto y = static_cast<float>(port.y) + 12 * s;
  const float left = right - static_cast<float>(length * px);
  const ImU32 colour = packed(draw::ink);
  pen.list.AddLine({left, y}, {right, y}, colour, 2 * s);
  for (const float x : {left, right}) {
    pen.list.AddLine({x, y - 4 * s}, {x, y + 4 * s}, colour, 2 * s);
  }
  const std::string words = units::show(length * unit_m, look.state.style);
  pen.list.AddText(font(Font::small_text), font(Font::small_text)->FontSize,
                   {left + 4 * s, y + 5 * s}, colour, words.c_str());
  recorder.add({"scale-bar", "text", words, left, y, right - left, 4.0 * s});
}

}  // namespace

void draw_cut(const Look& look, const scene::Viewport& viewport, Recorder& recorder) {
  const scene::Cut& cut = look.state.sight.cut;
  const scene::Lens lens = lens_of(look.state, look.scene, viewport);
  if (!lens.keeps) {
    return;
  }
  const Pen pen{*ImGui::GetBackgroundDrawList(), lens};
  const std::array<glm::dvec3, 4> corners = scene::sheet(cut, look.scene);
  for (std::size_t i = 0; i < corners.size(); ++i) {
    pen.dashed(corners[i], corners[(i + 1) % corners.size()], draw::faint_ink);
  }
  const glm::dvec3 hold = scene::handle(cut, look.scene);
  const auto at = pen.lens.pixel(hold);
  const auto on = pen.lens.pixel(hold + pen.lens.keeps->normal * 0.05 * look.scene.radius_m);
  if (!at || !on) {
    return;
  }
  const float s = ui_scale();
  glm::dvec2 way = *on - *at;
  way = glm::length(way) > 2.0 ? glm::normalize(way) : glm::dvec2(0.0, -1.0);
  const glm::dvec2 side(-way.y, way.x);
  pen.list.AddCircleFilled(vec(*at), 12 * s, packed(draw::card), 24);
  pen.list.AddCircle(vec(*at), 12 * s, packed(draw::ink), 24, 1.8F * s);
  for (const double hand : {1.0, -1.0}) {
    const double reach = 8.5 * s * hand;
    pen.list.AddTriangleFilled(
        vec(*at + way * reach), vec(*at + way * (0.25 * reach) + side * (4.5 * s)),
        vec(*at + way * (0.25 * reach) - side * (4.5 * s)), packed(draw::ink));
  }
  recorder.add({"cut/handle", "mark", "", at->x - 8 * s, at->y - 8 * s, 16.0 * s, 16.0 * s});
}

void draw_sight(const Look& look, const scene::Lens& lens, Recorder& recorder) {
  const Pen pen{*ImGui::GetBackgroundDrawList(), lens};
  draw_measure(look, pen);
  draw_pointed(look, pen, recorder);
  draw_scale_bar(look, pen, recorder);
}

std::vector<Row> measure_rows(const scene::Measure& measure, units::Style style) {
  const scene::Figures all = scene::figures(measure);
  std::vector<Row> rows;
  const auto degrees = [](double rad) { return fmt::format("{:.1f}\u00b0", glm::degrees(rad)); };
  const auto reach = [&](const char* what, const scene::Reach& r) {
    rows.emplace_back(std::string(what) + ", true", units::show(r.true_m, style));
    rows.emplace_back(std::string(what) + ", level", units::show(r.level_m, style));
    if (std::abs(r.rise_m) > 5e-4) {
      rows.emplace_back(r.rise_m > 0 ? "Rises" : "Falls", units::show(std::abs(r.rise_m), style));
    }
  };
  if (all.line) {
    reach("Length", *all.line);
  }
  if (all.distance) {
    reach("Distance", *all.distance);
  }
  if (all.slope_rad && *all.slope_rad > 1e-4) {
    rows.emplace_back("Slope", degrees(*all.slope_rad));
  }
  if (all.angle_rad) {
    rows.emplace_back("Angle, true", degrees(*all.angle_rad));
  }
  if (all.level_angle_rad) {
    rows.emplace_back("Angle, level", degrees(*all.level_angle_rad));
  }
  if (all.square_m) {
    rows.emplace_back("Square across", units::show(*all.square_m, style));
  }
  return rows;
}

}  // namespace ridgeward::panels
