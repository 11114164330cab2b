#include "papers/inspector_sheet.hpp"

#include "papers/air.hpp"
#include "papers/air_drawing.hpp"
#include "papers/marks.hpp"
#include "papers/plan_drawing.hpp"
#include "papers/sheet.hpp"
#include "papers/summary.hpp"
#include "papers/told_tests.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::papers {

namespace {

/// Vents along a line one a row; pieces of one kind on one plane together.
void add_exhaust_rows(const Assessment& a, units::Style style,
                      std::vector<std::vector<std::string>>& rows) {
  const auto& all = a.vents.exhausts;
  for (std::size_t i = 0; i < all.size();) {
    const vents::Exhaust& exhaust = all[ExhaustId(i)];
    std::size_t end = i + 1;
    double free_area_m2 = exhaust.free_area_m2;
    while (exhaust.line.is_none() && end < all.size() && all[ExhaustId(end)].line.is_none() &&
           all[ExhaustId(end)].product == exhaust.product &&
           all[ExhaustId(end)].plane == exhaust.plane) {
      free_area_m2 += all[ExhaustId(end)].free_area_m2;
      ++end;
    }
    const std::size_t count = end - i;
    std::string place = exhaust.line.is_none() ? "" : a.surface.lines[exhaust.line].id;
    if (exhaust.line.is_none() && !exhaust.plane.is_none()) {
      place = a.surface.planes[exhaust.plane].id;
    }
    const std::string pieces = count == 1 ? "one piece" : fmt::format("{} pieces", count);
    rows.push_back({count == 1 ? exhaust.id : exhaust.id + " to " + all[ExhaustId(end - 1)].id,
                    exhaust.product, place,
                    exhaust.length_m > 0 ? units::show(exhaust.length_m, style) : pieces, "",
                    units::show_free_area(free_area_m2, style)});
    i = end;
  }
}

class InspectorSheet {
 public:
  InspectorSheet(const Assessment& a, units::Style style, Paper paper)
      : a_(a),
        style_(style),
        sheet_(title_of(a),
               "Arithmetic on the model given, not an approval: the local code, the vent's own "
               "instructions and a licensed professional decide.",
               paper) {}

  Drawing run() {
    verdict();
    plan();
    spaces();
    openings();
    tests();
    findings();
    air();
    closing();
    return sheet_.take();
  }

 private:
  static std::string title_of(const Assessment& a) {
    return (a.model.name.empty() ? std::string("Unnamed roof") : a.model.name) +
           ": attic ventilation, for the inspector";
  }
  std::string opening(double m2) const { return units::show_free_area(m2, style_); }

  void verdict();
  void plan();
  void spaces();
  void openings();
  void tests();
  void findings();
  void air();
  void closing();

  const Assessment& a_;
  units::Style style_;
  Sheet sheet_;
};

void InspectorSheet::verdict() {
  const bool is_told =
      a_.code.edition.empty() || a_.code.name.find(a_.code.edition) != std::string::npos;
  sheet_.paragraph("Tested against: " + a_.code.name +
                   (is_told ? "." : ", edition " + a_.code.edition + "."));
  sheet_.paragraph(verdict_words(a_), 0.0, true);
}

void InspectorSheet::plan() {
  sheet_.heading("Plan with the openings");
  const double key_top = sheet_.y_mm() + 3.5;
  const double key =
      draw_plan_key(a_, {sheet_.left_mm(), key_top}, sheet_.width_mm(), sheet_.page());
  sheet_.space(key + 3.5);
  const Frame frame{{sheet_.left_mm(), sheet_.y_mm()}, {sheet_.width_mm(), sheet_.room_mm()}};
  draw_plan(a_, scale_to_fit(a_, frame, style_), frame, style_, sheet_.page());
  sheet_.new_page();
}

void InspectorSheet::spaces() {
  sheet_.heading("Spaces: required and provided net free area");
  std::vector<std::vector<std::string>> rows;
  for (const CompartmentId id : a_.attic.compartments.ids()) {
    const attic::Compartment& space = a_.attic.compartments[id];
    const vents::CompartmentTotals& totals = a_.vents.totals[id];
    const codes::Requirement& required = a_.tests.required[id];
    rows.push_back(
        {space.id, units::show_area(space.floor_area_m2, style_),
         required.ratio > 0.0 ? fmt::format("1/{:.0f}", required.ratio) : std::string("none"),
         opening(required.required_m2), opening(totals.intake_m2), opening(totals.exhaust_m2),
         fmt::format("{:.0f} %", totals.intake_share() * 100)});
  }
  sheet_.table({{"space", 2.2},
                {"floor", 1.6, true},
                {"ratio", 1.0, true},
                {"required", 1.4, true},
                {"intake", 1.4, true},
                {"exhaust", 1.4, true},
                {"intake share", 1.5, true}},
               rows);
}

void InspectorSheet::openings() {
  sheet_.heading("Openings");
  const std::vector<std::vector<std::string>> rows = opening_rows(a_, style_);
  if (rows.empty()) {
    sheet_.paragraph("None are given.");
    return;
  }
  sheet_.table({{"opening", 2.2},
                {"product", 1.7},
                {"on", 1.9},
                {"place or length", 2.2},
                {"live bays", 1.1, true},
                {"free area", 1.2, true}},
               rows);
}

void InspectorSheet::tests() {
  for (const CompartmentId id : a_.attic.compartments.ids()) {
    sheet_.keep(40.0);
    sheet_.heading("Tests of " + a_.attic.compartments[id].id);
    sheet_.paragraph(count_words(count_tests(a_, id)) + ".");
    std::vector<std::vector<std::string>> rows;
    for (const codes::Test& test : a_.tests.tests) {
      if (test.compartment != id) {
        continue;
      }
      const ToldTest told = papers::told(a_, test, style_);
      rows.push_back({told.verdict, told.section, told.asks, told.measured, told.needed});
    }
    sheet_.table({{"", 1.0}, {"section", 1.3}, {"asks", 4.2}, {"measured", 1.7}, {"needed", 1.7}},
                 rows);
  }
}

void InspectorSheet::findings() {
  sheet_.heading("Found (numbers as on the plan)");
  if (a_.findings.empty()) {
    sheet_.paragraph("Nothing is in the way.");
  }
  for (std::size_t i = 0; i < a_.findings.size(); ++i) {
    const conflicts::Finding& finding = a_.findings[i];
    std::string text = std::string(conflicts::word(finding.severity)) + ": " + finding.message;
    if (!finding.measured.empty() && !finding.needed.empty()) {
      text += " Measured " + finding.measured + ", needed " + finding.needed + ".";
    }
    sheet_.item(fmt::format("{}", i + 1), text + " " + finding.remedy);
  }
}

/// The weather in which the vents are asked for most, drawn; the others as figures.
void InspectorSheet::air() {
  const airflow::CaseAir* noon = a_.airflow.first(airflow::CaseKind::summer);
  if (noon == nullptr || opening_rows(a_, style_).empty()) {
    return;
  }
  sheet_.heading("Where the air goes, by a model of steady weather");
  sheet_.table({{"weather", 3.0},
                {"outside", 1.0, true},
                {"attic", 1.0, true},
                {"changes/h", 1.2, true},
                {"by intake", 1.2, true},
                {"by exhaust", 1.2, true},
                {"from rooms", 1.3, true}},
               air_rows(a_, style_));
  for (const std::string& words : air_words(a_, style_)) {
    sheet_.item("-", words);
  }
  constexpr double least_mm = 110.0;
  sheet_.keep(least_mm);
  sheet_.paragraph("The " + noon->conditions.name + ":", 0.0, true);
  sheet_.paragraph(balance_words(*noon, a_.airflow, style_));
  sheet_.paragraph(air_plan_key());
  sheet_.space(2.0);
  const Frame frame{{sheet_.left_mm(), sheet_.y_mm()}, {sheet_.width_mm(), sheet_.room_mm()}};
  draw_air_plan(a_, *noon, roof_to_fit(a_, frame, style_), style_, sheet_.page());
  sheet_.new_page();
}

void InspectorSheet::closing() {
  sheet_.heading("Assumed");
  for (const std::string& text : a_.assumptions) {
    sheet_.item("-", text);
  }
  sheet_.heading("Cautions");
  for (const std::string& text : all_cautions(a_)) {
    sheet_.item("-", text);
  }
}

}  // namespace

namespace {

/// What of the code holds: where a space has to do without the reduced area, that too.
std::string ordinary_words(const Assessment& a) {
  const bool has_unmet =
      std::any_of(a.tests.tests.begin(), a.tests.tests.end(), [&](const codes::Test& test) {
        return test.is_condition && !test.holds &&
               a.tests.required[test.compartment].ratio != a.code.reduced_ratio;
      });
  return has_unmet ? fmt::format(
                         "the code holds at 1/{:g} (the conditions of 1/{:g} do not all hold "
                         "and are not used)",
                         a.code.ratio, a.code.reduced_ratio)
                   : "every test of the code holds";
}

std::string proviso_words(const Assessment& a) {
  const std::string words = codes::proviso(a.code, a.model.site.climate_zone, a.tests);
  return words.empty() ? "" : ", provided that: " + words.substr(0, words.size() - 1);
}

}  // namespace

std::string verdict_words(const Assessment& a) {
  std::size_t failed = 0;
  for (const codes::Test& test : a.tests.tests) {
    failed += test.fails() ? 1 : 0;
  }
  std::size_t errors = 0;
  for (const conflicts::Finding& finding : a.findings) {
    errors += finding.severity == conflicts::Severity::error ? 1 : 0;
  }
  const std::string verdict =
      a.is_at_fault()
          ? fmt::format("NOT in order: {} of the code, {}",
                        counted(failed, "failed test", "failed tests"),
                        counted(errors, "conflict that is an error", "conflicts that are errors"))
          : "In order: " + ordinary_words(a) + " and no conflict is an error" + proviso_words(a);
  const std::size_t remembered = count_tests(a).from_memory;
  return verdict + (remembered == 0 ? "."
                    : remembered == 1
                        ? "; 1 figure is from memory: check it against the code."
                        : fmt::format("; {} figures are from memory: check them against the code.",
                                      remembered));
}

std::vector<std::vector<std::string>> opening_rows(const Assessment& a, units::Style style) {
  std::vector<std::vector<std::string>> rows;
  for (const vents::Slot& slot : a.vents.slots) {
    std::size_t live = 0;
    for (const vents::SlotBay& bay : slot.bays) {
      live += bay.live ? 1 : 0;
    }
    rows.push_back({slot.id, slot.product, a.surface.planes[slot.plane].id,
                    place_words(a, slot, style), fmt::format("{} of {}", live, slot.bays.size()),
                    units::show_free_area(slot.free_area_m2, style)});
  }
  add_exhaust_rows(a, style, rows);
  return rows;
}

std::string place_words(const Assessment& a, const vents::Slot& slot, units::Style style) {
  const SlotMarks marks = marks_of(a, slot);
  return fmt::format("{} to {} from the left, {}", mark_words(marks.start_from_left_m, style),
                     units::show(marks.end_from_left_m, style), marks.left_hook);
}

Drawing inspector_sheet(const Assessment& assessment, units::Style style, Paper paper) {
  return InspectorSheet(assessment, style, paper).run();
}

}  // namespace ridgeward::papers
