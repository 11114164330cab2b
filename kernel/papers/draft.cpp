#include "papers/draft.hpp"

#include "base/polygon.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ridgeward::papers {

namespace {

using surface::LineKind;

constexpr double label_mm = 2.4;
constexpr double tick_mm = 1.1;
constexpr double rung_step_mm = 3.3;

/// Inches of paper for a foot of house.
constexpr double per_foot(double inches) { return inches * units::inch_m / units::foot_m * 1000; }

const std::array<UsualScale, 9> foot_scales{{{per_foot(0.5), "1/2 in = 1 ft (1:24)"},
                                             {per_foot(0.375), "3/8 in = 1 ft (1:32)"},
                                             {per_foot(0.25), "1/4 in = 1 ft (1:48)"},
                                             {per_foot(0.1875), "3/16 in = 1 ft (1:64)"},
                                             {per_foot(0.125), "1/8 in = 1 ft (1:96)"},
                                             {per_foot(0.09375), "3/32 in = 1 ft (1:128)"},
                                             {per_foot(0.0625), "1/16 in = 1 ft (1:192)"},
                                             {per_foot(0.046875), "3/64 in = 1 ft (1:256)"},
                                             {per_foot(0.03125), "1/32 in = 1 ft (1:384)"}}};
const std::array<UsualScale, 9> metric_scales{{{40, "1:25"},
                                               {20, "1:50"},
                                               {13.3333333333333333, "1:75"},
                                               {10, "1:100"},
                                               {6.66666666666666667, "1:150"},
                                               {5, "1:200"},
                                               {4, "1:250"},
                                               {2.5, "1:400"},
                                               {1, "1:1000"}}};
const std::array<UsualScale, 6> foot_details{{{per_foot(1.5), "1 1/2 in = 1 ft (1:8)"},
                                              {per_foot(1), "1 in = 1 ft (1:12)"},
                                              {per_foot(0.75), "3/4 in = 1 ft (1:16)"},
                                              {per_foot(0.5), "1/2 in = 1 ft (1:24)"},
                                              {per_foot(0.375), "3/8 in = 1 ft (1:32)"},
                                              {per_foot(0.25), "1/4 in = 1 ft (1:48)"}}};
const std::array<UsualScale, 6> metric_details{{{125, "1:8"},
                                                {100, "1:10"},
                                                {66.6666666666666667, "1:15"},
                                                {50, "1:20"},
                                                {40, "1:25"},
                                                {20, "1:50"}}};

}  // namespace

std::span<const UsualScale> plan_scales(units::Style style) {
  return style == units::Style::feet_inches ? std::span<const UsualScale>(foot_scales)
                                            : std::span<const UsualScale>(metric_scales);
}

std::span<const UsualScale> detail_scales(units::Style style) {
  return style == units::Style::feet_inches ? std::span<const UsualScale>(foot_details)
                                            : std::span<const UsualScale>(metric_details);
}

UsualScale largest_fitting(std::span<const UsualScale> scales, glm::dvec2 size_m,
                           glm::dvec2 room_mm) {
  for (const UsualScale& one : scales) {
    if (size_m.x * one.mm_per_m <= room_mm.x && size_m.y * one.mm_per_m <= room_mm.y) {
      return one;
    }
  }
  return scales.back();
}

Stroke stroke_of(LineKind kind) {
  switch (kind) {
    case LineKind::eave:
      return {0.65, 0.0, {}};
    case LineKind::ridge:
      return {0.4, 0.0, {}};
    case LineKind::hip:
      return {0.3, 0.0, {4.0, 1.2}};
    case LineKind::valley:
      return {0.35, 0.0, {1.4, 1.0}};
    case LineKind::rake:
      return {0.25, 0.0, {}};
    case LineKind::shed_top:
      return {0.3, 0.0, {6.0, 0.7, 0.7, 0.7, 0.7, 0.7}};
    case LineKind::pitch_break:
      return {0.25, 0.0, {4.0, 1.0, 0.6, 1.0}};
    case LineKind::headwall:
      return {0.6, 0.45, {0.5, 0.5}};
    case LineKind::sidewall:
      return {0.6, 0.45, {2.0, 0.6}};
    default:
      return {0.6, 0.45, {}};
  }
}

void draw_roof_line(Page& page, LineKind kind, glm::dvec2 from, glm::dvec2 to) {
  if (kind != LineKind::ridge) {
    page.paths.push_back(segment(from, to, stroke_of(kind)));
    return;
  }
  page.paths.push_back(segment(from, to, {1.1, 0.0, {}}));
  page.paths.push_back(segment(from, to, {0.55, 1.0, {}}));
}

void draw_vent_band(Page& page, glm::dvec2 from, glm::dvec2 to) {
  page.paths.push_back(segment(from, to, {1.7, 0.0, {}}));
  page.paths.push_back(segment(from, to, {1.1, 1.0, {1.3, 0.7}}));
}

Path segment(glm::dvec2 from, glm::dvec2 to, const Stroke& stroke) {
  Path path;
  path.loops = {{from, to}};
  path.stroke = stroke;
  return path;
}

Path area_of(std::vector<std::vector<glm::dvec2>> loops, double shade) {
  Path path;
  path.loops = std::move(loops);
  path.is_closed = true;
  path.is_filled = true;
  path.fill_shade = shade;
  path.stroke.width_mm = 0.0;
  return path;
}

Path ring_about(glm::dvec2 middle, double radius_mm) {
  constexpr int corners = 24;
  std::vector<glm::dvec2> ring;
  ring.reserve(corners);
  for (int k = 0; k < corners; ++k) {
    const double angle = 2 * k * std::numbers::pi / corners;
    ring.push_back(middle + radius_mm * glm::dvec2{std::cos(angle), std::sin(angle)});
  }
  Path circle = area_of({ring}, 1.0);
  circle.stroke = {0.35, 0.0, {}};
  return circle;
}

void draw_arrow(Page& page, glm::dvec2 from, glm::dvec2 to, const Stroke& stroke) {
  constexpr double head_mm = 2.2;
  constexpr double half_mm = 0.75;
  const glm::dvec2 d = to - from;
  if (glm::length(d) < 1e-6) {
    return;
  }
  const glm::dvec2 along = glm::normalize(d);
  const glm::dvec2 side{-along.y, along.x};
  const glm::dvec2 neck = to - head_mm * along;
  page.paths.push_back(segment(from, neck, stroke));
  page.paths.push_back(area_of({{to, neck + half_mm * side, neck - half_mm * side}}, stroke.shade));
}

bool add_label(Page& page, Text text) {
  const polygon::Box box = polygon::box_of(box_of(text));
  for (const Text& other : page.texts) {
    if (polygon::box_of(box_of(other)).touches(box)) {
      return false;
    }
  }
  page.texts.push_back(std::move(text));
  return true;
}

Text label_at(glm::dvec2 at, std::string text, Align align) {
  Text label;
  label.at = at;
  label.text = std::move(text);
  label.size_mm = label_mm;
  label.align = align;
  label.has_halo = true;
  return label;
}

bool draw_dimension(Page& page, glm::dvec2 from, glm::dvec2 to, const std::string& text) {
  const double length = glm::length(to - from);
  const glm::dvec2 along = length > 0.0 ? (to - from) / length : glm::dvec2{1.0, 0.0};
  const glm::dvec2 up{along.y, -along.x};
  const Stroke thin{0.15, 0.0, {}};
  page.paths.push_back(segment(from, to, thin));
  for (const glm::dvec2 end : {from, to}) {
    page.paths.push_back(segment(end - tick_mm * up, end + tick_mm * up, thin));
    const glm::dvec2 slant = 0.8 * tick_mm * (along + up);
    page.paths.push_back(segment(end - slant, end + slant, {0.4, 0.0, {}}));
  }
  Text label = label_at((from + to) / 2.0 + 0.8 * up, text);
  label.turned_rad = std::atan2(along.y, along.x);
  if (add_label(page, label)) {
    return true;
  }
  label.align = Align::left;
  label.at = to + 2.2 * along - 0.85 * up;
  if (add_label(page, label)) {
    return true;
  }
  label.align = Align::right;
  label.at = from - 2.2 * along - 0.85 * up;
  return add_label(page, label);
}

void draw_hook_line(Page& page, glm::dvec2 end, glm::dvec2 hook, bool is_hook_seen) {
  const Stroke thin{0.15, 0.0, {}};
  const glm::dvec2 slant{0.8, -0.8};
  page.paths.push_back(segment(end - slant, end + slant, {0.4, 0.0, {}}));
  if (!is_hook_seen) {
    draw_arrow(page, end, hook, thin);
    return;
  }
  page.paths.push_back(segment(end, hook, thin));
  page.paths.push_back(
      segment(hook - glm::dvec2{0.0, 1.2}, hook + glm::dvec2{0.0, 1.2}, {0.4, 0.0, {}}));
}

void draw_tape_hook(Page& page, glm::dvec2 at, glm::dvec2 ring, const std::string& text) {
  page.paths.push_back(segment(at, ring, {0.35, 0.0, {}}));
  page.paths.push_back(ring_about(at, 0.6));
  page.paths.push_back(ring_about(ring, 1.9));
  Text label = label_at(ring + glm::dvec2{0.0, 0.9}, text);
  label.is_bold = true;
  label.has_halo = false;
  page.texts.push_back(std::move(label));
}

void number_beside(Page& page, glm::dvec2 middle, double half_mm, const std::string& text) {
  const double up = half_mm + 0.9;
  const double side = half_mm + 0.6 + 0.5 * text_width_mm(text, label_mm, true);
  for (const glm::dvec2 off :
       {glm::dvec2{0.0, -up}, glm::dvec2{0.0, up + 1.7}, glm::dvec2{side, 0.8},
        glm::dvec2{-side, 0.8}, glm::dvec2{0.0, -up - 3.0}, glm::dvec2{0.0, up + 4.7}}) {
    Text label = label_at(middle + off, text);
    label.is_bold = true;
    if (add_label(page, label)) {
      return;
    }
  }
}

void draw_north(Page& page, glm::dvec2 middle, glm::dvec2 north) {
  const glm::dvec2 side{-north.y, north.x};
  page.paths.push_back(area_of({{middle + 5.0 * north, middle - 4.0 * north + 2.0 * side,
                                 middle - 2.5 * north, middle - 4.0 * north - 2.0 * side}},
                               0.0));
  Text letter;
  letter.text = "N";
  letter.size_mm = 3.2;
  letter.is_bold = true;
  letter.align = Align::middle;
  letter.at = middle + 7.4 * north + glm::dvec2{0.0, 1.1};
  page.texts.push_back(letter);
}

void draw_ladder(Page& page, std::vector<Rung> rungs, double line_x, double text_x, double top_y) {
  std::sort(rungs.begin(), rungs.end(),
            [](const Rung& a, const Rung& b) { return a.y_mm > b.y_mm; });
  // From below upwards each makes room for itself; then from above downwards those that had to go
  // too high.
  std::vector<double> at(rungs.size());
  double below = 1e9;
  for (std::size_t i = 0; i < rungs.size(); ++i) {
    below = std::min(rungs[i].y_mm, below - rung_step_mm);
    at[i] = below;
  }
  double above = top_y - rung_step_mm;
  for (std::size_t i = rungs.size(); i-- > 0;) {
    above = std::max(at[i], above + rung_step_mm);
    at[i] = above;
  }
  for (std::size_t i = 0; i < rungs.size(); ++i) {
    const Stroke thin{0.12, 0.0, {}};
    page.paths.push_back(segment({line_x, rungs[i].y_mm}, {text_x - 1.0, at[i]}, thin));
    Text label = label_at({text_x, at[i] + 0.85}, rungs[i].text, Align::left);
    label.is_bold = rungs[i].is_bold;
    page.texts.push_back(std::move(label));
  }
}

std::vector<glm::dvec2> clipped(glm::dvec2 from, glm::dvec2 to, glm::dvec2 low, glm::dvec2 high) {
  double enter = 0.0;
  double leave = 1.0;
  const glm::dvec2 d = to - from;
  for (int axis = 0; axis < 2; ++axis) {
    if (std::abs(d[axis]) < 1e-12) {
      if (from[axis] < low[axis] || from[axis] > high[axis]) {
        return {};
      }
      continue;
    }
    const double a = (low[axis] - from[axis]) / d[axis];
    const double b = (high[axis] - from[axis]) / d[axis];
    enter = std::max(enter, std::min(a, b));
    leave = std::min(leave, std::max(a, b));
  }
  if (enter >= leave) {
    return {};
  }
  return {from + enter * d, from + leave * d};
}

}  // namespace ridgeward::papers
