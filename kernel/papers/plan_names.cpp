#include "papers/plan_names.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string_view>

namespace ridgeward::papers {

namespace {

using surface::LineKind;

constexpr double name_mm = 2.4;
constexpr double small_name_mm = 2.0;
constexpr double least_label_line_mm = 9.0;
constexpr double slot_half_mm = 0.65;
constexpr double vent_half_mm = 0.8;
constexpr double box_half_mm = 1.4;
constexpr double line_half_mm = 0.7;
constexpr double near_mm = 14.0;  ///< of names at the end of a line
constexpr double far_mm = 60.0;
constexpr double quarter = 0.5 * std::numbers::pi;

/// "A" to "Z", "AA" and on, without letters that are read as figures or as north.
std::string letter_of(std::size_t index) {
  constexpr std::string_view all = "ABCDEFGHJKLMPQRSTUVWXYZ";
  const std::string letter(1, all[index % all.size()]);
  return index < all.size() ? letter : letter_of(index / all.size() - 1) + letter;
}

/// Whether a line of the page enters the box of a text.
bool crosses(const polygon::Loops& loops, const polygon::Loop& box) {
  const polygon::Box bounds = polygon::box_of(box);
  for (const polygon::Loop& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 from = loop[i];
      const glm::dvec2 to = loop[(i + 1) % loop.size()];
      if (clipped(from, to, bounds.low, bounds.high).size() == 2) {
        return true;
      }
    }
  }
  return false;
}

double height_on(const surface::Plane& plane, glm::dvec2 p) {
  const glm::dvec3 n = plane.frame.normal;
  const glm::dvec3 o = plane.frame.origin;
  return o.z - (n.x * (p.x - o.x) + n.y * (p.y - o.y)) / n.z;
}

/// Slopes, so that its length on the plan is not its own.
bool is_sloping(const surface::Line& line) {
  return line.length_m > line.plan_length_m * (1.0 + 1e-6);
}

}  // namespace

std::vector<OpeningName> opening_names(const Assessment& a) {
  std::vector<OpeningName> names;
  for (const vents::Slot& slot : a.vents.slots) {
    std::vector<glm::dvec3> places;
    for (const double share : {0.5, 0.25, 0.75, 0.1, 0.9}) {
      places.push_back(slot.from + share * (slot.to - slot.from));
    }
    names.push_back({slot.id, {slot.id}, std::move(places), slot.from, slot.to});
  }
  const auto& all = a.vents.exhausts;
  const auto is_piece = [&](std::size_t i) { return all[ExhaustId(i)].line.is_none(); };
  for (std::size_t i = 0; i < all.size();) {
    const vents::Exhaust& first = all[ExhaustId(i)];
    std::size_t end = i + 1;
    OpeningName name{first.id, {first.id}, {(first.from + first.to) / 2.0}, first.from, first.to};
    while (is_piece(i) && end < all.size() && is_piece(end) &&
           all[ExhaustId(end)].product == first.product &&
           all[ExhaustId(end)].plane == first.plane) {
      name.ids.push_back(all[ExhaustId(end)].id);
      name.at.push_back(all[ExhaustId(end)].from);
      name.text = first.id + " to " + all[ExhaustId(end)].id;
      ++end;
    }
    names.push_back(std::move(name));
    i = end;
  }
  return names;
}

PlanNames::PlanNames(const Assessment& assessment, const PlanScale& scale, units::Style style,
                     Page& page)
    : a_(assessment), scale_(scale), style_(style), room_(page, scale.frame) {
  for (const surface::Plane& plane : a_.surface.planes) {
    Face face;
    for (const surface::Loop& loop : plane.loops) {
      face.loops.emplace_back();
      for (const glm::dvec3& corner : surface::corners(a_.surface, loop)) {
        face.loops.back().push_back(at(corner));
        face.box.add(face.loops.back().back());
      }
    }
    faces_.push_back(std::move(face));
  }
  block_symbols();
}

void PlanNames::block_symbols() {
  for (const vents::Slot& slot : a_.vents.slots) {
    room_.block(at(slot.from), at(slot.to), slot_half_mm);
  }
  for (const vents::Exhaust& exhaust : a_.vents.exhausts) {
    const glm::dvec2 from = at(exhaust.from);
    const glm::dvec2 to = at(exhaust.to);
    if (glm::length(to - from) > 0.1) {
      room_.block(from, to, vent_half_mm);
    } else {
      room_.block(from - glm::dvec2{box_half_mm, 0.0}, from + glm::dvec2{box_half_mm, 0.0},
                  box_half_mm);
    }
  }
  for (const surface::Region& region : a_.surface.regions) {
    polygon::Loop loop;
    for (const glm::dvec2 uv : region.outline_uv) {
      loop.push_back(at(a_.surface.planes[region.plane].frame.at(uv)));
    }
    for (polygon::Loop& piece : polygon::convex_pieces({loop})) {
      room_.block(std::move(piece));
    }
  }
  for (const surface::Line& line : a_.surface.lines) {
    if (line.kind == LineKind::wall_edge || line.plan_length_m < 1e-6) {
      continue;
    }
    const glm::dvec2 from = at(a_.surface.nodes[line.from]);
    const glm::dvec2 to = at(a_.surface.nodes[line.to]);
    const bool is_wide = line.kind == LineKind::ridge || line.kind == LineKind::eave;
    room_.cross(from, to, is_wide ? 0.7 : 0.3);
  }
}

bool PlanNames::is_over_roof(glm::dvec2 page) const {
  return std::any_of(faces_.begin(), faces_.end(),
                     [&](const Face& face) { return polygon::contains(face.loops, page); });
}

/// Whether the plane is the uppermost one there.
bool PlanNames::is_seen(PlaneId plane, glm::dvec2 page) const {
  if (!polygon::contains(faces_[plane.value].loops, page)) {
    return false;
  }
  const glm::dvec2 p = scale_.from(page);
  const double own = height_on(a_.surface.planes[plane], p);
  for (const PlaneId other : a_.surface.planes.ids()) {
    if (other != plane && polygon::contains(faces_[other.value].loops, page) &&
        height_on(a_.surface.planes[other], p) > own + 1e-6) {
      return false;
    }
  }
  return true;
}

bool PlanNames::is_within(PlaneId plane, const Lines& label) const {
  const Face& face = faces_[plane.value];
  for (const Text& text : label) {
    const polygon::Loop box = box_around(text, 0.5);
    if (crosses(face.loops, box)) {
      return false;
    }
    for (std::size_t i = 0; i < box.size(); ++i) {
      if (!is_seen(plane, box[i]) || !is_seen(plane, (box[i] + box[(i + 1) % 4]) / 2.0)) {
        return false;
      }
    }
  }
  return true;
}

/// Over the whole plane, those near its middle first.
std::vector<glm::dvec2> PlanNames::places_on(PlaneId plane) const {
  const Face& face = faces_[plane.value];
  const glm::dvec2 size = face.box.high - face.box.low;
  const double step = std::max(0.8, std::max(size.x, size.y) / 40.0);
  const glm::dvec2 middle = polygon::centroid(face.loops.front());
  std::vector<glm::dvec2> places{middle};
  const auto columns = static_cast<int>(size.x / step);
  const auto rows = static_cast<int>(size.y / step);
  for (int column = 0; column <= columns; ++column) {
    for (int row = 0; row <= rows; ++row) {
      places.push_back(face.box.low + step * glm::dvec2{column + 0.5, row + 0.5});
    }
  }
  std::erase_if(places, [&](glm::dvec2 p) { return !polygon::contains(face.loops, p); });
  std::stable_sort(places.begin(), places.end(), [&](glm::dvec2 a, glm::dvec2 b) {
    return glm::length(a - middle) < glm::length(b - middle);
  });
  return places;
}

void PlanNames::plane(PlaneId id) {
  const surface::Plane& plane = a_.surface.planes[id];
  const std::string pitch = units::show_pitch(plane.pitch, style_);
  const std::string line = plane.id + "  " + pitch;
  const std::string letter = letter_of(keyed_.size());
  struct Form {
    std::vector<std::string> words;
    double size_mm;
    double turned;
  };
  const std::array<Form, 10> forms{{{{line}, name_mm, 0.0},
                                    {{plane.id, pitch}, name_mm, 0.0},
                                    {{line}, name_mm, -quarter},
                                    {{plane.id, pitch}, name_mm, -quarter},
                                    {{line}, small_name_mm, 0.0},
                                    {{plane.id, pitch}, small_name_mm, 0.0},
                                    {{line}, small_name_mm, -quarter},
                                    {{plane.id, pitch}, small_name_mm, -quarter},
                                    {{letter}, name_mm, 0.0},
                                    {{letter}, small_name_mm, 0.0}}};
  const std::vector<glm::dvec2> places = places_on(id);
  for (const Form& form : forms) {
    const bool is_letter = form.words.front() == letter && form.words.size() == 1;
    for (const glm::dvec2 place : places) {
      Lines label = lines_at(place, form.words, form.size_mm, form.turned);
      for (Text& text : label) {
        text.is_bold = true;
      }
      if (!is_within(id, label) || !room_.place(label)) {
        continue;
      }
      if (is_letter) {
        keyed_.push_back({letter, line});
      }
      return;
    }
  }
  for (const glm::dvec2 place : places) {
    Text label = label_at(place, letter);
    label.is_bold = true;
    if (is_seen(id, place) && room_.place_with_leader(place, label, far_mm)) {
      keyed_.push_back({letter, line});
      return;
    }
  }
}

void PlanNames::planes() {
  for (const PlaneId id : a_.surface.planes.ids()) {
    if (a_.surface.planes[id].cricket.empty()) {
      plane(id);
    }
  }
}

/// Along a line, on its outer side first, without touching it.
bool PlanNames::beside(glm::dvec2 from, glm::dvec2 to, double away_mm, Text label,
                       bool is_outer_first) {
  const glm::dvec2 d = to - from;
  label.turned_rad = readable(std::atan2(d.y, d.x));
  label.align = Align::middle;
  const glm::dvec2 down{-std::sin(label.turned_rad), std::cos(label.turned_rad)};
  const glm::dvec2 middle = (from + to) / 2.0;
  const bool is_roof_above = is_over_roof(middle - 1.5 * down);
  const bool is_below_first = is_outer_first && is_roof_above && !is_over_roof(middle + 1.5 * down);
  const auto is_placed = [&](double share, double away, bool is_below) {
    const double base = is_below ? away + 0.78 * label.size_mm : -(away + 0.24 * label.size_mm);
    label.at = from + share * d + base * down;
    return room_.place({label});
  };
  for (const double extra_mm : {0.0, 0.9, 1.8}) {
    for (const double share : {0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82}) {
      if (is_placed(share, away_mm + extra_mm, is_below_first) ||
          is_placed(share, away_mm + extra_mm, !is_below_first)) {
        return true;
      }
    }
  }
  return false;
}

void PlanNames::openings() {
  for (const OpeningName& name : opening_names(a_)) {
    const glm::dvec2 from = at(name.from);
    const glm::dvec2 to = at(name.to);
    const Text label = label_at(from, name.text);
    if (glm::length(to - from) > 1.0 && beside(from, to, vent_half_mm + 0.6, label, true)) {
      continue;
    }
    const auto is_placed = [&](double farthest_mm) {
      return std::any_of(name.at.begin(), name.at.end(), [&](const glm::dvec3& place) {
        return room_.place_with_leader(at(place), label, farthest_mm);
      });
    };
    if (!is_placed(near_mm) && !is_placed(far_mm)) {
      keyed_.push_back({"-", name.text + " has no room on this plan"});
    }
  }
}

void PlanNames::obstacles() {
  for (const surface::Region& region : a_.surface.regions) {
    polygon::Loop loop;
    for (const glm::dvec2 uv : region.outline_uv) {
      loop.push_back(at(a_.surface.planes[region.plane].frame.at(uv)));
    }
    const polygon::Box box = polygon::box_of(loop);
    const glm::dvec2 middle = (box.low + box.high) / 2.0;
    Text label = label_at(middle, region.id);
    label.size_mm = small_name_mm;
    const std::array<glm::dvec2, 2> above{glm::dvec2{box.low.x, box.low.y},
                                          glm::dvec2{box.high.x, box.low.y}};
    const std::array<glm::dvec2, 2> below{glm::dvec2{box.low.x, box.high.y},
                                          glm::dvec2{box.high.x, box.high.y}};
    if (!beside(above[0], above[1], 0.6, label, false) &&
        !beside(below[0], below[1], 0.6, label, false)) {
      room_.place_with_leader(middle, label, far_mm);
    }
  }
}

void PlanNames::lengths() {
  for (const surface::Line& line : a_.surface.lines) {
    const glm::dvec2 from = at(a_.surface.nodes[line.from]);
    const glm::dvec2 to = at(a_.surface.nodes[line.to]);
    if (line.kind == LineKind::wall_edge || glm::length(to - from) < least_label_line_mm) {
      continue;
    }
    const std::string mark = is_sloping(line) ? " *" : "";
    beside(from, to, line_half_mm + 0.35, label_at({}, units::show(line.length_m, style_) + mark),
           true);
  }
}

}  // namespace ridgeward::papers
