#include "panels/plan_tool.hpp"

#include "base/segment.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace ridgeward::panels {
namespace {

constexpr double corner_reach_px = 8.0;
constexpr double edge_reach_px = 6.0;
constexpr double straighten_within_deg = 10.0;
constexpr double least_grid_px = 7.0;

/// On the level or the upright through one of `points`, each axis by itself.
void align(Snap& snap, const std::vector<glm::dvec2>& points, double reach_m, Snap::To to,
           std::array<bool, 2>& held) {
  for (const int axis : {0, 1}) {
    if (held.at(static_cast<std::size_t>(axis))) {
      continue;
    }
    double nearest = reach_m;
    for (const glm::dvec2 point : points) {
      if (std::abs(point[axis] - snap.at[axis]) <= nearest) {
        nearest = std::abs(point[axis] - snap.at[axis]);
        held.at(static_cast<std::size_t>(axis)) = true;
        snap.to = to;
        snap.guide = point;
      }
    }
    if (held.at(static_cast<std::size_t>(axis))) {
      snap.at[axis] = (*snap.guide)[axis];
    }
  }
}

}  // namespace

glm::dvec2 PlanView::pixel(glm::dvec2 at) const {
  const glm::dvec2 way = (at - middle_m) * px_per_m;
  return middle_px + glm::dvec2{way.x, -way.y};
}

glm::dvec2 PlanView::place(glm::dvec2 pixel) const {
  const glm::dvec2 way = (pixel - middle_px) / px_per_m;
  return middle_m + glm::dvec2{way.x, -way.y};
}

const char* words_of(Snap::To to) {
  constexpr std::array<const char*, 6> words{"",
                                             "on the grid",
                                             "on a corner",
                                             "in line with a corner",
                                             "at a right angle",
                                             "closes the outline"};
  return words.at(static_cast<std::size_t>(to));
}

Snap snapped(glm::dvec2 at, const SnapField& field) {
  if (field.first && glm::distance(at, *field.first) <= field.reach_m) {
    return {*field.first, Snap::To::closing, {}};
  }
  for (const glm::dvec2 corner : field.corners) {
    if (glm::distance(at, corner) <= field.reach_m) {
      return {corner, Snap::To::corner, {}};
    }
  }
  Snap snap{at, Snap::To::nothing, {}};
  std::array<bool, 2> held{false, false};
  if (field.from) {
    align(snap, {*field.from}, field.reach_m, Snap::To::right_angle, held);
  }
  std::vector<glm::dvec2> others = field.corners;
  if (field.first) {
    others.push_back(*field.first);
  }
  align(snap, others, field.reach_m, Snap::To::extension, held);
  for (const int axis : {0, 1}) {
    if (!held.at(static_cast<std::size_t>(axis)) && field.grid_m > 0.0) {
      snap.at[axis] = std::round(snap.at[axis] / field.grid_m) * field.grid_m;
      snap.to = snap.to == Snap::To::nothing ? Snap::To::grid : snap.to;
    }
  }
  snap.at = {units::on_grid(snap.at.x), units::on_grid(snap.at.y)};
  return snap;
}

double grid_step_m(const PlanView& view, units::Style style) {
  const std::vector<double> steps =
      style == units::Style::metric ? std::vector<double>{0.1, 0.5, 1.0, 5.0, 10.0}
                                    : std::vector<double>{0.5 * units::foot_m, units::foot_m,
                                                          4 * units::foot_m, 20 * units::foot_m};
  for (const double step : steps) {
    if (step * view.px_per_m >= least_grid_px) {
      return step;
    }
  }
  return steps.back();
}

PlanGrip grip_at(const model::RoofModel& model, const PlanView& view, glm::dvec2 pixel) {
  PlanGrip grip;
  double nearest = corner_reach_px;
  for (const model::Part& part : model.parts) {
    for (std::size_t i = 0; i < part.outline.size(); ++i) {
      const double distance = glm::distance(view.pixel(part.outline[i]), pixel);
      if (distance <= nearest) {
        nearest = distance;
        grip = {PlanGrip::What::corner, part.id, i};
      }
    }
  }
  if (grip.what == PlanGrip::What::corner) {
    return grip;
  }
  nearest = edge_reach_px;
  for (const model::Part& part : model.parts) {
    for (std::size_t i = 0; i < part.outline.size(); ++i) {
      const double distance =
          segment::distance(view.pixel(part.outline[i]),
                            view.pixel(part.outline[(i + 1) % part.outline.size()]), pixel);
      if (distance <= nearest) {
        nearest = distance;
        grip = {PlanGrip::What::edge, part.id, i};
      }
    }
  }
  return grip;
}

std::optional<glm::dvec2> typed_place(const PlanTool& tool, const Snap& snap,
                                      units::LengthUnit unit) {
  const auto length = units::parse_length(tool.typed, unit);
  if (!length || *length <= 0.0 || tool.drawn.empty()) {
    return std::nullopt;
  }
  const glm::dvec2 way = snap.at - tool.drawn.back();
  const double reach = glm::length(way);
  if (reach <= 0.0) {
    return std::nullopt;
  }
  const glm::dvec2 at = tool.drawn.back() + *length / reach * way;
  return glm::dvec2{units::on_grid(at.x), units::on_grid(at.y)};
}

Snap straightened(const PlanTool& tool, const Snap& snap) {
  if (tool.drawn.empty() || snap.to == Snap::To::corner || snap.to == Snap::To::closing) {
    return snap;
  }
  const glm::dvec2 from = tool.drawn.back();
  const glm::dvec2 way = snap.at - from;
  std::vector<glm::dvec2> straight{{1.0, 0.0}, {0.0, 1.0}};
  if (tool.drawn.size() > 1 && tool.drawn[tool.drawn.size() - 2] != from) {
    const glm::dvec2 before = glm::normalize(from - tool.drawn[tool.drawn.size() - 2]);
    straight.push_back(before);
    straight.emplace_back(-before.y, before.x);
  }
  const double reach = glm::length(way);
  double most = reach * std::cos(glm::radians(straighten_within_deg));
  Snap turned = snap;
  for (const glm::dvec2 line : straight) {
    const double along = glm::dot(way, line);
    if (std::abs(along) > most) {
      most = std::abs(along);
      turned = {from + std::copysign(reach, along) * line, Snap::To::right_angle, {}};
    }
  }
  return turned;
}

const char* no_length(units::LengthUnit unit) {
  return unit == units::LengthUnit::m ? "No length: give 2.4, 350 mm or 8' 6 1/2\"."
                                      : "No length: give 8' 6 1/2\", 9 1/4 in or 350 mm.";
}

std::string typed_trouble(const PlanTool& tool, units::LengthUnit unit) {
  const auto length = units::parse_length(tool.typed, unit);
  if (tool.drawn.empty()) {
    return "Click the first corner; lengths go on from there.";
  }
  if (!length || *length <= 0.0) {
    return no_length(unit);
  }
  return "Point where the wall goes, then Enter.";
}

PlanTool checked(PlanTool tool) {
  tool.meeting =
      tool.drawn.size() < 3 ? std::vector<model::SidePair>{} : model::meeting_sides(tool.drawn);
  tool.trouble.clear();
  if (!tool.meeting.empty()) {
    const auto [first, second] = tool.meeting.front();
    tool.trouble = fmt::format(
        "Walls {} and {} meet, where the cross is: they would make no house. Back takes the last "
        "corner away.",
        first + 1, second + 1);
  }
  return tool;
}

PlanTool pointed(PlanTool tool, glm::dvec2 way, double step_m) {
  constexpr int first_steps = 10;
  tool.is_keyed = true;
  if (tool.drawn.empty()) {
    tool.pointer_m = glm::round(tool.pointer_m / step_m + way) * step_m;
    return tool;
  }
  const glm::dvec2 from = tool.drawn.back();
  const glm::dvec2 now = tool.pointer_m - from;
  const double along = glm::dot(now, way);
  const bool is_in_line = std::abs(now.x * way.y - now.y * way.x) < 1e-9 && along != 0.0;
  // Pointed against its way it comes back, and turns round where the corner is reached.
  const bool goes_on = is_in_line && (along > 0.0 || along < -1.5 * step_m);
  tool.pointer_m = from + (goes_on ? along + step_m : first_steps * step_m) * way;
  return tool;
}

PlanTool redrawn(PlanTool tool, std::vector<glm::dvec2> drawn) {
  tool.drawn = std::move(drawn);
  tool.typed.clear();
  tool.trouble.clear();
  tool.meeting.clear();
  return tool;
}

glm::dvec2 meeting_place(const std::vector<glm::dvec2>& outline, model::SidePair sides) {
  const glm::dvec2 a = outline[sides.first];
  const glm::dvec2 b = outline[(sides.first + 1) % outline.size()];
  const glm::dvec2 c = outline[sides.second];
  const glm::dvec2 d = outline[(sides.second + 1) % outline.size()];
  const auto cross = [](glm::dvec2 p, glm::dvec2 q) { return p.x * q.y - p.y * q.x; };
  const double facing = cross(b - a, d - c);
  const double share = facing == 0.0 ? -1.0 : cross(c - a, d - c) / facing;
  if (share >= 0.0 && share <= 1.0) {
    return a + share * (b - a);
  }
  // On one line, or touching by a rounding: the end of one that is nearest to the other.
  std::array<glm::dvec2, 4> ends{segment::nearest(a, b, c), segment::nearest(a, b, d),
                                 segment::nearest(c, d, a), segment::nearest(c, d, b)};
  const auto off = [&](glm::dvec2 p) {
    return segment::distance(a, b, p) + segment::distance(c, d, p);
  };
  return *std::min_element(ends.begin(), ends.end(),
                           [&](glm::dvec2 p, glm::dvec2 q) { return off(p) < off(q); });
}

double dragged_out_m(const model::Part& part, std::size_t edge, glm::dvec2 by) {
  const glm::dvec2 a = part.outline[edge];
  const glm::dvec2 way = glm::normalize(part.outline[(edge + 1) % part.outline.size()] - a);
  return glm::dot(by, glm::dvec2{way.y, -way.x});
}

PlanTool fitted_plan(PlanTool tool, const model::RoofModel& model, glm::dvec2 size_px) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  glm::dvec2 low(infinity);
  glm::dvec2 high(-infinity);
  for (const model::Part& part : model.parts) {
    for (const glm::dvec2 corner : part.outline) {
      low = glm::min(low, corner);
      high = glm::max(high, corner);
    }
  }
  if (model.parts.empty()) {
    low = glm::dvec2(-3.0);
    high = glm::dvec2(22.0, 15.0);
  }
  constexpr double share = 0.72;  // of the view, so that there is room to draw around it
  tool.middle_m = (low + high) / 2.0;
  const glm::dvec2 size = glm::max(high - low, glm::dvec2(1.0));
  tool.px_per_m = share * std::min(size_px.x / size.x, size_px.y / size.y);
  return tool;
}

}  // namespace ridgeward::panels
