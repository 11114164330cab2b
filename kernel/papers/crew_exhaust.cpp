#include "base/polygon.hpp"
#include "papers/crew_writer.hpp"
#include "papers/plane_drawing.hpp"
#include "papers/ridge_drawing.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace ridgeward::papers {

namespace {

constexpr double ridge_detail_mm = 43.0;
constexpr double gable_height_mm = 78.0;
constexpr double shown_wall_m = 0.5;  // of a gable wall below its plate
constexpr double behind_m = 1e-3;     // so far inside a wall its roof is looked for

/// The outer face of a gable wall: u along it from its left corner seen from outside, height.
struct GableWall {
  glm::dvec2 start{0.0};
  glm::dvec2 along{1.0, 0.0};
  double length_m = 0.0;
  double plate_m = 0.0;
  std::vector<glm::dvec2> roof;  ///< underside of the deck over it, from left to right

  /// Of a louvre's middle: along the wall, and up from the plate.
  glm::dvec2 place_of(const vents::Exhaust& vent) const {
    return {glm::dot(glm::dvec2(vent.from) - start, along), vent.from.z - plate_m};
  }
};

double roof_over(const Assessment& a, glm::dvec2 plan) {
  double highest = -HUGE_VAL;
  for (const surface::Plane& plane : a.surface.planes) {
    if (polygon::contains(surface::plan_of(a.surface, plane), plan)) {
      const glm::dvec3 n = plane.frame.normal;
      const glm::dvec2 d = plan - glm::dvec2(plane.frame.origin);
      const double z = plane.frame.origin.z - (n.x * d.x + n.y * d.y) / n.z;
      highest = std::max(highest, z - a.model.parts[plane.part].deck_m);
    }
  }
  return highest;
}

GableWall wall_between(const Assessment& a, std::size_t part, glm::dvec2 from, glm::dvec2 to) {
  GableWall wall;
  wall.start = from;
  wall.length_m = glm::length(to - from);
  wall.along = (to - from) / wall.length_m;
  wall.plate_m = a.model.parts[part].plate_m;
  return wall;
}

/// The underside of the deck over a wall, from its left corner to its right one.
void add_roof(const Assessment& a, GableWall& wall) {
  constexpr int samples = 120;  // even: the middle of a wall is one
  const glm::dvec2 inside = behind_m * glm::dvec2{-wall.along.y, wall.along.x};
  for (int k = 0; k <= samples; ++k) {
    const double s = wall.length_m * k / samples;
    const double within = std::clamp(s, behind_m, wall.length_m - behind_m);
    wall.roof.emplace_back(s, roof_over(a, wall.start + within * wall.along + inside));
  }
}

/// Whether a louvre lies in the outer face of a wall.
bool lies_in(const GableWall& wall, const vents::Exhaust& louvre) {
  const glm::dvec2 to = glm::dvec2(louvre.from) - wall.start;
  const double u = glm::dot(to, wall.along);
  const double off = to.y * wall.along.x - to.x * wall.along.y;
  return std::abs(off) < 1e-6 && u >= 0.0 && u <= wall.length_m;
}

std::optional<GableWall> wall_of_loop(const Assessment& a, std::size_t part,
                                      const polygon::Loop& loop, const vents::Exhaust& louvre) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    GableWall wall = wall_between(a, part, loop[i], loop[(i + 1) % loop.size()]);
    if (lies_in(wall, louvre)) {
      add_roof(a, wall);
      return wall;
    }
  }
  return std::nullopt;
}

/// The wall that a louvre lies in.
std::optional<GableWall> gable_wall(const Assessment& a, const vents::Exhaust& louvre) {
  std::optional<GableWall> found;
  for (std::size_t part = 0; part < a.surface.wall_outlines.size() && !found; ++part) {
    const bool is_part = louvre.wall.rfind(a.model.parts[part].id + "/", 0) == 0;
    for (const polygon::Loop& loop : a.surface.wall_outlines[part]) {
      found = is_part && !found ? wall_of_loop(a, part, loop, louvre) : found;
    }
  }
  return found;
}

/// The wall from outside, true to scale, its louvres dimensioned from its left corner and from its
/// plate. Returns the scale in words.
std::string draw_gable(const Assessment& a, const GableWall& wall,
                       const std::vector<ExhaustId>& louvres, const Frame& frame,
                       units::Style style, Page& page) {
  double top = wall.plate_m;
  for (const glm::dvec2 p : wall.roof) {
    top = std::max(top, p.y);
  }
  const double rows_mm = 7.0 * static_cast<double>(louvres.size()) + 4.0;
  const UsualScale scale =
      largest_fitting(plan_scales(style), {wall.length_m, top - wall.plate_m + shown_wall_m},
                      frame.size - glm::dvec2{30.0, rows_mm});
  const double foot = wall.plate_m - shown_wall_m;
  const auto at = [&](double u, double z) {
    return frame.low + glm::dvec2{15.0 + scale.mm_per_m * u, scale.mm_per_m * (top - z)};
  };
  Path outline;
  outline.stroke = {0.4, 0.0, {}};
  outline.loops.emplace_back();
  outline.loops.back().push_back(at(0.0, foot));
  for (const glm::dvec2 p : wall.roof) {
    outline.loops.back().push_back(at(p.x, p.y));
  }
  outline.loops.back().push_back(at(wall.length_m, foot));
  page.paths.push_back(std::move(outline));
  page.paths.push_back(
      segment(at(0.0, wall.plate_m), at(wall.length_m, wall.plate_m), {0.2, 0.3, {3.0, 1.2}}));
  add_label(page,
            label_at(at(wall.length_m, wall.plate_m) + glm::dvec2{1.5, 1.0}, "plate", Align::left));
  double row = 6.0;
  for (const ExhaustId id : louvres) {
    const vents::Exhaust& vent = a.vents.exhausts[id];
    const model::Product* product = a.product(vent.product);
    const glm::dvec2 place = wall.place_of(vent);
    const double z = vent.from.z;
    if (product != nullptr) {
      const double wide = 0.5 * product->length_m;
      const double tall = 0.5 * product->depth_m;
      Path box = area_of({{at(place.x - wide, z - tall), at(place.x + wide, z - tall),
                           at(place.x + wide, z + tall), at(place.x - wide, z + tall)}},
                         1.0);
      box.stroke = {0.35, 0.0, {}};
      box.hatch = {1.2, 0.0, 0.3};
      page.paths.push_back(std::move(box));
      const glm::dvec2 beside{at(place.x + wide, z).x + 3.0, 0.0};
      draw_dimension(page, {beside.x, at(0.0, wall.plate_m).y}, {beside.x, at(0.0, z).y},
                     units::show(place.y, style));
      add_label(page, label_at(at(place.x, z + tall) - glm::dvec2{0.0, 1.2}, vent.id));
    }
    draw_dimension(page, at(0.0, foot) + glm::dvec2{0.0, row},
                   at(place.x, foot) + glm::dvec2{0.0, row}, units::show(place.x, style));
    row += 7.0;
  }
  return scale.words;
}

}  // namespace

void CrewSheet::ridge(const RidgeRun& run) {
  open_page();
  not_ready({}, run.vents);
  const vents::Exhaust& first = a_.vents.exhausts[run.vents.front()];
  const bool is_hip = a_.surface.lines[first.line].kind == surface::LineKind::hip;
  sheet_.paragraph(
      std::string("The line laid level, both planes folded flat beside it, true to scale. ") +
      (is_hip ? "Foot and top are the hip's lower and upper end."
              : "The ends are named by the compass.") +
      " The tape hooks at 0, at the " + marks_of(a_, first).first_words() + ".");
  const Frame frame{{sheet_.left_mm(), sheet_.y_mm() + 2.0}, {sheet_.width_mm(), 60.0}};
  sheet_.space(draw_ridge(a_, run.vents, frame, style_, sheet_.page()));
  const double wide = (sheet_.width_mm() - detail_gap_mm) / 2;
  for (const ExhaustId id : run.vents) {
    sheet_.keep(ridge_detail_mm);
    for (const bool is_first : {true, false}) {
      const double x = sheet_.left_mm() + (is_first ? 0.0 : wide + detail_gap_mm);
      draw_ridge_end(a_, id, is_first, {{x, sheet_.y_mm() + 2.0}, {wide, ridge_detail_mm - 4.0}},
                     style_, sheet_.page());
    }
    sheet_.space(ridge_detail_mm);
  }
  warnings({}, run.vents);
  sheet_.heading("Steps");
  numbered(steps_of(a_, run, style_));
  pieces(run.id, first.product);
}

void CrewSheet::single(PlaneId id, const std::vector<ExhaustId>& vents) {
  open_page();
  not_ready({}, vents);
  const std::vector<TapeHook> hooks = tape_hooks(a_, vents);
  std::string from;
  for (const TapeHook& hook : hooks) {
    from += fmt::format("{}{} is the {}{}", from.empty() ? "" : "; ", hook.letter, hook.words,
                        hook.is_up ? ", measured up the slope from there" : "");
  }
  sheet_.paragraph(sides_words(id) + " The tape hooks at the letters: " + from + ".");
  const Frame frame{{sheet_.left_mm(), sheet_.y_mm() + 6.0},
                    {sheet_.width_mm(), 0.5 * sheet_.room_mm()}};
  const PlaneView view = whole_plane(a_, id, frame, style_);
  draw_places(a_, view, vents, style_, sheet_.page());
  sheet_.space(places_height_mm(view) + 6.0);
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < vents.size(); ++i) {
    const vents::Exhaust& vent = a_.vents.exhausts[vents[i]];
    const PlaceMarks marks = place_of(a_, vent);
    const auto hook = std::find_if(hooks.begin(), hooks.end(), [&](const TapeHook& one) {
      return std::find(one.vents.begin(), one.vents.end(), vents[i]) != one.vents.end();
    });
    rows.push_back({fmt::format("{}", i + 1), vent.id, vent.product, hook->letter,
                    length(marks.along_m) + (marks.is_to_left ? " left" : ""),
                    length(marks.slope_m), length(vent.hole_m), opening(vent.free_area_m2)});
  }
  sheet_.table({{"no.", 0.5},
                {"vent", 1.3},
                {"product", 1.3},
                {"from", 0.6},
                {"along", 1.1, true},
                {"then up or down", 1.5, true},
                {"hole", 0.8, true},
                {"free area", 1.1, true}},
               rows);
  sheet_.paragraph(
      "To the middle of each vent: along the line that the letter is the end of, then square to it "
      "along the slope.");
  warnings({}, vents);
  sheet_.heading("Steps");
  numbered(steps_of_singles(a_, vents, style_));
}

void CrewSheet::louvres() {
  open_page();
  not_ready({}, louvres_);
  std::map<std::string, std::vector<ExhaustId>> by_wall;
  for (const ExhaustId id : louvres_) {
    by_wall[a_.vents.exhausts[id].wall].push_back(id);
  }
  for (const auto& [name, ids] : by_wall) {
    louvres_of(name, ids);
  }
  warnings({}, louvres_);
  sheet_.heading("Steps");
  numbered(
      {"Mark the middles: along, from the wall's left corner seen from outside; up, from the "
       "plate.",
       "Look for wiring and studs behind the siding. Cut between studs where there is room, "
       "frame the opening.",
       "Flash the head of the opening, set the louvre with its slats shedding water outwards, "
       "fasten and seal it, its screen inwards."});
}

/// A wall and its louvres are not parted.
void CrewSheet::louvres_of(const std::string& name, const std::vector<ExhaustId>& ids) {
  const std::optional<GableWall> wall = gable_wall(a_, a_.vents.exhausts[ids.front()]);
  const double table_mm = 12.0 + 10.0 * static_cast<double>(ids.size());
  if (wall) {
    sheet_.keep(gable_height_mm + 8.0 + table_mm);
    const Frame frame{{sheet_.left_mm(), sheet_.y_mm() + 6.0},
                      {sheet_.width_mm(), gable_height_mm - 6.0}};
    const std::string scale = draw_gable(a_, *wall, ids, frame, style_, sheet_.page());
    sheet_.paragraph(fmt::format("Gable wall {}, seen from outside. Scale {}.", name, scale));
    sheet_.space(gable_height_mm);
  }
  std::vector<std::vector<std::string>> rows;
  for (const ExhaustId id : ids) {
    const vents::Exhaust& vent = a_.vents.exhausts[id];
    const model::Product* product = a_.product(vent.product);
    const glm::dvec2 at = wall ? wall->place_of(vent) : glm::dvec2{0.0};
    rows.push_back(
        {vent.id, vent.product, vent.wall, length(at.x), length(at.y),
         product != nullptr ? length(product->length_m) + " x " + length(product->depth_m) : "",
         opening(vent.free_area_m2)});
  }
  sheet_.table({{"louvre", 1.3},
                {"product", 1.3},
                {"wall", 1.0},
                {"along", 1.1, true},
                {"up", 1.1, true},
                {"wide x high", 1.7, true},
                {"free area", 1.1, true}},
               rows);
}

}  // namespace ridgeward::papers
