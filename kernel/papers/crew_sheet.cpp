#include "papers/crew_sheet.hpp"

#include "papers/crew_steps.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/plan_drawing.hpp"
#include "papers/plane_drawing.hpp"
#include "papers/ridge_drawing.hpp"
#include "papers/sheet.hpp"
#include "papers/summary.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace ridgeward::papers {

namespace {

constexpr double detail_height_mm = 62.0;
constexpr double ridge_detail_mm = 46.0;
constexpr double detail_gap_mm = 6.0;
constexpr double mitre_height_mm = 52.0;

class CrewSheet {
 public:
  CrewSheet(const Assessment& a, units::Style style, Paper paper)
      : a_(a),
        style_(style),
        runs_(runs_of(a)),
        ridges_(ridge_runs_of(a)),
        sheet_(
            (a.model.name.empty() ? std::string("Unnamed roof") : a.model.name) + ": for the crew",
            "Worked out from the model given: measure on the roof before you cut. The local "
            "code, the vent's own instructions and a licensed professional decide.",
            paper) {
    for (const ExhaustId id : a.vents.exhausts.ids()) {
      const vents::Exhaust& vent = a.vents.exhausts[id];
      if (vent.line.is_none() && !vent.plane.is_none()) {
        singles_[vent.plane].push_back(id);
      } else if (vent.line.is_none()) {
        louvres_.push_back(id);
      }
    }
  }

  Drawing run();

 private:
  /// A page that the contents name; filled in once its number is known.
  struct Entry {
    std::size_t page = 0;  ///< of the contents
    double y_mm = 0.0;
  };
  std::string length(double m) const { return units::show(m, style_); }
  std::string opening(double m2) const { return units::show_free_area(m2, style_); }
  const surface::Plane& plane(PlaneId id) const { return a_.surface.planes[id]; }
  std::string run_title(std::size_t i) const;
  std::string ridge_title(std::size_t i) const;
  std::vector<std::string> titles() const;

  void cover();
  /// Starts the page of the next title and writes its number into the contents.
  void open_page();
  void overview();
  void intake(const Run& run);
  void ends(const std::vector<std::pair<SlotId, bool>>& ends);
  void mitres(const Run& run);
  void rafter_table(const Run& run);
  void pieces(const std::string& run, const std::string& product);
  void beneath(const Run& run);
  void warnings(const std::vector<std::size_t>& findings);
  void ridge(const RidgeRun& run);
  void single(PlaneId plane, const std::vector<ExhaustId>& vents);
  void louvres();
  void order();
  void numbered(const std::vector<std::string>& steps);

  const Assessment& a_;
  units::Style style_;
  std::vector<Run> runs_;
  std::vector<RidgeRun> ridges_;
  std::map<PlaneId, std::vector<ExhaustId>> singles_;
  std::vector<ExhaustId> louvres_;
  Sheet sheet_;
  std::vector<Entry> contents_;
  std::size_t next_ = 0;
};

std::string CrewSheet::run_title(std::size_t i) const {
  const vents::Slot& slot = a_.vents.slots[runs_[i].slots.front()];
  const char* place = slot.position == model::Position::upslope ? "upslope" : "at the eave";
  return fmt::format("{}. Intake {} on plane {}, {}", i + 1, runs_[i].id, plane(runs_[i].plane).id,
                     model::is_in_soffit(slot.kind) ? "in the soffit" : place);
}

std::string CrewSheet::ridge_title(std::size_t i) const {
  const vents::Exhaust& vent = a_.vents.exhausts[ridges_[i].vents.front()];
  return fmt::format("{}. Exhaust {} along {}", runs_.size() + i + 1, ridges_[i].id,
                     a_.surface.lines[vent.line].id);
}

std::vector<std::string> CrewSheet::titles() const {
  std::vector<std::string> all{"Plan with the runs numbered"};
  for (std::size_t i = 0; i < runs_.size(); ++i) {
    all.push_back(run_title(i));
  }
  for (std::size_t i = 0; i < ridges_.size(); ++i) {
    all.push_back(ridge_title(i));
  }
  for (const auto& [id, vents] : singles_) {
    all.push_back(fmt::format("Single vents on plane {} ({})", plane(id).id, vents.size()));
  }
  if (!louvres_.empty()) {
    all.push_back(fmt::format("Louvres in gable walls ({})", louvres_.size()));
  }
  all.push_back("What to take up");
  return all;
}

void CrewSheet::cover() {
  sheet_.heading("Before anyone goes up");
  for (const std::string& text : cautions()) {
    sheet_.item("!", text);
  }
  sheet_.item("!",
              "Crossed rafters stay whole: never set the saw deeper than the deck. Where the roof "
              "is not as drawn, stop and ask.");
  std::size_t errors = 0;
  for (const conflicts::Finding& finding : a_.findings) {
    errors += finding.severity == conflicts::Severity::error ? 1 : 0;
  }
  if (errors > 0) {
    sheet_.item("!", fmt::format("NOT READY TO CUT: {} conflicts are errors. See the warnings of "
                                 "the runs and the inspector's sheet.",
                                 errors));
  }
  sheet_.heading("Contents");
  for (const std::string& title : titles()) {
    sheet_.paragraph(title);
    contents_.push_back({sheet_.page_number(), sheet_.y_mm() - 1.0});
  }
  sheet_.heading("How lengths are measured");
  sheet_.paragraph(
      "Left and right: standing outside, looking at the plane. Along the eave: from the end that "
      "is "
      "named, at the drip edge. Up the slope: from the drip edge, along the deck. Drawings are "
      "true "
      "to the scale that stands beside them; figures hold where the two differ.");
}

void CrewSheet::open_page() {
  sheet_.new_page();
  const Entry& entry = contents_[next_];
  Text number;
  number.text = fmt::format("{}", sheet_.page_number() + 1);
  number.size_mm = 3.1;
  number.align = Align::right;
  number.at = {sheet_.left_mm() + sheet_.width_mm(), entry.y_mm};
  sheet_.page_at(entry.page).texts.push_back(number);
  sheet_.heading(titles()[next_]);
  ++next_;
}

void CrewSheet::overview() {
  open_page();
  std::vector<PlanMark> marks;
  for (const Run& run : runs_) {
    const vents::Slot& slot = a_.vents.slots[run.slots[run.slots.size() / 2]];
    marks.push_back({(slot.from + slot.to) / 2.0, fmt::format("{}", marks.size() + 1)});
  }
  for (const RidgeRun& run : ridges_) {
    const vents::Exhaust& vent = a_.vents.exhausts[run.vents.front()];
    marks.push_back({(vent.from + vent.to) / 2.0, fmt::format("{}", marks.size() + 1)});
  }
  const double key_top = sheet_.y_mm() + 4.0;
  const double key =
      draw_plan_key(a_, {sheet_.left_mm(), key_top}, sheet_.width_mm(), sheet_.page());
  sheet_.space(key + 4.0);
  const Frame frame{{sheet_.left_mm(), sheet_.y_mm()}, {sheet_.width_mm(), sheet_.room_mm()}};
  draw_numbered_plan(a_, scale_to_fit(a_, frame, style_), style_, marks, sheet_.page());
}

void CrewSheet::numbered(const std::vector<std::string>& steps) {
  for (std::size_t i = 0; i < steps.size(); ++i) {
    sheet_.item(fmt::format("{}", i + 1), steps[i]);
  }
}

/// Enlarged ends, two side by side.
void CrewSheet::ends(const std::vector<std::pair<SlotId, bool>>& ends) {
  const double wide = (sheet_.width_mm() - detail_gap_mm) / 2;
  for (std::size_t i = 0; i < ends.size(); i += 2) {
    sheet_.keep(detail_height_mm);
    for (std::size_t k = i; k < std::min(i + 2, ends.size()); ++k) {
      const Frame frame{{sheet_.left_mm() + static_cast<double>(k - i) * (wide + detail_gap_mm),
                         sheet_.y_mm() + 2.0},
                        {wide, detail_height_mm - 4.0}};
      draw_slot_end(a_, ends[k].first, ends[k].second, frame, style_, sheet_.page());
    }
    sheet_.space(detail_height_mm);
  }
}

void CrewSheet::mitres(const Run& run) {
  const vents::Slot& first = a_.vents.slots[run.slots.front()];
  const vents::Slot& last = a_.vents.slots[run.slots.back()];
  const model::Product* product = a_.product(first.product);
  if (product == nullptr || (!first.left_mitre && !last.right_mitre)) {
    return;
  }
  sheet_.keep(mitre_height_mm + 10.0);
  sheet_.heading("Mitres, seen from above");
  const double wide = (sheet_.width_mm() - detail_gap_mm) / 2;
  double x = sheet_.left_mm();
  for (const bool is_left : {true, false}) {
    const auto& mitre = is_left ? first.left_mitre : last.right_mitre;
    if (mitre) {
      draw_mitre(*mitre, is_left, product->depth_m,
                 {{x, sheet_.y_mm() + 2.0}, {wide, mitre_height_mm}}, style_, sheet_.page());
      x += wide + detail_gap_mm;
    }
  }
  sheet_.space(mitre_height_mm);
}

void CrewSheet::rafter_table(const Run& run) {
  std::vector<std::vector<std::string>> rows;
  std::string hook;
  for (const SlotId id : run.slots) {
    const SlotMarks marks = marks_of(a_, a_.vents.slots[id]);
    hook = marks.left_hook;
    for (const RafterMark& mark : marks.rafters) {
      if (rows.empty() || rows.back().size() == 6) {
        rows.emplace_back();
      }
      rows.back().push_back(short_name(a_.framing.members[mark.member].id));
      rows.back().push_back(length(mark.from_left_m));
    }
  }
  if (rows.empty()) {
    return;
  }
  rows.back().resize(6);
  sheet_.heading("Rafter marks: centres from the " + hook);
  sheet_.table({{"rafter", 1.0},
                {"at", 1.3, true},
                {"rafter", 1.0},
                {"at", 1.3, true},
                {"rafter", 1.0},
                {"at", 1.3, true}},
               rows);
}

/// "mitre 11 5/8", hip": how the end of a piece is cut, and what it lies at.
std::string end_words(const takeoff::PieceEnd& end, units::Style style) {
  std::string words = takeoff::word(end.kind);
  if (end.kind == takeoff::CutKind::mitre) {
    words += " " + units::show(end.offset_m, style);
  }
  const bool is_plain = end.at == takeoff::EndAt::joint || end.at == takeoff::EndAt::run_end;
  return is_plain ? words : words + ", " + takeoff::word(end.at);
}

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
  std::string last;
  for (const SlotId id : run.slots) {
    for (const vents::SlotBay& bay : a_.vents.slots[id].bays) {
      const std::string name = short_name(a_.framing.bays[bay.bay].id);
      const std::vector<std::string> row{name, length(bay.open_length_m),
                                         bay.live ? "live" : "DEAD", a_.vents.bays[bay.bay].why};
      const bool is_alike = !rows.empty() && rows.back()[1] == row[1] && rows.back()[2] == row[2] &&
                            rows.back()[3] == row[3];
      if (is_alike) {
        std::string& names = rows.back()[0];
        names = names.substr(0, names.find(' ')) + " to " + name;
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

void CrewSheet::intake(const Run& run) {
  open_page();
  const vents::Slot& first = a_.vents.slots[run.slots.front()];
  const Frame frame{{sheet_.left_mm(), sheet_.y_mm() + 6.0},
                    {sheet_.width_mm(), 0.62 * sheet_.room_mm()}};
  const PlaneView view = whole_plane(a_, run.plane, frame, style_);
  sheet_.paragraph(fmt::format("Plane {} flat, pitch {}, seen from outside. Scale {}.",
                               plane(run.plane).id, units::show_pitch(plane(run.plane).pitch),
                               view.words));
  const bool has_marks = draw_run(a_, view, run.slots, style_, sheet_.page());
  sheet_.space(run_height_mm(view));
  const bool is_soffit = model::is_in_soffit(first.kind);
  if (!is_soffit) {
    std::vector<std::pair<SlotId, bool>> both;
    for (const SlotId id : run.slots) {
      both.emplace_back(id, true);
      both.emplace_back(id, false);
    }
    ends(both);
  }
  std::vector<std::size_t> own;
  for (std::size_t i = 0; i < a_.findings.size(); ++i) {
    if (std::find(run.slots.begin(), run.slots.end(), a_.findings[i].slot) != run.slots.end()) {
      own.push_back(i);
    }
  }
  warnings(own);
  sheet_.heading("Steps");
  numbered(steps_of(a_, run, style_));
  if (!has_marks) {
    rafter_table(run);
  }
  pieces(run.id, first.product);
  mitres(run);
  beneath(run);
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

Drawing CrewSheet::run() {
  cover();
  overview();
  for (const Run& one : runs_) {
    intake(one);
  }
  for (const RidgeRun& one : ridges_) {
    ridge(one);
  }
  for (const auto& [id, vents] : singles_) {
    single(id, vents);
  }
  if (!louvres_.empty()) {
    louvres();
  }
  order();
  return sheet_.take();
}

}  // namespace

Drawing crew_sheet(const Assessment& assessment, units::Style style, Paper paper) {
  return CrewSheet(assessment, style, paper).run();
}

}  // namespace ridgeward::papers
