#include "papers/marks.hpp"

#include "base/rays.hpp"
#include "vents/band.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ridgeward::papers {

namespace {

using surface::LineKind;

constexpr double same_place_m = 1e-4;
constexpr double probe_m = 1e-3;
constexpr double most_overhang_m = 3.0;
/// A roof that comes nearer to the one above leaves no room to hook a tape beneath it.
constexpr double least_gap_m = 0.2;

/// From the kinds of the lines that meet at a place; `corner` follows hip and valley.
std::string hook_words(const std::vector<LineKind>& kinds, const char* corner,
                       const char* otherwise) {
  const auto has = [&](LineKind kind) {
    return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
  };
  if (has(LineKind::rake)) {
    return "rake edge";
  }
  if (has(LineKind::valley)) {
    return std::string("valley") + corner;
  }
  if (has(LineKind::hip)) {
    return std::string("hip") + corner;
  }
  if (has(LineKind::sidewall) || has(LineKind::headwall) || has(LineKind::step_wall)) {
    return "wall";
  }
  return otherwise;
}

/// Kinds of the plane's lines at a place of it.
std::vector<LineKind> kinds_at(const Assessment& a, const surface::Plane& plane, glm::dvec2 uv) {
  std::vector<LineKind> kinds;
  const auto is_here = [&](NodeId node) {
    return glm::length(plane.frame.uv(a.surface.nodes[node]) - uv) < same_place_m;
  };
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = a.surface.lines[step.line];
      if (is_here(line.from) || is_here(line.to)) {
        kinds.push_back(line.kind);
      }
    }
  }
  return kinds;
}

/// A place at the border of a plane, and which ways the border and the plane go on from it.
struct BorderEnd {
  PlaneId plane;
  glm::dvec2 uv{0.0};
  glm::dvec2 out{0.0};  ///< along the border and beyond its end
  glm::dvec2 in{0.0};   ///< into the plane

  glm::dvec2 plan(const Assessment& a, double out_m) const {
    return glm::dvec2(a.surface.planes[plane].frame.at(uv + out_m * out + probe_m * in));
  }
};

/// How high the roof of a part stands over a place; none where it does not.
double room_above_m(const Assessment& a, std::size_t part, glm::dvec3 place) {
  double least = HUGE_VAL;
  for (const surface::Plane& plane : a.surface.planes) {
    if (plane.part == part &&
        polygon::contains(surface::plan_of(a.surface, plane), glm::dvec2(place))) {
      const glm::dvec3 n = plane.frame.normal;
      least = std::min(least, glm::dot(n, plane.frame.origin - place) / n.z);
    }
  }
  return least < HUGE_VAL ? least : 0.0;
}

/// Decks of a plane that go on out of sight, each with the part above it.
std::vector<std::pair<std::size_t, polygon::Loops>> hidden_decks(const Assessment& a, PlaneId id) {
  std::vector<std::pair<std::size_t, polygon::Loops>> all;
  for (const surface::Sheltered& deck : a.surface.sheltered_decks) {
    if (deck.plane == id) {
      all.emplace_back(a.surface.planes[deck.above].part, deck.plan);
    }
  }
  for (const surface::BlindDeck& deck : a.surface.blind_decks) {
    if (deck.plane == id && deck.cricket.empty()) {
      all.emplace_back(deck.part, surface::plan_of(deck.frame, deck.outline_uv));
    }
  }
  return all;
}

/// The part whose wall stands over a border of the plane that ends here; none at a chimney.
std::optional<std::size_t> part_over(const Assessment& a, const BorderEnd& end) {
  const surface::Plane& plane = a.surface.planes[end.plane];
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = a.surface.lines[step.line];
      const surface::Side& side = line.left_plane().is_none() ? line.left : line.right;
      const bool is_here =
          glm::length(plane.frame.uv(a.surface.nodes[line.from]) - end.uv) < same_place_m ||
          glm::length(plane.frame.uv(a.surface.nodes[line.to]) - end.uv) < same_place_m;
      const bool is_wall = line.kind == LineKind::sidewall || line.kind == LineKind::headwall;
      if (is_here && is_wall && side.of == surface::Side::Of::wall &&
          !a.surface.walls[side.index].is_at_chimney &&
          a.surface.walls[side.index].part != plane.part) {
        return a.surface.walls[side.index].part;
      }
    }
  }
  return std::nullopt;
}

/// The overhang at whose drip line the border is drawn to end; none where a wall stands there.
std::optional<Overhang> overhang_at(const Assessment& a, const BorderEnd& end) {
  const glm::dvec2 start = end.plan(a, 0.0);
  const glm::dvec2 out = end.plan(a, 1.0) - start;
  const auto to_wall_m = [&](std::size_t part) {
    return polygon::nearest_side(a.surface.wall_outlines[part], start, out);
  };
  for (const auto& [part, plan] : hidden_decks(a, end.plane)) {
    const double way_m = to_wall_m(part);
    if (way_m > 2 * probe_m && way_m < most_overhang_m &&
        polygon::contains(plan, end.plan(a, probe_m))) {
      const surface::Frame& frame = a.surface.planes[end.plane].frame;
      const bool goes_on =
          polygon::contains(plan, end.plan(a, way_m - probe_m)) &&
          room_above_m(a, part, frame.at(end.uv + probe_m * (end.out + end.in))) >= least_gap_m;
      return Overhang{a.model.parts[part].id, way_m, goes_on};
    }
  }
  const std::optional<std::size_t> part = part_over(a, end);
  const double way_m = part ? to_wall_m(*part) : 0.0;
  if (way_m > 2 * probe_m && way_m < most_overhang_m) {
    return Overhang{a.model.parts[*part].id, way_m, false};
  }
  return std::nullopt;
}

/// Names the end of a border by the overhang above it, where one is.
std::optional<Overhang> take_overhang(const Assessment& a, const BorderEnd& end,
                                      bool is_measured_on, std::string& hook) {
  std::optional<Overhang> over = hook == "wall" ? overhang_at(a, end) : std::nullopt;
  if (over && !(over->goes_on && is_measured_on)) {
    over->goes_on = false;
    hook = "drip line above (" + over->part + ")";
  }
  return over;
}

/// The eave (or pitch break) below a slot, end to end, in one with those that go on in its line.
vents::EaveLine eave_below(const Assessment& a, const vents::Slot& slot) {
  const double middle = (slot.start_m + slot.end_m) / 2;
  vents::EaveLine whole{slot.drip_v_m, slot.start_m, slot.end_m};
  bool is_found = false;
  std::vector<vents::EaveLine> eaves = vents::feet_of(a.surface, a.surface.planes[slot.plane]);
  std::erase_if(eaves, [&](const vents::EaveLine& eave) {
    return std::abs(eave.v_m - slot.drip_v_m) > same_place_m;
  });
  for (const vents::EaveLine& eave : eaves) {
    if (eave.from_u_m <= middle && middle <= eave.to_u_m) {
      whole = eave;
      is_found = true;
    }
  }
  for (std::size_t round = 0; is_found && round < eaves.size(); ++round) {
    for (const vents::EaveLine& eave : eaves) {
      if (std::abs(eave.to_u_m - whole.from_u_m) < same_place_m) {
        whole.from_u_m = eave.from_u_m;
      }
      if (std::abs(eave.from_u_m - whole.to_u_m) < same_place_m) {
        whole.to_u_m = eave.to_u_m;
      }
    }
  }
  return whole;
}

std::vector<LineKind> kinds_at_node(const Assessment& a, LineId own, NodeId node) {
  std::vector<LineKind> kinds;
  for (const LineId id : a.surface.lines.ids()) {
    const surface::Line& line = a.surface.lines[id];
    if (id != own && (line.from == node || line.to == node)) {
      kinds.push_back(line.kind);
    }
  }
  return kinds;
}

/// Thickness of the timber under a line; 0 where none is known, under trusses for instance.
double board_m(const Assessment& a, LineId line) {
  for (const framing::Member& member : a.framing.members) {
    if (member.line == line && (member.kind == framing::MemberKind::ridge_board ||
                                member.kind == framing::MemberKind::hip)) {
      return member.thickness_m;
    }
  }
  return 0.0;
}

ChalkedSide side_of(const Assessment& a, const vents::Exhaust& exhaust, PlaneId id) {
  const surface::Line& line = a.surface.lines[exhaust.line];
  const glm::dvec3 along = glm::normalize(a.surface.nodes[line.to] - a.surface.nodes[line.from]);
  const glm::dvec3 across = glm::cross(a.surface.planes[id].frame.normal, along);
  const glm::dvec2 level = glm::normalize(glm::dvec2{-along.y, along.x});
  // The board's faces are plumb: half its thickness, level, is more along the plane.
  const double spread = std::abs(glm::dot(glm::dvec2(across), level));
  const model::Product* product = a.product(exhaust.product);
  ChalkedSide side;
  side.plane = id;
  side.near_m = spread > 0.0 ? board_m(a, exhaust.line) / 2 / spread : 0.0;
  side.far_m = side.near_m + (product != nullptr ? product->slot.width_m : 0.0);
  return side;
}

/// A level border of a plane, from left to right, in one with those that go on in its line.
struct Border {
  LineId line;
  LineKind kind = LineKind::ridge;
  double from_u_m = 0.0;
  double to_u_m = 0.0;
  double v_m = 0.0;

  bool is_over(glm::dvec2 uv) const {
    return from_u_m <= uv.x + same_place_m && uv.x <= to_u_m + same_place_m;
  }
  bool is_foot() const { return kind == LineKind::eave; }
};

/// Whether a wall's line is but the drip line of a roof above, beneath which the plane goes on.
bool is_at_drip_line(const Assessment& a, LineId line) {
  if (a.surface.lines[line].kind != LineKind::headwall) {
    return false;
  }
  const auto& decks = a.surface.sheltered_decks;
  return std::any_of(decks.begin(), decks.end(), [&](const surface::Sheltered& deck) {
    return std::find(deck.lines.begin(), deck.lines.end(), line) != deck.lines.end();
  });
}

std::vector<Border> level_borders(const Assessment& a, const surface::Plane& plane) {
  std::vector<Border> all;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = a.surface.lines[step.line];
      const glm::dvec2 from = plane.frame.uv(a.surface.nodes[line.from]);
      const glm::dvec2 to = plane.frame.uv(a.surface.nodes[line.to]);
      if (std::abs(from.y - to.y) < same_place_m && !is_at_drip_line(a, step.line)) {
        all.push_back(
            {step.line, line.kind, std::min(from.x, to.x), std::max(from.x, to.x), from.y});
      }
    }
  }
  std::sort(all.begin(), all.end(),
            [](const Border& one, const Border& other) { return one.from_u_m < other.from_u_m; });
  for (Border& one : all) {
    for (const Border& before : all) {
      if (before.kind == one.kind && std::abs(before.v_m - one.v_m) < same_place_m &&
          std::abs(before.to_u_m - one.from_u_m) < same_place_m) {
        one.from_u_m = before.from_u_m;
      }
    }
  }
  return all;
}

/// The nearest border above a place of the plane, else the nearest below; none where both slant.
std::optional<Border> border_for_tape(const std::vector<Border>& all, glm::dvec2 uv) {
  std::optional<Border> above;
  std::optional<Border> below;
  for (const Border& one : all) {
    if (!one.is_over(uv)) {
      continue;
    }
    if (one.v_m >= uv.y && !one.is_foot() && (!above || one.v_m < above->v_m)) {
      above = one;
    }
    if (one.v_m < uv.y && (!below || one.v_m > below->v_m)) {
      below = one;
    }
  }
  return above ? above : below;
}

const char* border_words(LineKind kind) {
  switch (kind) {
    case LineKind::eave:
      return "eave";
    case LineKind::ridge:
      return "ridge";
    case LineKind::pitch_break:
      return "pitch break";
    case LineKind::shed_top:
      return "upper edge";
    default:
      return "wall";
  }
}

/// "foot" and "top" of a line that rises, else by the compass.
std::string end_of_line(const Assessment& a, NodeId here, NodeId there) {
  const glm::dvec3 d = a.surface.nodes[here] - a.surface.nodes[there];
  if (std::abs(d.z) > same_place_m) {
    return d.z < 0.0 ? "foot" : "top";
  }
  return compass_words(a, glm::dvec2(d)) + " end";
}

std::string end_words(const std::string& end, const std::string& hook) {
  return hook.rfind("end of", 0) == 0 ? end : end + " (" + hook + ")";
}

}  // namespace

std::string compass_words(const Assessment& assessment, glm::dvec2 direction) {
  static const std::array<const char*, 8> names{"north", "north-east", "east", "south-east",
                                                "south", "south-west", "west", "north-west"};
  const double north = assessment.model.site.north_deg * std::numbers::pi / 180;
  const double eighths = (std::atan2(direction.x, direction.y) - north) / (0.25 * std::numbers::pi);
  return names[static_cast<std::size_t>(((std::lround(eighths) % 8) + 8) % 8)];
}

std::string mark_words(double from_hook_m, units::Style style) {
  return from_hook_m > -same_place_m ? units::show(from_hook_m, style)
                                     : units::show(-from_hook_m, style) + " beyond";
}

std::string from_words(double from_hook_m, const std::string& hook, units::Style style) {
  const char* way = from_hook_m > -same_place_m ? " from the " : " the ";
  return mark_words(from_hook_m, style) + way + hook;
}

std::string over_words(const std::string& end, const Overhang& over, units::Style style) {
  const std::string way = units::show(over.to_wall_m, style);
  return over.goes_on ? fmt::format(
                            "{} the deck goes on {} beneath the overhang of {}: hook the tape on "
                            "the wall there, not at the drip line above.",
                            end, way, over.part)
                      : fmt::format(
                            "{} the place to measure from is plumb below the drip line of {}, {} "
                            "out from its wall.",
                            end, over.part, way);
}

std::string RidgeMarks::first_words() const { return end_words(first_end, first_hook); }
std::string RidgeMarks::last_words() const { return end_words(last_end, last_hook); }

std::string short_name(const std::string& id) { return id.substr(id.rfind('/') + 1); }

SlotMarks marks_of(const Assessment& assessment, const vents::Slot& slot) {
  const surface::Plane& plane = assessment.surface.planes[slot.plane];
  const vents::EaveLine eave = eave_below(assessment, slot);
  const model::Product* product = assessment.product(slot.product);
  SlotMarks marks;
  marks.left_hook = hook_words(kinds_at(assessment, plane, {eave.from_u_m, eave.v_m}), " corner",
                               "end of the eave");
  marks.right_hook = hook_words(kinds_at(assessment, plane, {eave.to_u_m, eave.v_m}), " corner",
                                "end of the eave");
  const auto end_at = [&](double u_m, double out) {
    return BorderEnd{slot.plane, {u_m, eave.v_m}, {out, 0.0}, {0.0, 1.0}};
  };
  marks.left_over = take_overhang(assessment, end_at(eave.from_u_m, -1.0), true, marks.left_hook);
  marks.right_over = take_overhang(assessment, end_at(eave.to_u_m, 1.0), true, marks.right_hook);
  const auto on_m = [](const std::optional<Overhang>& over) {
    return over && over->goes_on ? over->to_wall_m : 0.0;
  };
  const double left_u_m = eave.from_u_m - on_m(marks.left_over);
  const double right_u_m = eave.to_u_m + on_m(marks.right_over);
  marks.hook_u_m = left_u_m;
  marks.eave_m = right_u_m - left_u_m;
  marks.start_from_left_m = slot.start_m - left_u_m;
  marks.start_from_right_m = right_u_m - slot.start_m;
  marks.end_from_left_m = slot.end_m - left_u_m;
  marks.end_from_right_m = right_u_m - slot.end_m;
  marks.vent_from_left_m = slot.vent_from_m - left_u_m;
  marks.vent_end_from_left_m = slot.vent_to_m - left_u_m;
  marks.vent_high_m = slot.vent_low_m + (product != nullptr ? product->depth_m : 0.0);
  marks.length_m = slot.end_m - slot.start_m;
  marks.deck_m = assessment.model.parts[plane.part].deck_m;
  for (const vents::Crossing& crossing : slot.crossings) {
    const double from_left = marks.start_from_left_m + crossing.at_m;
    marks.rafters.push_back({crossing.member, from_left, marks.eave_m - from_left});
  }
  if (model::is_in_soffit(slot.kind)) {
    const double along_slope = plane.pitch.slope_factor();
    marks.soffit = SoffitMarks{slot.lower_line_m / along_slope, slot.upper_line_m() / along_slope,
                               (slot.wall_line_m - slot.upper_line_m()) / along_slope,
                               slot.width_m / along_slope};
  }
  return marks;
}

PlaceMarks place_of(const Assessment& assessment, const vents::Exhaust& exhaust) {
  const surface::Plane& plane = assessment.surface.planes[exhaust.plane];
  PlaceMarks marks;
  marks.hook_uv = exhaust.at_uv;
  for (const surface::Loop& loop : plane.loops) {
    for (const glm::dvec2 uv : surface::corners_uv(assessment.surface, plane.frame, loop)) {
      marks.from_left_m = std::max(marks.from_left_m, exhaust.at_uv.x - uv.x);
      marks.down_m = std::max(marks.down_m, uv.y - exhaust.at_uv.y);
      marks.hook_uv = uv.y > marks.hook_uv.y ? uv : marks.hook_uv;
    }
  }
  marks.hook = "highest corner";
  const std::optional<Border> border =
      border_for_tape(level_borders(assessment, plane), exhaust.at_uv);
  if (border) {
    const glm::dvec3 to_left = plane.frame.at({-1.0, 0.0}) - plane.frame.at({0.0, 0.0});
    marks.hook = "LEFT (" + compass_words(assessment, glm::dvec2(to_left)) + ") end of the " +
                 border_words(border->kind);
    marks.line = border->line;
    marks.hook_uv = {border->from_u_m, border->v_m};
    std::string end = hook_words(kinds_at(assessment, plane, marks.hook_uv), "", "");
    const BorderEnd left{
        exhaust.plane, marks.hook_uv, {-1.0, 0.0}, {0.0, border->is_foot() ? 1.0 : -1.0}};
    if (const auto over = take_overhang(assessment, left, true, end)) {
      marks.hook_uv.x -= over->goes_on ? over->to_wall_m : 0.0;
      marks.hook += (over->goes_on ? ", at the wall beneath the overhang of "
                                   : ", plumb below the drip line of ") +
                    over->part;
    }
  }
  const glm::dvec2 off = exhaust.at_uv - marks.hook_uv;
  marks.along_m = std::abs(off.x);
  marks.slope_m = std::abs(off.y);
  marks.is_up = off.y > 0.0;
  marks.is_to_left = !border && off.x < -same_place_m;
  return marks;
}

RidgeMarks marks_of(const Assessment& assessment, const vents::Exhaust& exhaust) {
  const surface::Line& line = assessment.surface.lines[exhaust.line];
  NodeId first = line.from;
  NodeId last = line.to;
  const auto misses = [&](NodeId node) {
    return std::abs(glm::length(exhaust.from - assessment.surface.nodes[node]) - exhaust.from_m);
  };
  if (misses(last) < misses(first)) {
    std::swap(first, last);
  }
  RidgeMarks marks;
  const char* end = line.kind == LineKind::hip ? "end of the hip" : "end of the ridge";
  marks.first_hook = hook_words(kinds_at_node(assessment, exhaust.line, first), "", end);
  marks.last_hook = hook_words(kinds_at_node(assessment, exhaust.line, last), "", end);
  const auto over_at = [&](NodeId here, NodeId there, std::string& hook) {
    const PlaneId plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    const surface::Frame& frame = assessment.surface.planes[plane].frame;
    const glm::dvec2 uv = frame.uv(assessment.surface.nodes[here]);
    const glm::dvec2 out = glm::normalize(uv - frame.uv(assessment.surface.nodes[there]));
    return take_overhang(assessment, {plane, uv, out, {0.0, -1.0}}, false, hook);
  };
  marks.first_over = over_at(first, last, marks.first_hook);
  marks.last_over = over_at(last, first, marks.last_hook);
  marks.first_end = end_of_line(assessment, first, last);
  marks.last_end = end_of_line(assessment, last, first);
  marks.line_m = line.length_m;
  marks.start_from_first_m = exhaust.from_m;
  marks.end_from_first_m = exhaust.to_m;
  marks.end_from_last_m = line.length_m - exhaust.to_m;
  for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
    if (!plane.is_none()) {
      const double deck = assessment.model.parts[assessment.surface.planes[plane].part].deck_m;
      marks.deck_m = marks.sides.empty() ? deck : std::min(marks.deck_m, deck);
      marks.sides.push_back(side_of(assessment, exhaust, plane));
    }
  }
  return marks;
}

std::vector<glm::dvec2> vent_strip(const vents::Slot& slot, const SlotMarks& marks) {
  const double low = slot.drip_v_m + slot.vent_low_m;
  const double high = slot.drip_v_m + marks.vent_high_m;
  std::vector<glm::dvec2> strip{{slot.vent_from_m, low},
                                {slot.vent_to_m, low},
                                {slot.vent_to_m, high},
                                {slot.vent_from_m, high}};
  const auto shorten = [&](const std::optional<vents::Mitre>& mitre, double sign, int lower,
                           int upper) {
    if (mitre) {
      // The longer edge is the upper one at a valley, the lower one at a hip.
      const auto shorter = static_cast<std::size_t>(mitre->is_valley ? lower : upper);
      strip[shorter].x += sign * mitre->offset_m;
    }
  };
  shorten(slot.left_mitre, 1.0, 0, 3);
  shorten(slot.right_mitre, -1.0, 1, 2);
  return strip;
}

}  // namespace ridgeward::papers
