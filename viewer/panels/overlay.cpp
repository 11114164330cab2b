#include "draw/palette.hpp"
#include "panels/pieces.hpp"
#include "panels/theme.hpp"
#include "scene/labels.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <cmath>

namespace ridgeward::panels {
namespace {

ImVec2 at(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

void draw_label(ImDrawList& list, const scene::PlacedLabel& placed, Recorder& recorder) {
  const float s = ui_scale();
  const bool is_line = placed.label->of == scene::Label::Of::line;
  const glm::vec3 colour = is_line ? draw::look_of(placed.label->role).colour : draw::faint_ink;
  list.AddRectFilled(at(placed.box.low), at(placed.box.high), packed(draw::card, 0.90F), 3.5F * s);
  if (is_line) {
    list.AddRect(at(placed.box.low), at(placed.box.high), packed(colour), 3.5F * s, 0, 1.2F * s);
  }
  list.AddText(
      font(Font::text), font(Font::text)->FontSize,
      {static_cast<float>(placed.box.low.x) + 5 * s, static_cast<float>(placed.box.low.y) + 2 * s},
      packed(is_line && !draw::is_dark() ? colour * 0.8F : colour), placed.text.c_str());
  const glm::dvec2 size = placed.box.high - placed.box.low;
  recorder.add({"label/" + placed.text, "text", placed.text, placed.box.low.x, placed.box.low.y,
                size.x, size.y});
}

void draw_marker(ImDrawList& list, const scene::PlacedMarker& placed, Recorder& recorder) {
  const float s = ui_scale();
  const Verdict verdict = verdict_of_severity(placed.marker->severity);
  const glm::dvec2 middle = (placed.box.low + placed.box.high) / 2.0;
  const ImU32 colour = packed(colour_of(verdict));
  list.AddLine(at(placed.anchor), at(middle), colour, 1.5F * s);
  list.AddCircleFilled(at(placed.anchor), 2.6F * s, colour, 12);
  list.AddCircleFilled(at(middle), 10.5F * s, packed(draw::card, 0.92F), 24);
  draw_mark(list, at(middle), 8.0F * s, verdict);
  recorder.add({fmt::format("marker/{}", placed.marker->number), "mark", "", placed.box.low.x,
                placed.box.low.y, placed.box.high.x - placed.box.low.x,
                placed.box.high.y - placed.box.low.y});
}

/// A needle that lies level in space, so that it turns and tips with the house.
void draw_north(ImDrawList& list, const Look& look, const scene::Box& box) {
  const float s = ui_scale();
  const glm::dvec2 middle = (box.low + box.high) / 2.0;
  const double reach = 21.0 * s;
  const double north = glm::radians(look.scene.north_deg);
  const scene::Axes axes = look.state.camera.axes();
  const auto on_picture = [&](double angle, double share) {
    const glm::dvec3 way(std::sin(angle), std::cos(angle), 0.0);
    return at(middle +
              share * reach * glm::dvec2(glm::dot(axes.right, way), -glm::dot(axes.up, way)));
  };
  std::vector<ImVec2> ring;
  constexpr int steps = 48;
  ring.reserve(steps);
  for (int i = 0; i < steps; ++i) {
    ring.push_back(on_picture(i * glm::radians(360.0) / steps, 1.0));
  }
  list.AddConvexPolyFilled(ring.data(), steps, packed(draw::card, 0.75F));
  list.AddPolyline(ring.data(), steps, packed(draw::faint_ink), ImDrawFlags_Closed, 1.2F * s);
  const double quarter = glm::radians(90.0);
  const ImVec2 tip = on_picture(north, 0.98);
  const ImVec2 tail = on_picture(north, -0.75);
  list.AddTriangleFilled(tip, on_picture(north + quarter, 0.24), on_picture(north - quarter, 0.24),
                         packed(draw::bad));
  list.AddTriangleFilled(tail, on_picture(north + quarter, 0.24), on_picture(north - quarter, 0.24),
                         packed(draw::faint_ink));
  const scene::Sun& sun = look.state.sight.sun;
  const scene::SunPlace sun_at = scene::sun_place(sun);
  if (sun.is_shown && sun_at.altitude_rad > 0) {
    // On the rim in the sun's direction, farther in the higher it stands.
    const ImVec2 disc = on_picture(north + sun_at.azimuth_rad, std::cos(sun_at.altitude_rad));
    list.AddCircleFilled(disc, 5.0F * s, packed(draw::selected), 20);
    list.AddCircle(disc, 5.0F * s, packed(draw::ink), 20, 1.2F * s);
  }
  ImVec2 letter = on_picture(north, 1.42);
  if (std::abs(axes.up.z) > 0.999) {
    letter.y -= 10.0F * s;  // seen from the side the ring is a line: the letter stands over it
  }
  ImFont* bold = font(Font::bold);
  const ImVec2 size = bold->CalcTextSizeA(bold->FontSize, 1e6F, 0.0F, "N");
  list.AddText(bold, bold->FontSize, {letter.x - size.x / 2, letter.y - size.y / 2},
               packed(draw::ink), "N");
}

scene::Lettering lettering(const State& state) {
  const double s = ui_scale();
  scene::Lettering ink;
  ink.gap_px = 5.0 * s;
  ink.marker_px = 21.0 * s;
  ink.text_of = [&state](const scene::Label& label) {
    return label.of == scene::Label::Of::line
               ? units::show(label.length_m, state.style)
               : label.words + "  " + units::show_pitch(label.pitch, state.style);
  };
  ink.size_of = [s](const std::string& text) {
    ImFont* plain = font(Font::text);
    const ImVec2 size = plain->CalcTextSizeA(plain->FontSize, 1e6F, 0.0F, text.c_str());
    return glm::dvec2(size.x + 10.0 * s, size.y + 4.0 * s);
  };
  return ink;
}

/// Where tests may click: a spot of every plane and line that is in sight.
void note_targets(const Look& look, const scene::Lens& lens, Recorder& recorder) {
  const scene::Seen seen(look.scene, lens);
  for (const scene::Label& label : look.scene.labels) {
    const glm::dvec3 middle = (label.from + label.to) / 2.0;
    const auto pixel = lens.pixel(middle);
    if (!pixel || !seen.is_in_sight(middle)) {
      continue;
    }
    const std::string id = label.of == scene::Label::Of::line
                               ? "line/" + look.assessment.surface.lines[label.line].id
                               : "plane/" + look.assessment.surface.planes[label.plane].id;
    recorder.add({id, "mark", "", pixel->x, pixel->y, 0.0, 0.0});
  }
}

}  // namespace

void draw_labels(const Look& look, const scene::Viewport& viewport, Recorder& recorder) {
  if (look.scene.is_empty()) {
    return;
  }
  const double s = ui_scale();
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  const scene::Lens lens = lens_of(look.state, look.scene, viewport);
  const glm::dvec2 corner(viewport.x, viewport.y + viewport.height);
  const scene::Box north{{corner.x + 10 * s, corner.y - 78 * s},
                         {corner.x + 78 * s, corner.y - 10 * s}};
  const scene::Placed placed =
      scene::place_labels(look.scene, lens, look.state.layers, {north}, lettering(look.state));
  list.PushClipRect({static_cast<float>(viewport.x), static_cast<float>(viewport.y)},
                    {static_cast<float>(viewport.x + viewport.width),
                     static_cast<float>(viewport.y + viewport.height)});
  const bool is_measured = look.state.sight.measure.spots.size() == 1;
  for (const scene::PlacedLabel& label : placed.labels) {
    // The line that is measured has its length on a card of its own.
    const bool is_twice = is_measured && label.label->of == scene::Label::Of::line &&
                          label.label->line == look.state.selected.line;
    if (!is_twice) {
      draw_label(list, label, recorder);
    }
  }
  for (const scene::PlacedMarker& marker : placed.markers) {
    draw_marker(list, marker, recorder);
  }
  draw_north(list, look, north);
  draw_sight(look, lens, recorder);
  list.PopClipRect();
  note_targets(look, lens, recorder);
}

}  // namespace ridgeward::panels
