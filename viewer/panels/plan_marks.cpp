// What lies under and on the plan's outlines: the grid with its scale, walls that meet.
#include "draw/palette.hpp"
#include "panels/edit_panels.hpp"
#include "panels/fields.hpp"
#include "panels/theme.hpp"

#include <glm/geometric.hpp>

#include <cmath>

namespace ridgeward::panels {
namespace {

ImVec2 at(glm::dvec2 p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

ImU32 grid_ink(bool is_main) { return packed(draw::faint_ink, is_main ? 0.22F : 0.08F); }

/// Every so manieth line is a main one.
int main_every(units::Style style) { return style == units::Style::metric ? 10 : 8; }

/// Words on a card of the paper's colour, their middle at `middle`.
void carded(ImDrawList& list, glm::dvec2 middle, glm::vec3 colour, const std::string& words) {
  const float s = ui_scale();
  const ImVec2 size = ImGui::CalcTextSize(words.c_str());
  const ImVec2 low{static_cast<float>(middle.x) - size.x / 2,
                   static_cast<float>(middle.y) - size.y / 2};
  list.AddRectFilled({low.x - 4 * s, low.y - 2 * s},
                     {low.x + size.x + 4 * s, low.y + size.y + 2 * s}, packed(draw::paper, 0.92F),
                     3 * s);
  list.AddText(low, packed(colour), words.c_str());
}

/// A side in dashes, with its number near its first corner.
void mark_side(ImDrawList& list, glm::dvec2 from, glm::dvec2 to, std::size_t number) {
  const double dash_px = 9.0 * ui_scale();
  const double length_px = glm::distance(from, to);
  const auto dashes = static_cast<int>(std::ceil(length_px / (1.6 * dash_px)));
  for (int i = 0; i < dashes; ++i) {
    const double d = 1.6 * dash_px * i;
    const double until = std::min(length_px, d + dash_px);
    list.AddLine(at(glm::mix(from, to, d / length_px)), at(glm::mix(from, to, until / length_px)),
                 packed(draw::bad), 4.0F * ui_scale());
  }
  carded(list, glm::mix(from, to, 0.22), draw::bad, std::to_string(number));
}

}  // namespace

void plan_grid(ImDrawList& list, const PlanView& view, const scene::Viewport& port,
               units::Style style) {
  const double step = grid_step_m(view, style);
  const glm::dvec2 low = view.place({port.x, port.y + port.height});
  const glm::dvec2 high = view.place({port.x + port.width, port.y});
  const int every = main_every(style);
  for (double x = std::floor(low.x / step); x * step < high.x; ++x) {
    const double x_px = view.pixel({x * step, 0}).x;
    list.AddLine(at({x_px, port.y}), at({x_px, port.y + port.height}),
                 grid_ink(std::fmod(x, every) == 0.0));
  }
  for (double y = std::floor(low.y / step); y * step < high.y; ++y) {
    const double y_px = view.pixel({0, y * step}).y;
    list.AddLine(at({port.x, y_px}), at({port.x + port.width, y_px}),
                 grid_ink(std::fmod(y, every) == 0.0));
  }
}

void plan_scale(ImDrawList& list, const PlanView& view, const scene::Viewport& port,
                units::Style style) {
  const float s = ui_scale();
  const double step = grid_step_m(view, style);
  const double bar_m = main_every(style) * step;
  const double bar_px = bar_m * view.px_per_m;
  const glm::dvec2 left{port.x + 16 * s, port.y + port.height - 16 * s};
  const glm::dvec2 right = left + glm::dvec2(bar_px, 0.0);
  const std::string words =
      length_text(bar_m, style) + "  \u00b7  small square " + length_text(step, style);
  const ImVec2 size = ImGui::CalcTextSize(words.c_str());
  const float wide = std::max(size.x, static_cast<float>(bar_px));
  list.AddRectFilled(at(left - glm::dvec2(6 * s, size.y + 10 * s)),
                     at(left + glm::dvec2(wide + 6 * s, 8 * s)), packed(draw::paper, 0.92F), 3 * s);
  list.AddLine(at(left), at(right), packed(draw::ink), 1.6F * s);
  for (const glm::dvec2 end : {left, right}) {
    list.AddLine(at(end - glm::dvec2(0, 4 * s)), at(end + glm::dvec2(0, 4 * s)), packed(draw::ink),
                 1.6F * s);
  }
  list.AddText(at(left - glm::dvec2(0.0, size.y + 5 * s)), packed(draw::ink), words.c_str());
}

void mark_snap(ImDrawList& list, const Snap& snap, const PlanView& view) {
  if (snap.guide) {
    list.AddLine(at(view.pixel(*snap.guide)), at(view.pixel(snap.at)), packed(draw::exhaust, 0.8F),
                 1.0F);
  }
  const char* words = words_of(snap.to);
  if (*words != '\0') {
    const ImVec2 p = at(view.pixel(snap.at));
    const ImVec2 size = ImGui::CalcTextSize(words);
    list.AddRectFilled({p.x + 10, p.y + 8}, {p.x + 16 + size.x, p.y + 12 + size.y},
                       packed(draw::paper, 0.92F));
    list.AddText({p.x + 13, p.y + 10}, packed(draw::faint_ink), words);
  }
}

void mark_length(ImDrawList& list, glm::dvec2 a, glm::dvec2 b, const PlanView& view,
                 units::Style style) {
  const glm::dvec2 pa = view.pixel(a);
  const glm::dvec2 pb = view.pixel(b);
  const double reach = glm::distance(pa, pb);
  if (reach < 46.0 * ui_scale()) {
    return;
  }
  const std::string text = length_text(glm::distance(a, b), style);
  const ImVec2 size = ImGui::CalcTextSize(text.c_str());
  const glm::dvec2 way = (pb - pa) / reach;
  const glm::dvec2 out{-way.y, way.x};
  const double away =
      4.0 * ui_scale() + std::abs(out.x) * size.x / 2 + std::abs(out.y) * size.y / 2;
  const glm::dvec2 middle = (pa + pb) / 2.0 + away * out;
  const ImVec2 low{static_cast<float>(middle.x) - size.x / 2,
                   static_cast<float>(middle.y) - size.y / 2};
  list.AddRectFilled({low.x - 2, low.y - 1}, {low.x + size.x + 2, low.y + size.y + 1},
                     packed(draw::paper, 0.85F));
  list.AddText(low, packed(draw::ink), text.c_str());
}

void mark_square(ImDrawList& list, glm::dvec2 middle, float half, ImU32 colour) {
  const float h = half * ui_scale();
  const ImVec2 p = at(middle);
  list.AddRectFilled({p.x - h, p.y - h}, {p.x + h, p.y + h}, colour);
}

void mark_meeting(ImDrawList& list, const PlanTool& tool, const PlanView& view) {
  if (tool.meeting.empty()) {
    return;
  }
  const model::SidePair sides = tool.meeting.front();
  const std::size_t count = tool.drawn.size();
  for (const std::size_t side : {sides.first, sides.second}) {
    mark_side(list, view.pixel(tool.drawn[side]), view.pixel(tool.drawn[(side + 1) % count]),
              side + 1);
  }
  const glm::dvec2 middle = view.pixel(meeting_place(tool.drawn, sides));
  const double arm = 9.0 * ui_scale();
  list.AddCircleFilled(at(middle), static_cast<float>(1.5 * arm), packed(draw::paper, 0.9F));
  list.AddCircle(at(middle), static_cast<float>(1.5 * arm), packed(draw::bad), 0, 2 * ui_scale());
  for (const double way : {1.0, -1.0}) {
    list.AddLine(at(middle + arm * glm::dvec2(-0.7, -0.7 * way)),
                 at(middle + arm * glm::dvec2(0.7, 0.7 * way)), packed(draw::bad), 3 * ui_scale());
  }
}

void mark_drawn(ImDrawList& list, const PlanTool& tool, std::optional<glm::dvec2> next,
                const PlanView& view, units::Style style) {
  std::vector<glm::dvec2> corners = tool.drawn;
  if (next && tool.meeting.empty()) {
    corners.push_back(*next);
  }
  for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
    list.AddLine(at(view.pixel(corners[i])), at(view.pixel(corners[i + 1])), packed(draw::intake),
                 2.6F * ui_scale());
    mark_length(list, corners[i], corners[i + 1], view, style);
  }
  for (const glm::dvec2 corner : corners) {
    mark_square(list, view.pixel(corner), 4.0F, packed(draw::intake));
  }
  mark_meeting(list, tool, view);
}

}  // namespace ridgeward::panels
