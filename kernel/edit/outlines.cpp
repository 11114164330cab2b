// Corners and edges of a part's outline.
#include "edit/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::edit {

namespace {

constexpr double same_place_m = 1e-6;
constexpr double in_one_line = 1e-6;  // sine of the angle between two sides

bool is_same(glm::dvec2 a, glm::dvec2 b) { return glm::distance(a, b) < same_place_m; }

/// A corner, by its number, of a part that is there.
struct At {
  model::Part* part = nullptr;
  std::size_t index = 0;
  std::size_t count = 0;
  std::size_t next() const { return (index + 1) % count; }
  std::size_t previous() const { return (index + count - 1) % count; }
};

At find(model::RoofModel& model, const std::string& id, std::size_t index, bool is_edge,
        Faults& faults) {
  model::Part* part = part_named(model, id, faults);
  if (part == nullptr) {
    return {};
  }
  if (index >= part->outline.size()) {
    faults.push_back({is_edge ? "edit.edge_unknown" : "edit.corner_unknown", "",
                      "part " + id + " has no " + (is_edge ? "edge " : "corner ") +
                          std::to_string(index) + " in its outline",
                      "choose one from 0 to " + std::to_string(part->outline.size() - 1)});
    return {};
  }
  return {part, index, part->outline.size()};
}

/// Moves a corner and the corners of ceilings that lie at its place.
void move_to(model::RoofModel& model, glm::dvec2& corner, glm::dvec2 to) {
  const glm::dvec2 from = corner;
  for (model::Ceiling& ceiling : model.ceilings) {
    for (glm::dvec2& point : ceiling.outline) {
      point = is_same(point, from) ? to : point;
    }
  }
  corner = to;
}

/// Where the line through `corner` + `shift` along `way` meets the line of `side`; straight on by
/// `shift` where the two run alike.
glm::dvec2 slid(glm::dvec2 corner, glm::dvec2 shift, glm::dvec2 way, glm::dvec2 side) {
  const double sine = (way.x * side.y - way.y * side.x) / glm::length(side);
  if (std::abs(sine) < in_one_line) {
    return corner + shift;
  }
  // corner + t side lies on the moved line: its distance along the edge's normal is that of shift.
  const glm::dvec2 normal{way.y, -way.x};
  return corner + glm::dot(shift, normal) / glm::dot(side, normal) * side;
}

/// Edge numbers after `at` moved by `by`: courtyards are numbered after the outline.
Renumbering moved_up(const model::Part& part, std::size_t at, int by) {
  Renumbering change{part.id, part.id, {}};
  for (std::size_t i = 0; i < part.edge_count(); ++i) {
    change.edges.emplace_back(i > at ? static_cast<std::size_t>(static_cast<long>(i) + by) : i);
  }
  return change;
}

}  // namespace

void apply(model::RoofModel& model, const MoveCorner& edit, Faults& faults) {
  if (const At at = find(model, edit.part, edit.corner, false, faults); at.part != nullptr) {
    move_to(model, at.part->outline[at.index], edit.to);
  }
}

void apply(model::RoofModel& model, const MoveEdge& edit, Faults& faults) {
  const At at = find(model, edit.part, edit.edge, true, faults);
  if (at.part == nullptr) {
    return;
  }
  const std::vector<glm::dvec2> old = at.part->outline;
  const glm::dvec2 a = old[at.index];
  const glm::dvec2 b = old[at.next()];
  const glm::dvec2 way = glm::normalize(b - a);
  const glm::dvec2 shift = edit.out_m * glm::dvec2{way.y, -way.x};
  const glm::dvec2 before = a - old[at.previous()];
  const glm::dvec2 after = old[(at.index + 2) % at.count] - b;
  move_to(model, at.part->outline[at.index], slid(a, shift, way, before));
  move_to(model, at.part->outline[at.next()], slid(b, shift, way, after));
}

void apply(model::RoofModel& model, const InsertCorner& edit, Faults& faults, Said& said) {
  const At at = find(model, edit.part, edit.edge, true, faults);
  if (at.part == nullptr) {
    return;
  }
  const double along_m = glm::distance(edit.at, at.part->outline[at.index]);
  renumber(model, moved_up(*at.part, at.index, 1), said);
  model::Part& part = *at.part;
  const auto step = static_cast<std::ptrdiff_t>(at.index);
  part.outline.insert(part.outline.begin() + step + 1, edit.at);
  const model::Edge like = part.edges[at.index];
  part.edges.insert(part.edges.begin() + step, like);
  // What was measured goes to the half that it stands on.
  model::MeasuredEdge beyond{static_cast<int>(at.index) + 1, {}, {}};
  const auto part_at = [along_m](std::vector<double>& here, std::vector<double>& there) {
    for (const double at_m : here) {
      if (at_m >= along_m) {
        there.push_back(at_m - along_m);
      }
    }
    std::erase_if(here, [&](double at_m) { return at_m >= along_m; });
  };
  for (model::MeasuredEdge& measured : part.framing.measured) {
    if (measured.edge != static_cast<int>(at.index)) {
      continue;
    }
    part_at(measured.at_m, beyond.at_m);
    part_at(measured.stopped_m, beyond.stopped_m);
  }
  const auto is_empty = [](const model::MeasuredEdge& one) {
    return one.at_m.empty() && one.stopped_m.empty();
  };
  std::erase_if(part.framing.measured, is_empty);
  if (!is_empty(beyond)) {
    part.framing.measured.push_back(std::move(beyond));
  }
}

void apply(model::RoofModel& model, const RemoveCorner& edit, Faults& faults, Said& said) {
  const At at = find(model, edit.part, edit.corner, false, faults);
  if (at.part == nullptr) {
    return;
  }
  model::Part& part = *at.part;
  const glm::dvec2 gone = part.outline[at.index];
  const bool is_straight_on = [&] {
    const glm::dvec2 in = gone - part.outline[at.previous()];
    const glm::dvec2 out = part.outline[at.next()] - gone;
    return std::abs(in.x * out.y - in.y * out.x) < in_one_line * glm::length(in) * glm::length(out);
  }();
  const bool is_one = is_straight_on && part.edges[at.previous()] == part.edges[at.index];
  Renumbering change = moved_up(part, at.index, -1);
  // Corner 0 takes edge 0 with it: the last edge of the outline, one number down, stands for both.
  const std::size_t heir = at.index == 0 ? at.count - 2 : at.index - 1;
  change.edges[at.index] = is_one ? std::optional(heir) : std::nullopt;
  renumber(model, change, said);
  const auto step = static_cast<std::ptrdiff_t>(at.index);
  part.outline.erase(part.outline.begin() + step);
  part.edges.erase(part.edges.begin() + step);
  for (model::Ceiling& ceiling : model.ceilings) {
    if (ceiling.outline.size() > 3) {
      std::erase_if(ceiling.outline, [&](glm::dvec2 point) { return is_same(point, gone); });
    }
  }
}

void apply(model::RoofModel& model, const MovePart& edit, Faults& faults) {
  model::Part* part = part_named(model, edit.part, faults);
  if (part == nullptr) {
    return;
  }
  for (model::Ceiling& ceiling : model.ceilings) {
    const bool is_own =
        std::all_of(ceiling.outline.begin(), ceiling.outline.end(), [&](glm::dvec2 point) {
          return std::any_of(part->outline.begin(), part->outline.end(),
                             [&](glm::dvec2 corner) { return is_same(corner, point); });
        });
    for (glm::dvec2& point : ceiling.outline) {
      point += is_own ? edit.by : glm::dvec2(0.0);
    }
  }
  const auto move_loop = [&](std::vector<glm::dvec2>& loop) {
    for (glm::dvec2& point : loop) {
      point += edit.by;
    }
  };
  move_loop(part->outline);
  for (model::Hole& hole : part->holes) {
    move_loop(hole.outline);
  }
  for (std::vector<glm::dvec2>& opening : part->deck_openings) {
    move_loop(opening);
  }
}

}  // namespace ridgeward::edit
