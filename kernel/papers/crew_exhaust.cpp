#include "papers/crew_writer.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/plane_drawing.hpp"
#include "papers/ridge_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::papers {

namespace {

constexpr double ridge_detail_mm = 46.0;

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
  std::vector<std::vector<std::string>> rows;
  for (const ExhaustId id : louvres_) {
    const vents::Exhaust& vent = a_.vents.exhausts[id];
    rows.push_back({vent.id, vent.product, vent.wall, opening(vent.free_area_m2)});
  }
  sheet_.table({{"louvre", 1.4}, {"product", 1.4}, {"wall", 1.4}, {"free area", 1.1, true}}, rows);
  sheet_.paragraph("Set them where the model says, as high in the wall as they fit.");
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
