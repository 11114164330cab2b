#include "papers/plane_drawing.hpp"

#include "base/polygon.hpp"
#include "papers/cairo.hpp"
#include "surface/sheltered.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ridgeward::papers {

namespace {

constexpr double mark_room_mm = 19.0;  // below the eave, for running dimensions that stand upright
constexpr double mark_mm = 2.1;
constexpr double dimension_mm = 2.4;  // letters
constexpr double row_mm = 5.5;
constexpr double least_border_label_mm = 14.0;
/// An enlarged end shows at least so much of the eave, and this much outside the slot.
constexpr double end_window_m = 0.5;
constexpr double beyond_m = 0.05;
constexpr double ladder_mm = 44.0;

std::vector<std::vector<glm::dvec2>> loops_uv(const Assessment& a, const surface::Plane& plane) {
  std::vector<std::vector<glm::dvec2>> loops;
  loops.reserve(plane.loops.size());
  for (const surface::Loop& loop : plane.loops) {
    loops.push_back(surface::corners_uv(a.surface, plane.frame, loop));
  }
  return loops;
}

/// "pitch break", as people write it.
std::string spaced_word(surface::LineKind kind) {
  std::string word = surface::word(kind);
  std::replace(word.begin(), word.end(), '_', ' ');
  return word;
}

class PlanePen {
 public:
  PlanePen(const Assessment& a, const PlaneView& view, units::Style style, Page& page)
      : a_(a), view_(view), plane_(a.surface.planes[view.plane]), style_(style), page_(page) {}

  void deck();
  void rafters(bool is_detail);
  void borders(bool has_labels);
  void slot(const vents::Slot& slot);
  bool rafter_marks(const std::vector<SlotId>& slots);
  void eave_dimensions(const std::vector<SlotId>& slots);
  void chalk_lines(const vents::Slot& slot, double text_x);
  void end_distance(const vents::Slot& slot, bool is_left);
  std::string length(double m) const { return units::show(m, style_); }

 private:
  void area(const std::vector<std::vector<glm::dvec2>>& loops, Path path);
  void line(glm::dvec2 from, glm::dvec2 to, const Stroke& stroke);
  void dead_bays(const vents::Slot& slot);

  const Assessment& a_;
  const PlaneView& view_;
  const surface::Plane& plane_;
  units::Style style_;
  Page& page_;
};

/// What of the loops lies in the window, drawn like `path`.
void PlanePen::area(const std::vector<std::vector<glm::dvec2>>& loops, Path path) {
  const polygon::Loop window{
      view_.low, {view_.high.x, view_.low.y}, view_.high, {view_.low.x, view_.high.y}};
  path.loops.clear();
  path.is_closed = true;
  for (const polygon::Loop& piece : polygon::convex_pieces(loops)) {
    polygon::Loop kept = polygon::overlap(piece, window);
    for (glm::dvec2& p : kept) {
      p = view_.at(p);
    }
    if (kept.size() > 2) {
      path.loops.push_back(std::move(kept));
    }
  }
  path.stroke.width_mm = 0.0;
  page_.paths.push_back(std::move(path));
}

void PlanePen::line(glm::dvec2 from, glm::dvec2 to, const Stroke& stroke) {
  const std::vector<glm::dvec2> kept = clipped(from, to, view_.low, view_.high);
  if (kept.size() == 2) {
    page_.paths.push_back(segment(view_.at(kept[0]), view_.at(kept[1]), stroke));
  }
}

void PlanePen::deck() {
  area(loops_uv(a_, plane_), area_of({}, 0.96));
  for (const surface::BlindDeck& deck : a_.surface.blind_decks) {
    if (deck.plane == view_.plane && deck.cricket.empty()) {
      Path hatch = area_of({}, 1.0);
      hatch.is_filled = false;
      hatch.hatch = {1.6, 0.25 * std::numbers::pi, 0.55};
      area(deck.outline_uv, hatch);
    }
  }
  for (const polygon::Loops& deck : surface::sheltered_uv(a_.surface, view_.plane)) {
    Path hatch = area_of({}, 1.0);
    hatch.is_filled = false;
    hatch.hatch = {1.6, 0.25 * std::numbers::pi, 0.55};
    area(deck, hatch);
  }
  for (const surface::Region& region : a_.surface.regions) {
    if (region.plane == view_.plane) {
      area({region.outline_uv}, area_of({}, 0.75));
      for (std::size_t i = 0; i < region.outline_uv.size(); ++i) {
        line(region.outline_uv[i], region.outline_uv[(i + 1) % region.outline_uv.size()],
             {0.25, 0.0, {}});
      }
    }
  }
}

/// Centre lines; in details both faces.
void PlanePen::rafters(bool is_detail) {
  const framing::PlaneFraming& own = a_.framing.planes[view_.plane];
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const framing::Member& member = a_.framing.members[MemberId(i)];
    const glm::dvec2 from = plane_.frame.uv(member.from);
    const glm::dvec2 to = plane_.frame.uv(member.to);
    if (!is_detail) {
      line(from, to, {0.12, 0.55, {}});
      continue;
    }
    const glm::dvec2 d = to - from;
    const double long_m = glm::length(d);
    if (long_m <= 0.0) {
      continue;
    }
    const glm::dvec2 side = member.thickness_m / 2 * glm::dvec2{-d.y, d.x} / long_m;
    line(from + side, to + side, {0.2, 0.35, {1.6, 0.8}});
    line(from - side, to - side, {0.2, 0.35, {1.6, 0.8}});
    const std::vector<glm::dvec2> seen = clipped(from, to, view_.low, view_.high);
    if (seen.size() == 2) {
      const glm::dvec2 top = seen[0].y > seen[1].y ? seen[0] : seen[1];
      add_label(page_, label_at(view_.at(top) + glm::dvec2{0.0, -0.9}, short_name(member.id)));
    }
  }
}

void PlanePen::borders(bool has_labels) {
  for (const surface::Loop& loop : plane_.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& border = a_.surface.lines[step.line];
      const glm::dvec2 from = plane_.frame.uv(a_.surface.nodes[border.from]);
      const glm::dvec2 to = plane_.frame.uv(a_.surface.nodes[border.to]);
      line(from, to, stroke_of(border.kind));
      const glm::dvec2 a = view_.at(from);
      const glm::dvec2 b = view_.at(to);
      if (!has_labels || glm::length(b - a) < least_border_label_mm ||
          border.kind == surface::LineKind::eave) {
        continue;
      }
      Text label =
          label_at({}, fmt::format("{} {}", spaced_word(border.kind), length(border.length_m)));
      double turned = std::atan2(b.y - a.y, b.x - a.x);
      if (turned > 0.5 * std::numbers::pi + 1e-6 || turned <= -0.5 * std::numbers::pi + 1e-6) {
        turned += turned > 0 ? -std::numbers::pi : std::numbers::pi;
      }
      label.turned_rad = turned;
      // Within the plane, so that nothing beside the drawing is in the way.
      const glm::dvec2 inward{-(b.y - a.y), b.x - a.x};
      const glm::dvec2 in = glm::normalize(step.forward ? -inward : inward);
      const glm::dvec2 down{-std::sin(turned), std::cos(turned)};
      label.at = (a + b) / 2.0 + (glm::dot(in, down) > 0 ? 2.9 : -1.1) * down;
      add_label(page_, label);
    }
  }
}

/// Bays under the slot that lead nowhere.
void PlanePen::dead_bays(const vents::Slot& slot) {
  for (const vents::SlotBay& bay : slot.bays) {
    if (!bay.live) {
      Path hatch = area_of({}, 1.0);
      hatch.is_filled = false;
      hatch.hatch = {1.1, 0.5 * std::numbers::pi, 0.3};
      area({a_.framing.bays[bay.bay].outline}, hatch);
    }
  }
}

void PlanePen::slot(const vents::Slot& slot) {
  dead_bays(slot);
  const SlotMarks marks = marks_of(a_, slot);
  if (!model::is_in_soffit(slot.kind)) {
    const std::vector<glm::dvec2> strip = vent_strip(slot, marks);
    for (std::size_t i = 0; i < strip.size(); ++i) {
      line(strip[i], strip[(i + 1) % strip.size()], {0.3, 0.0, {}});
    }
  }
  const double low = slot.lower_v_m();
  const double high = slot.drip_v_m + slot.upper_line_m();
  area({{{slot.start_m, low}, {slot.end_m, low}, {slot.end_m, high}, {slot.start_m, high}}},
       area_of({}, 0.0));
}

/// Upright running dimensions below the eave: all of them, or none.
bool PlanePen::rafter_marks(const std::vector<SlotId>& slots) {
  const std::size_t texts = page_.texts.size();
  const std::size_t paths = page_.paths.size();
  std::vector<MemberId> done;  // pieces side by side may cross one rafter twice
  for (const SlotId id : slots) {
    const vents::Slot& slot = a_.vents.slots[id];
    const SlotMarks marks = marks_of(a_, slot);
    for (const RafterMark& mark : marks.rafters) {
      if (std::find(done.begin(), done.end(), mark.member) != done.end()) {
        continue;
      }
      done.push_back(mark.member);
      const glm::dvec2 at = view_.at({marks.hook_u_m + mark.from_left_m, slot.drip_v_m});
      Text label = label_at(at + glm::dvec2{0.75, 1.6}, "", Align::right);
      label.text = fmt::format("{}  {}", short_name(a_.framing.members[mark.member].id),
                               mark_words(mark.from_left_m, style_));
      label.size_mm = mark_mm;
      label.turned_rad = -0.5 * std::numbers::pi;
      page_.paths.push_back(segment(at, at + glm::dvec2{0.0, 1.3}, {0.2, 0.0, {}}));
      if (!add_label(page_, label)) {
        page_.texts.resize(texts);
        page_.paths.resize(paths);
        return false;
      }
    }
  }
  return true;
}

/// Below the marks: the slot's ends from the hooks, then the whole eave.
void PlanePen::eave_dimensions(const std::vector<SlotId>& slots) {
  constexpr double slot_row = mark_room_mm + 2.0;
  constexpr double eave_row = slot_row + row_mm;
  const auto down_to = [&](const vents::Slot& slot, double u, double row) {
    const glm::dvec2 foot = view_.at({u, slot.drip_v_m});
    page_.paths.push_back(
        segment(foot + glm::dvec2{0.0, 0.8}, foot + glm::dvec2{0.0, row + 1.0}, {0.1, 0.3, {}}));
    return foot + glm::dvec2{0.0, row};
  };
  const auto words_of = [&](const vents::Slot& slot) {
    return "slot " + length(slot.end_m - slot.start_m);
  };
  // Where one has no room for its length, all bear their numbers; the steps have the lengths.
  const bool have_room = std::all_of(slots.begin(), slots.end(), [&](SlotId id) {
    const vents::Slot& slot = a_.vents.slots[id];
    const double long_mm = (slot.end_m - slot.start_m) * view_.mm_per_m;
    return slots.size() == 1 || text_width_mm(words_of(slot), dimension_mm, false) < long_mm - 1.0;
  });
  for (const SlotId id : slots) {
    const vents::Slot& slot = a_.vents.slots[id];
    const glm::dvec2 from = down_to(slot, slot.start_m, slot_row);
    const glm::dvec2 to = down_to(slot, slot.end_m, slot_row);
    draw_dimension(page_, from, to, have_room ? words_of(slot) : "/" + short_name(slot.id));
  }
  const vents::Slot& last = a_.vents.slots[slots.back()];
  const SlotMarks marks = marks_of(a_, last);
  const glm::dvec2 from = down_to(last, marks.hook_u_m, eave_row);
  const glm::dvec2 to = down_to(last, marks.hook_u_m + marks.eave_m, eave_row);
  draw_dimension(page_, from, to,
                 fmt::format("{} {} ({} to {})", last.is_over_break ? "pitch break" : "eave",
                             length(marks.eave_m), marks.left_words(), marks.right_words()));
  // Eaves at two heights have a hook each; its ring keeps clear of marks beyond it.
  std::vector<glm::dvec2> hooks;
  double first_mark_mm = HUGE_VAL;
  for (const SlotId id : slots) {
    const SlotMarks own = marks_of(a_, a_.vents.slots[id]);
    for (const RafterMark& mark : own.rafters) {
      first_mark_mm = std::min(first_mark_mm, view_.at({own.hook_u_m + mark.from_left_m, 0.0}).x);
    }
  }
  for (const SlotId id : slots) {
    const vents::Slot& slot = a_.vents.slots[id];
    const glm::dvec2 hook = view_.at({marks_of(a_, slot).hook_u_m, slot.drip_v_m});
    const bool is_new = std::none_of(hooks.begin(), hooks.end(), [&](glm::dvec2 other) {
      return glm::length(other - hook) < 1.0;
    });
    if (is_new) {
      hooks.push_back(hook);
      const double clear_mm = first_mark_mm < hook.x ? hook.x - first_mark_mm + 1.6 : 0.0;
      draw_tape_hook(page_, hook, hook + glm::dvec2{-3.6 - clear_mm, 2.6}, "0");
    }
  }
}

/// Heights up the slope from the drip edge, as a ladder at the right of the window.
void PlanePen::chalk_lines(const vents::Slot& slot, double text_x) {
  struct Chalk {
    double up_m;
    const char* words;
    Stroke stroke;
    bool is_chalked = false;
  };
  const SlotMarks marks = marks_of(a_, slot);
  std::vector<Chalk> all{{0.0, slot.is_over_break ? "pitch break" : "drip edge", {0.0, 0.0, {}}},
                         {slot.lower_line_m, "lower line", {0.25, 0.0, {3.0, 0.8}}, true},
                         {slot.upper_line_m(), "upper line", {0.25, 0.0, {3.0, 0.8}}, true}};
  if (!model::is_in_soffit(slot.kind)) {
    all.push_back({marks.vent_high_m, "vent, upper edge", {0.0, 0.0, {}}});
    all.push_back({slot.vent_low_m, "vent, lower edge", {0.0, 0.0, {}}});
  }
  if (!slot.is_over_break) {
    all.push_back({slot.wall_line_m, "wall, outer face", {0.2, 0.4, {0.6, 0.8}}});
    all.push_back({slot.inner_face_m, "plate, inner face", {0.2, 0.4, {0.6, 0.8}}});
  }
  if (slot.courses) {
    all.push_back({slot.courses->faced_row_butt_m, "butt of the faced row", {0.2, 0.0, {}}});
    all.push_back({slot.courses->face_nails_m, "face nails", {0.2, 0.0, {0.4, 1.6}}});
  }
  std::vector<Rung> rungs;
  for (const Chalk& chalk : all) {
    const double v = slot.drip_v_m + chalk.up_m;
    if (v < view_.low.y || v > view_.high.y) {
      continue;
    }
    if (chalk.stroke.width_mm > 0.0) {
      line({view_.low.x, v}, {view_.high.x, v}, chalk.stroke);
    }
    const std::string text = chalk.up_m == 0.0
                                 ? std::string(chalk.words)
                                 : fmt::format("{}  {}", length(chalk.up_m), chalk.words);
    rungs.push_back({view_.at({0.0, v}).y, text, chalk.is_chalked});
  }
  draw_ladder(page_, std::move(rungs), view_.at(view_.high).x, text_x, view_.at(view_.high).y);
}

/// From the hook to the slot's end, below the window; with an arrow where the hook lies outside.
void PlanePen::end_distance(const vents::Slot& slot, bool is_left) {
  const SlotMarks marks = marks_of(a_, slot);
  const double hook_u = marks.hook_u_m + (is_left ? 0.0 : marks.eave_m);
  const double end_u = is_left ? slot.start_m : slot.end_m;
  const double distance = is_left ? marks.start_from_left_m : marks.end_from_right_m;
  const double y = view_.at(view_.low).y + 4.0;
  const glm::dvec2 end{view_.at({end_u, 0.0}).x, y};
  page_.paths.push_back(
      segment({end.x, view_.at({0.0, slot.lower_v_m()}).y}, {end.x, y + 1.0}, {0.12, 0.0, {}}));
  const std::string text =
      from_words(distance, is_left ? marks.left_words() : marks.right_words(), style_);
  const bool is_seen = hook_u > view_.low.x - 1e-9 && hook_u < view_.high.x + 1e-9;
  const double edge_x = view_.at(is_left ? view_.low : view_.high).x;
  const glm::dvec2 hook{is_seen ? view_.at({hook_u, 0.0}).x : edge_x, y};
  draw_hook_line(page_, end, hook, is_seen);
  add_label(page_, label_at({view_.at(is_left ? view_.low : glm::dvec2{view_.low.x, 0}).x, y + 4.0},
                            text, Align::left));
}

/// A vent's number where it has room; over other texts only where it has none anywhere.
void number_beside(Page& page, glm::dvec2 middle, double half_mm, const std::string& text) {
  const double up = half_mm + 0.9;
  const double side = half_mm + 0.6 + 0.5 * text_width_mm(text, dimension_mm, true);
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

}  // namespace

PlaneView whole_plane(const Assessment& assessment, PlaneId plane, const Frame& frame,
                      units::Style style) {
  polygon::Box box;
  for (const auto& loop : loops_uv(assessment, assessment.surface.planes[plane])) {
    for (const glm::dvec2 uv : loop) {
      box.add(uv);
    }
  }
  // A tape may hook on the wall beneath an overhang.
  for (const polygon::Loops& deck : surface::sheltered_uv(assessment.surface, plane)) {
    for (const glm::dvec2 uv : deck.front()) {
      box.add(uv);
    }
  }
  const glm::dvec2 room = frame.size - glm::dvec2{10.0, mark_room_mm + 3 * row_mm};
  const UsualScale scale = largest_fitting(plan_scales(style), box.high - box.low, room);
  PlaneView view;
  view.plane = plane;
  view.low = box.low - glm::dvec2{1.0};
  view.high = box.high + glm::dvec2{1.0};
  view.mm_per_m = scale.mm_per_m;
  view.words = scale.words;
  const double left = frame.low.x + (frame.size.x - scale.mm_per_m * (box.high.x - box.low.x)) / 2;
  view.origin =
      glm::dvec2{left, frame.low.y + 2.0} - scale.mm_per_m * glm::dvec2{box.low.x, -box.high.y};
  return view;
}

double run_height_mm(const PlaneView& view) {
  return view.mm_per_m * (view.high.y - view.low.y - 2.0) + mark_room_mm + 3 * row_mm;
}

double places_height_mm(const PlaneView& view) {
  return view.mm_per_m * (view.high.y - view.low.y - 2.0) + 2 * row_mm;
}

bool draw_run(const Assessment& assessment, const PlaneView& view, const std::vector<SlotId>& slots,
              units::Style style, Page& page) {
  PlanePen pen(assessment, view, style, page);
  pen.deck();
  pen.rafters(false);
  pen.borders(true);
  for (const SlotId slot : slots) {
    pen.slot(assessment.vents.slots[slot]);
  }
  const bool has_marks = pen.rafter_marks(slots);
  pen.eave_dimensions(slots);
  return has_marks;
}

void draw_slot_end(const Assessment& assessment, SlotId id, bool is_left, const Frame& frame,
                   units::Style style, Page& page) {
  const vents::Slot& slot = assessment.vents.slots[id];
  const SlotMarks marks = marks_of(assessment, slot);
  const double lowest = slot.courses ? slot.courses->faced_row_butt_m - 2 * beyond_m : 0.0;
  const double low = std::min(slot.vent_low_m, lowest) - beyond_m;
  const double high = std::max(marks.vent_high_m, slot.upper_line_m()) + beyond_m;
  const glm::dvec2 room = frame.size - glm::dvec2{ladder_mm, 18.0};
  const UsualScale scale = largest_fitting(detail_scales(style), {end_window_m, high - low}, room);
  const double wide = room.x / scale.mm_per_m;
  const double hook = marks.hook_u_m + (is_left ? 0.0 : marks.eave_m);
  const double end = is_left ? slot.start_m : slot.end_m;
  const bool is_hook_near = std::abs(end - hook) < wide - 2.5 * beyond_m;
  PlaneView view;
  view.plane = slot.plane;
  view.mm_per_m = scale.mm_per_m;
  view.words = scale.words;
  if (is_left) {
    view.low.x = is_hook_near ? std::min(hook, end) - beyond_m : end - wide / 2;
    view.high.x = view.low.x + wide;
  } else {
    view.high.x = is_hook_near ? std::max(hook, end) + beyond_m : end + wide / 2;
    view.low.x = view.high.x - wide;
  }
  view.low.y = slot.drip_v_m + low;
  view.high.y = slot.drip_v_m + high;
  view.origin = glm::dvec2{frame.low.x, frame.low.y + 8.0} -
                scale.mm_per_m * glm::dvec2{view.low.x, -view.high.y};
  Text title =
      label_at({frame.low.x, frame.low.y + 2.6},
               fmt::format("{} end of {}, {}", is_left ? "Left" : "Right", slot.id, view.words),
               Align::left);
  title.is_bold = true;
  page.texts.push_back(std::move(title));
  PlanePen pen(assessment, view, style, page);
  pen.deck();
  pen.rafters(true);
  pen.slot(slot);
  pen.borders(false);
  pen.chalk_lines(slot, view.at(view.high).x + 4.0);
  pen.end_distance(slot, is_left);
}

void draw_places(const Assessment& assessment, const PlaneView& view,
                 const std::vector<ExhaustId>& vents, units::Style style, Page& page) {
  PlanePen pen(assessment, view, style, page);
  pen.deck();
  pen.rafters(false);
  pen.borders(false);
  const std::vector<TapeHook> hooks = tape_hooks(assessment, vents);
  for (std::size_t i = 0; i < vents.size(); ++i) {
    const vents::Exhaust& vent = assessment.vents.exhausts[vents[i]];
    const glm::dvec2 middle = view.at(vent.at_uv);
    const double half = std::max(0.9, vent.hole_m / 2 * view.mm_per_m);
    Path box = area_of({{middle + glm::dvec2{-half, -half}, middle + glm::dvec2{half, -half},
                         middle + glm::dvec2{half, half}, middle + glm::dvec2{-half, half}}},
                       1.0);
    box.stroke = {0.35, 0.0, {}};
    page.paths.push_back(std::move(box));
    page.paths.push_back(
        segment(middle - glm::dvec2{half, half}, middle + glm::dvec2{half, half}, {0.2, 0.0, {}}));
    page.paths.push_back(segment(middle - glm::dvec2{half, -half}, middle + glm::dvec2{half, -half},
                                 {0.2, 0.0, {}}));
    number_beside(page, middle, half, fmt::format("{}", i + 1));
  }
  for (const TapeHook& hook : hooks) {
    const glm::dvec2 at = view.at(hook.uv);
    // Outside the plane, over its upper border or below its foot.
    draw_tape_hook(page, at, at + glm::dvec2{-3.6, hook.is_up ? 3.4 : -1.2}, hook.letter);
  }
  pen.borders(true);  // their names give way
}

}  // namespace ridgeward::papers
