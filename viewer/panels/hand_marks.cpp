// What the hand shows on the drawing: grips, and the measures of what is dragged.
#include "draw/palette.hpp"
#include "panels/edit_panels.hpp"
#include "panels/hand.hpp"
#include "panels/named.hpp"
#include "panels/theme.hpp"

#include <imgui.h>

#include <algorithm>
#include <array>

namespace ridgeward::panels {

void draw_grips(const Look& look, const scene::Viewport& viewport, Recorder& recorder) {
  const EditState& edit = look.state.edit;
  if (shows_plan(edit) || (!edit.has_fields && edit.tool == Tool::look)) {
    return;
  }
  constexpr std::array<const char*, 3> things{"intake", "exhaust", "obstacle"};
  constexpr std::array<const char*, 3> ends{"from", "to", "all"};
  const scene::Lens lens{look.state.camera, viewport};
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  const float half = 4.5F * ui_scale();
  for (const Grip& grip : grips(look.assessment)) {
    const glm::dvec3 at = (grip.at + grip.until) / 2.0;
    const auto pixel = lens.pixel(at);
    if (!pixel || !is_in_sight(look, lens, grip)) {
      continue;
    }
    const ImVec2 p{static_cast<float>(pixel->x), static_cast<float>(pixel->y)};
    if (grip.at == grip.until) {
      const bool is_chosen = edit.target.id == grip.id;
      list.AddRectFilled({p.x - half, p.y - half}, {p.x + half, p.y + half},
                         packed(is_chosen ? draw::selected : glm::vec3(1.0F)));
      list.AddRect({p.x - half, p.y - half}, {p.x + half, p.y + half}, packed(draw::ink), 0.0F, 0,
                   1.5F * ui_scale());
    }
    recorder.add({std::string("grip/") + things.at(static_cast<std::size_t>(grip.what)) + "/" +
                      grip.id + "/" + ends.at(static_cast<std::size_t>(grip.end)),
                  "mark", "", pixel->x, pixel->y, 0.0, 0.0});
  }
}

std::vector<std::string> drag_words(const Hand& hand, const model::RoofModel& model,
                                    units::Style style) {
  if (!hand.grip || !hand.is_moving) {
    return {};
  }
  const auto said = [&](double length_m) { return units::show(length_m, style); };
  const auto stretch = [&](double from_m, double to_m) {
    return std::vector<std::string>{said(to_m - from_m),
                                    "from " + said(from_m) + " to " + said(to_m)};
  };
  const auto place = [&](glm::dvec2 at) {
    return std::vector<std::string>{"along " + said(at.x), "up " + said(at.y)};
  };
  if (hand.grip->what == Grip::What::intake) {
    const auto run = find(model.intake, hand.grip->id);
    return run == model.intake.end() || run->whole ? std::vector<std::string>{}
                                                   : stretch(run->from_m, run->to_m);
  }
  if (hand.grip->what == Grip::What::exhaust) {
    const auto vent = find(model.exhaust, hand.grip->id);
    return vent == model.exhaust.end() || vent->whole ? std::vector<std::string>{}
           : vent->line.empty()                       ? place(vent->at)
                                                      : stretch(vent->from_m, vent->to_m);
  }
  const auto obstacle = find(model.obstacles, hand.grip->id);
  return obstacle == model.obstacles.end() || obstacle->plane.empty() ? std::vector<std::string>{}
                                                                      : place(obstacle->at);
}

void draw_drag(const Hand& hand, const Input& input, const Look& look, Recorder& recorder) {
  const std::vector<std::string> lines = drag_words(hand, look.assessment.model, look.state.style);
  if (lines.empty()) {
    return;
  }
  const float s = ui_scale();
  ImFont* bold = font(Font::bold);
  ImFont* plain = font(Font::text);
  const auto size_of = [](ImFont* letters, const std::string& words) {
    return letters->CalcTextSizeA(letters->FontSize, 1e6F, 0.0F, words.c_str());
  };
  const ImVec2 first = size_of(bold, lines[0]);
  const ImVec2 second = size_of(plain, lines[1]);
  const float width = std::max(first.x, second.x) + 16 * s;
  // Beside the pointer, on the side that has room.
  const auto x = static_cast<float>(input.at.x);
  const float left = x + 18 * s + width < static_cast<float>(look.width_px) - panel_width()
                         ? x + 18 * s
                         : x - 18 * s - width;
  const ImVec2 low{left, static_cast<float>(input.at.y) + 14 * s};
  const ImVec2 high{low.x + width, low.y + first.y + second.y + 12 * s};
  ImDrawList& list = *ImGui::GetForegroundDrawList();
  list.AddRectFilled(low, high, packed(draw::card, 0.97F), 4 * s);
  list.AddRect(low, high, packed(draw::ink), 4 * s, 0, 1.4F * s);
  list.AddText(bold, bold->FontSize, {low.x + 8 * s, low.y + 5 * s}, packed(draw::ink),
               lines[0].c_str());
  list.AddText(plain, plain->FontSize, {low.x + 8 * s, low.y + first.y + 7 * s}, packed(draw::ink),
               lines[1].c_str());
  recorder.add(
      {"drag/words", "text", lines[0] + ", " + lines[1], low.x, low.y, width, high.y - low.y});
}

}  // namespace ridgeward::panels
