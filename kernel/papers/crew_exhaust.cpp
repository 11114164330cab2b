#include "base/polygon.hpp"
#include "papers/crew_writer.hpp"
#include "papers/estimator_sheet.hpp"
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

constexpr double ridge_detail_mm = 46.0;
constexpr double gable_height_mm = 100.0;
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

void CrewSheet::pieces(const std::string& run, const std::string& product) {
  const model::Product* vent = a_.product(product);
  if (vent == nullptr) {
    return;
  }
  for (const takeoff::SectionRun& strip : a_.takeoff.sections) {
    if (strip.run != run) {
      continue;
    }
    const double drawn_mm = 30.0;
    sheet_.keep(drawn_mm + 40.0);
    sheet_.heading("Pieces over " + strip.over + " in laying order");
    sheet_.paragraph(fmt::format("{} ({}), {} deep; whole sections are {} long.", product,
                                 vent->what, length(vent->depth_m), length(vent->length_m)));
    const Frame frame{{sheet_.left_mm(), sheet_.y_mm() + 2.0}, {sheet_.width_mm(), drawn_mm}};
    sheet_.space(draw_pieces(strip, vent->depth_m, frame, style_, sheet_.page()));
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < strip.pieces.size(); ++i) {
      const takeoff::Piece& piece = strip.pieces[i];
      rows.push_back({fmt::format("{}", i + 1), length(piece.lower_edge_m),
                      length(piece.upper_edge_m), end_words(piece.left, style_),
                      end_words(piece.right, style_), fmt::format("{}", piece.section)});
    }
    sheet_.table({{"piece", 0.7},
                  {"lower edge", 1.1, true},
                  {"upper edge", 1.1, true},
                  {"left end", 1.8},
                  {"right end", 1.8},
                  {"of section", 1.0, true}},
                 rows);
  }
}

/// Neighbours that open alike are told together.
void CrewSheet::beneath(const Run& run) {
  sheet_.heading("What lies beneath");
  std::vector<std::vector<std::string>> rows;
  for (const SlotId id : run.slots) {
    for (const vents::SlotBay& bay : a_.vents.slots[id].bays) {
      const std::string name = short_name(a_.framing.bays[bay.bay].id);
      const std::vector<std::string> row{name, length(bay.open_length_m),
                                         bay.live ? "live" : "DEAD", a_.vents.bays[bay.bay].why};
      const bool is_alike = !rows.empty() && rows.back()[1] == row[1] && rows.back()[2] == row[2] &&
                            rows.back()[3] == row[3];
      if (is_alike) {
        std::string& names = rows.back()[0];
        names = fmt::format("{} to {}", names.substr(0, names.find(' ')), name);
      } else {
        rows.push_back(row);
      }
    }
  }
  sheet_.table({{"bays", 1.2}, {"clear", 1.0, true}, {"", 0.8}, {"opens to", 5.0}}, rows);
  double area = 0.0;
  for (const SlotId id : run.slots) {
    area += a_.vents.slots[id].free_area_m2;
    if (a_.vents.slots[id].is_blocked) {
      sheet_.paragraph(a_.vents.slots[id].id + ": blocked at the plate; nothing of it counts.", 0.0,
                       true);
    }
  }
  sheet_.paragraph("Free area that counts: " + opening(area) + ".");
}

void CrewSheet::warnings(const std::vector<std::size_t>& findings) {
  if (findings.empty()) {
    sheet_.space(2.0);
    sheet_.paragraph("Warnings: none for this run.");
    return;
  }
  sheet_.heading("Warnings");
  for (const std::size_t i : findings) {
    const conflicts::Finding& finding = a_.findings[i];
    sheet_.item("!", std::string(conflicts::word(finding.severity)) + ": " + finding.message + " " +
                         finding.remedy);
  }
}

void CrewSheet::ridge(const RidgeRun& run) {
  open_page();
  const vents::Exhaust& first = a_.vents.exhausts[run.vents.front()];
  sheet_.paragraph("The line laid level, both planes folded flat beside it, true to scale.");
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
  std::vector<std::size_t> own;
  for (std::size_t i = 0; i < a_.findings.size(); ++i) {
    if (std::find(run.vents.begin(), run.vents.end(), a_.findings[i].exhaust) != run.vents.end()) {
      own.push_back(i);
    }
  }
  warnings(own);
  sheet_.heading("Steps");
  numbered(steps_of(a_, run, style_));
  pieces(run.id, first.product);
}

void CrewSheet::single(PlaneId id, const std::vector<ExhaustId>& vents) {
  open_page();
  const Frame frame{{sheet_.left_mm(), sheet_.y_mm() + 6.0},
                    {sheet_.width_mm(), 0.6 * sheet_.room_mm()}};
  const PlaneView view = whole_plane(a_, id, frame, style_);
  sheet_.paragraph(fmt::format("Plane {} flat, pitch {}, seen from outside. Scale {}.",
                               plane(id).id, units::show_pitch(plane(id).pitch), view.words));
  draw_places(a_, view, vents, style_, sheet_.page());
  sheet_.space(run_height_mm(view));
  sheet_.paragraph(
      "Middles: along, level from the plane's leftmost corner; down, along the slope from its "
      "highest "
      "corner. Move a hole sideways rather than cut a rafter.");
  std::vector<std::vector<std::string>> rows;
  for (const ExhaustId vent_id : vents) {
    const vents::Exhaust& vent = a_.vents.exhausts[vent_id];
    const PlaceMarks marks = place_of(a_, vent);
    rows.push_back({vent.id, vent.product, length(marks.from_left_m), length(marks.down_m),
                    length(vent.hole_m), opening(vent.free_area_m2)});
  }
  sheet_.table({{"vent", 1.4},
                {"product", 1.4},
                {"along", 1.2, true},
                {"down", 1.2, true},
                {"hole", 1.0, true},
                {"free area", 1.1, true}},
               rows);
  std::vector<std::size_t> own;
  for (std::size_t i = 0; i < a_.findings.size(); ++i) {
    if (std::find(vents.begin(), vents.end(), a_.findings[i].exhaust) != vents.end()) {
      own.push_back(i);
    }
  }
  warnings(own);
}

void CrewSheet::louvres() {
  open_page();
  std::map<std::string, std::vector<ExhaustId>> by_wall;
  for (const ExhaustId id : louvres_) {
    by_wall[a_.vents.exhausts[id].wall].push_back(id);
  }
  std::vector<std::vector<std::string>> rows;
  for (const auto& [name, ids] : by_wall) {
    const std::optional<GableWall> wall = gable_wall(a_, a_.vents.exhausts[ids.front()]);
    if (wall) {
      sheet_.keep(gable_height_mm + 8.0);
      const Frame frame{{sheet_.left_mm(), sheet_.y_mm() + 6.0},
                        {sheet_.width_mm(), gable_height_mm - 6.0}};
      const std::string scale = draw_gable(a_, *wall, ids, frame, style_, sheet_.page());
      sheet_.paragraph(fmt::format("Gable wall {}, seen from outside. Scale {}.", name, scale));
      sheet_.space(gable_height_mm);
    }
    for (const ExhaustId id : ids) {
      const vents::Exhaust& vent = a_.vents.exhausts[id];
      const model::Product* product = a_.product(vent.product);
      const glm::dvec2 at = wall ? wall->place_of(vent) : glm::dvec2{0.0};
      rows.push_back(
          {vent.id, vent.product, vent.wall, length(at.x), length(at.y),
           product != nullptr ? length(product->length_m) + " x " + length(product->depth_m) : "",
           opening(vent.free_area_m2)});
    }
  }
  sheet_.table({{"louvre", 1.3},
                {"product", 1.3},
                {"wall", 1.0},
                {"along", 1.1, true},
                {"up", 1.1, true},
                {"wide x high", 1.7, true},
                {"free area", 1.1, true}},
               rows);
  sheet_.paragraph(
      "Middles: along, from the wall's left corner; up, from the plate. Look for wiring and "
      "studs behind the siding, cut between studs where there is room, frame the opening, "
      "flash its head.");
  std::vector<std::size_t> own;
  for (std::size_t i = 0; i < a_.findings.size(); ++i) {
    if (std::find(louvres_.begin(), louvres_.end(), a_.findings[i].exhaust) != louvres_.end()) {
      own.push_back(i);
    }
  }
  warnings(own);
}

void CrewSheet::order() {
  open_page();
  std::vector<std::vector<std::string>> rows;
  const auto is_of_a_vent = [&](const std::string& name) {
    const auto has = [&](const auto& all) {
      return std::any_of(all.begin(), all.end(), [&](const auto& one) { return one.id == name; });
    };
    return has(a_.model.intake) || has(a_.model.exhaust) || a_.product(name) != nullptr;
  };
  for (const takeoff::OrderLine& line : a_.takeoff.order) {
    if (is_of_a_vent(line.for_what)) {
      rows.push_back({line.item, quantity_words(line, style_), line.for_what});
    }
  }
  if (rows.empty()) {
    sheet_.paragraph("Nothing: the model has no vents.");
    return;
  }
  sheet_.table({{"item", 2.0}, {"how much", 1.4, true}, {"for", 2.4}}, rows);
  sheet_.paragraph(
      "For the vents alone, net, without laps; the roofer's order stands on the estimator's "
      "sheet.");
}

}  // namespace ridgeward::papers
