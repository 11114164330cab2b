// Corners and edges of a part's outline.
#include "base/polygon.hpp"
#include "base/segment.hpp"

#include "edit/pieces.hpp"
#include "edit/stage.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

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

/// Number of a part's first edge on a courtyard.
std::size_t first_edge(const model::Part& part, std::size_t hole) {
  std::size_t first = part.edges.size();
  for (std::size_t i = 0; i < hole; ++i) {
    first += part.holes[i].edges.size();
  }
  return first;
}

/// How many corners two outlines begin and end alike.
struct Alike {
  std::size_t head = 0;
  std::size_t tail = 0;
};
Alike alike(const std::vector<glm::dvec2>& a, const std::vector<glm::dvec2>& b) {
  const std::size_t most = std::min(a.size(), b.size());
  Alike alike;
  while (alike.head < most && is_same(a[alike.head], b[alike.head])) {
    ++alike.head;
  }
  while (alike.tail < most - alike.head &&
         is_same(a[a.size() - 1 - alike.tail], b[b.size() - 1 - alike.tail])) {
    ++alike.tail;
  }
  return alike;
}

/// Where each edge of a courtyard goes when its outline becomes `to`: the new number within it.
std::vector<std::optional<std::size_t>> edges_onto(const std::vector<glm::dvec2>& from,
                                                   const std::vector<glm::dvec2>& to) {
  std::vector<std::optional<std::size_t>> edges(from.size());
  const Alike same = alike(from, to);
  for (std::size_t i = 0; i < from.size(); ++i) {
    if (from.size() == to.size() || i < same.head) {
      edges[i] = i;
    } else if (i + same.tail >= from.size()) {
      edges[i] = i + to.size() - from.size();
    }
  }
  // A corner put on the last edge or taken from it: the last edge stays one.
  for (std::optional<std::size_t>& edge : edges) {
    edge = edge && *edge >= to.size() ? std::nullopt : edge;
  }
  return edges;
}

const model::Edge& usual_edge(const model::Part& part) {
  for (const model::Edge& edge : part.edges) {
    if (model::bears_plane(edge.kind)) {
      return edge;
    }
  }
  return part.edges.front();
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

void apply(model::RoofModel& model, const PutHole& edit, Faults& faults, Said& said) {
  model::Part* part = part_named(model, edit.part, faults);
  if (part == nullptr) {
    return;
  }
  if (edit.hole > part->holes.size()) {
    faults.push_back(
        {"edit.hole_unknown", "", "part " + edit.part + " has no such courtyard", "add one first"});
    return;
  }
  model::Hole hole;
  hole.outline = edit.outline;
  if (polygon::area(hole.outline) > 0.0) {
    std::reverse(hole.outline.begin(), hole.outline.end());
  }
  hole.edges.assign(hole.outline.size(), usual_edge(*part));
  if (edit.hole == part->holes.size()) {
    part->holes.push_back(std::move(hole));
    return;
  }
  const model::Hole& old = part->holes[edit.hole];
  const auto onto = edges_onto(old.outline, hole.outline);
  const std::size_t first = first_edge(*part, edit.hole);
  Renumbering change{part->id, part->id, {}};
  for (std::size_t i = 0; i < part->edge_count(); ++i) {
    if (i < first) {
      change.edges.emplace_back(i);
    } else if (i - first < onto.size()) {
      const auto& to = onto[i - first];
      change.edges.push_back(to ? std::optional(first + *to) : std::nullopt);
      if (to) {
        hole.edges[*to] = old.edges[i - first];
      }
    } else {
      change.edges.emplace_back(i + hole.outline.size() - onto.size());
    }
  }
  renumber(model, change, said);
  part->holes[edit.hole] = std::move(hole);
}

void apply(model::RoofModel& model, const RemoveHole& edit, Faults& faults, Said& said) {
  model::Part* part = part_named(model, edit.part, faults);
  if (part == nullptr) {
    return;
  }
  if (edit.hole >= part->holes.size()) {
    faults.push_back({"edit.hole_unknown", "", "part " + edit.part + " has no such courtyard",
                      "choose one that is there"});
    return;
  }
  const std::size_t first = first_edge(*part, edit.hole);
  const std::size_t count = part->holes[edit.hole].edges.size();
  Renumbering change{part->id, part->id, {}};
  for (std::size_t i = 0; i < part->edge_count(); ++i) {
    const bool is_gone = i >= first && i < first + count;
    change.edges.push_back(is_gone ? std::nullopt : std::optional(i < first ? i : i - count));
  }
  renumber(model, change, said);
  part->holes.erase(part->holes.begin() + static_cast<std::ptrdiff_t>(edit.hole));
}

std::vector<glm::dvec2> free_square(const model::Part& part, units::LengthUnit unit) {
  constexpr int tried = 24;       // places in each direction
  constexpr double share = 0.35;  // half a side, of the way to the nearest wall
  polygon::Loops loops{part.outline};
  for (const model::Hole& hole : part.holes) {
    loops.push_back(hole.outline);
  }
  const polygon::Box box = polygon::box_of(part.outline);
  glm::dvec2 best = box.low;
  double room_m = 0.0;
  for (int i = 1; i < tried; ++i) {
    for (int k = 1; k < tried; ++k) {
      const glm::dvec2 at = box.low + glm::dvec2(i, k) / double{tried} * (box.high - box.low);
      double nearest = polygon::contains(loops, at) ? std::numeric_limits<double>::infinity() : 0.0;
      for (const polygon::Loop& loop : loops) {
        nearest = std::min(nearest, segment::distance_to_loop(loop, at));
      }
      if (nearest > room_m) {
        room_m = nearest;
        best = at;
      }
    }
  }
  const bool is_metric = unit == units::LengthUnit::m || unit == units::LengthUnit::mm;
  const double step = is_metric ? 0.1 : units::foot_m;
  const auto whole = [&](double m) { return units::on_grid(std::round(m / step) * step); };
  const double half = std::max(step, whole(share * room_m));
  const glm::dvec2 low{whole(best.x - half), whole(best.y - half)};
  const double side = 2 * half;
  return {low, {low.x + side, low.y}, low + side, {low.x, low.y + side}};
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
