#include "papers/lesson_sheet.hpp"

#include "papers/framing_square.hpp"
#include "papers/marks.hpp"
#include "papers/plan_names.hpp"
#include "papers/section_drawing.hpp"
#include "papers/sheet.hpp"
#include "units/area.hpp"
#include "vents/practice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace ridgeward::papers {

namespace {

constexpr double section_mm = 78.0;
constexpr double eave_mm = 82.0;

class LessonSheet {
 public:
  LessonSheet(const Assessment& a, const LessonExtras& extras, units::Style style, Paper paper)
      : a_(a),
        extras_(extras),
        style_(style),
        sheet_((a.model.name.empty() ? std::string("Unnamed roof") : a.model.name) + ": a lesson",
               "Figures of this house, for learning. The local code, the vent's own instructions "
               "and a licensed professional decide.",
               paper) {}

  Drawing run() {
    air_path();
    work();
    what_ifs();
    square();
    quiz();
    return sheet_.take();
  }

 private:
  std::string length(double m) const { return units::show(m, style_); }
  void air_path();
  void steps(const vents::Slot& slot, const SectionPlace& place);
  void work();
  void what_ifs();
  void square();
  void quiz();

  const Assessment& a_;
  const LessonExtras& extras_;
  units::Style style_;
  Sheet sheet_;
};

void LessonSheet::air_path() {
  sheet_.heading("The way of the air");
  const std::optional<SectionPlace> place = place_of_section(a_);
  if (!place) {
    sheet_.paragraph(
        "No intake slot of this house opens onto a live bay: there is no way for the "
        "air to draw.");
    return;
  }
  const std::string bay = a_.framing.bays[place->bay].id;
  const Frame whole{{sheet_.left_mm(), sheet_.y_mm() + 11.0}, {sheet_.width_mm(), section_mm}};
  const std::string scale = draw_section(a_, *place, whole, style_, sheet_.page());
  sheet_.paragraph(fmt::format(
      "Plumb section up bay {}, over the house. Scale {}. Dashed: the lower edge of the rafters. "
      "A gap or a step in the roof is a chimney with its cricket, a skylight or another roof.",
      bay, scale));
  sheet_.space(section_mm + 3.0);
  const vents::Slot& slot = a_.vents.slots[place->slot];
  const Frame eave{{sheet_.left_mm(), sheet_.y_mm() + 7.0}, {sheet_.width_mm(), eave_mm}};
  const std::string detail = draw_eave_section(a_, *place, eave, style_, sheet_.page());
  sheet_.paragraph(
      fmt::format("The eave of it. Scale {}; the vent's height is not to scale.", detail));
  sheet_.space(eave_mm + 4.0);
  steps(slot, *place);
}

void LessonSheet::steps(const vents::Slot& slot, const SectionPlace& place) {
  sheet_.item("1",
              fmt::format("Air enters at the vent ({}) that lies over the deck.", slot.product));
  sheet_.item("2", fmt::format("It goes down through the slot: {} wide, its lower line {} up the "
                               "slope from the drip edge.",
                               length(slot.width_m), length(slot.lower_line_m)));
  const CompartmentId space = a_.attic.bays[place.bay].compartment;
  const bool is_insulated = !space.is_none() && a_.attic.compartments[space].insulation_m > 0.0;
  const auto under =
      std::find_if(slot.bays.begin(), slot.bays.end(),
                   [&](const vents::SlotBay& part) { return part.bay == place.bay; });
  const std::optional<double> open_m =
      under == slot.bays.end() ? std::nullopt : under->least_open_m();
  const std::string room =
      open_m && is_insulated
          ? fmt::format("{} is open by the model; less than {} would choke it", length(*open_m),
                        length(vents::practice::over_insulation_m))
          : std::string("nothing may choke it");
  sheet_.item("3", fmt::format("It rises in the bay between deck and insulation: {}.", room));
  sheet_.item("4",
              "The plate of the wall. Blocking or a full heel here would shut the way for a "
              "slot over the overhang.");
  sheet_.item("5",
              is_insulated
                  ? "The insulation keeps the ceiling warm and stays below the stream; a "
                    "baffle holds it down where room is short."
                  : "The ceiling. No insulation is given in the model, so none is drawn: where "
                    "there is some, it must stay below the stream.");
  sheet_.item("-",
              fmt::format("Bay {}: {}. Warm air rises and leaves at the top; what leaves draws "
                          "more in below.",
                          short_name(a_.framing.bays[place.bay].id), a_.vents.bays[place.bay].why));
}

void LessonSheet::work() {
  const std::vector<LessonStep> steps = lesson_of(a_, style_);
  std::set<std::string> said;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const LessonStep& step = steps[i];
    if (i < extras_.pictures.size()) {
      sheet_.keep(sheet_.width_mm() / extras_.aspect + 40.0);
    }
    sheet_.heading(fmt::format("Step {}: {}", i + 1, step.title));
    if (i < extras_.pictures.size()) {
      sheet_.space(2.0);
      sheet_.picture(extras_.pictures[i], extras_.aspect);
    }
    for (const std::string& text : step.says) {
      sheet_.item("-", text);
    }
    for (const std::string& text : step.cautions) {
      if (said.insert(text).second) {  // once on paper
        sheet_.item("!", text);
      }
    }
  }
}

void LessonSheet::what_ifs() {
  if (extras_.what_ifs.empty()) {
    return;
  }
  sheet_.heading("What if ...");
  sheet_.paragraph(
      "Mistakes made on purpose on a copy of the model, each by itself, and what they change. "
      "Figures of the largest space; the air is modelled.");
  for (const LessonExtras::Told& told : extras_.what_ifs) {
    sheet_.heading(told.what_if.title);
    sheet_.paragraph(told.what_if.does);
    std::vector<std::vector<std::string>> rows;
    for (const Change& change : told.outcome.changes) {
      if (change.is_changed()) {
        rows.push_back({change.what, change.before, change.after});
      }
    }
    if (!rows.empty()) {
      sheet_.table({{"", 2.0}, {"as planned", 1.0, true}, {"what if", 1.0, true}}, rows);
    }
    for (const Remark& remark : told.outcome.says) {
      sheet_.item("!", remark.words);
    }
  }
}

void LessonSheet::square() {
  const std::vector<SquareFigures> figures = square_figures_of(a_);
  sheet_.heading("Framing square");
  if (figures.empty()) {
    sheet_.paragraph("This roof has no sloping plane.");
    return;
  }
  std::vector<std::vector<std::string>> rows;
  rows.reserve(figures.size());
  for (const SquareFigures& one : figures) {
    rows.push_back({units::show_pitch(one.pitch, style_), fmt::format("{:.4g}", one.pitch.in_12()),
                    fmt::format("{:.2f}", one.common_per_12), fmt::format("{:.2f}", one.hip_per_12),
                    length(one.spacing_m), length(one.jack_difference_m)});
  }
  sheet_.table({{"pitch", 1.0},
                {"rise in 12", 1.0, true},
                {"common per 12", 1.3, true},
                {"hip, valley per 12", 1.5, true},
                {"spacing", 1.1, true},
                {"jack difference", 1.3, true}},
               rows);
  sheet_.paragraph(
      "Lengths for 12 of the common rafter's run, in any unit. A hip or valley between planes of "
      "one "
      "pitch at a square corner runs 16.97 while the common runs 12: its plumb and level cuts are "
      "marked with 17 on the body of the square and the rise on its tongue.");
}

void LessonSheet::quiz() {
  const std::vector<Question> questions = questions_of(a_, style_);
  if (questions.empty()) {
    return;
  }
  sheet_.heading("Questions");
  for (std::size_t i = 0; i < questions.size(); ++i) {
    sheet_.item(fmt::format("{}", i + 1), questions[i].asks);
  }
  sheet_.new_page();
  sheet_.heading("Answers");
  for (std::size_t i = 0; i < questions.size(); ++i) {
    sheet_.item(fmt::format("{}", i + 1), questions[i].answer + ". " + questions[i].how);
  }
}

}  // namespace

Drawing lesson_sheet(const Assessment& assessment, units::Style style, Paper paper) {
  return LessonSheet(assessment, {}, style, paper).run();
}

Drawing lesson_book(const Assessment& assessment, const LessonExtras& extras, units::Style style,
                    Paper paper) {
  return LessonSheet(assessment, extras, style, paper).run();
}

}  // namespace ridgeward::papers
