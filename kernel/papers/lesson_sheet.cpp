#include "papers/lesson_sheet.hpp"

#include "papers/framing_square.hpp"
#include "papers/marks.hpp"
#include "papers/section_drawing.hpp"
#include "papers/sheet.hpp"
#include "units/area.hpp"
#include "vents/practice.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::papers {

namespace {

constexpr double section_mm = 78.0;
constexpr double eave_mm = 82.0;

bool has_line(const Assessment& a, surface::LineKind kind) {
  return std::any_of(a.surface.lines.begin(), a.surface.lines.end(),
                     [&](const surface::Line& line) { return line.kind == kind; });
}

class Asker {
 public:
  Asker(const Assessment& a, units::Style style) : a_(a), style_(style) {}

  std::vector<Question> run() {
    square();
    area();
    slot();
    return std::move(all_);
  }

 private:
  std::string length(double m) const { return units::show(m, style_); }
  std::string opening(double m2) const { return units::show_free_area(m2, style_); }
  void square();
  void area();
  void slot();

  const Assessment& a_;
  units::Style style_;
  std::vector<Question> all_;
};

void Asker::square() {
  const std::vector<SquareFigures> figures = square_figures_of(a_);
  if (figures.empty()) {
    return;
  }
  const SquareFigures& one = figures.front();
  const std::string pitch = units::show_pitch(one.pitch);
  all_.push_back({fmt::format("How long is a common rafter of pitch {} for 12 of run?", pitch),
                  fmt::format("{:.2f}", one.common_per_12),
                  fmt::format("The root of 12 x 12 + {0:g} x {0:g}.", one.pitch.in_12())});
  if (has_line(a_, surface::LineKind::hip) || has_line(a_, surface::LineKind::valley)) {
    all_.push_back({fmt::format("And a hip or valley between two such planes at a square corner, "
                                "for 12 of the common rafter's run?"),
                    fmt::format("{:.2f}", one.hip_per_12),
                    fmt::format("Its own run is 12 x root 2 = {:.2f}; the root of that squared + "
                                "{:g} squared.",
                                one.hip_run_per_12, one.pitch.in_12())});
    all_.push_back(
        {fmt::format("Rafters stand {} on centre. By how much does each jack differ from "
                     "the next?",
                     length(one.spacing_m)),
         length(one.jack_difference_m),
         fmt::format("The spacing x {:.2f} / 12.", one.common_per_12)});
  }
}

void Asker::area() {
  CompartmentId largest;
  for (const CompartmentId id : a_.attic.compartments.ids()) {
    if (largest.is_none() ||
        a_.attic.compartments[id].floor_area_m2 > a_.attic.compartments[largest].floor_area_m2) {
      largest = id;
    }
  }
  if (largest.is_none() || a_.tests.required[largest].ratio <= 0.0) {
    return;
  }
  const attic::Compartment& space = a_.attic.compartments[largest];
  const codes::Requirement& required = a_.tests.required[largest];
  const vents::CompartmentTotals& totals = a_.vents.totals[largest];
  all_.push_back(
      {fmt::format("\"{}\" has a floor of {}. The ratio that holds is 1/{:.0f}. How much "
                   "net free area does it need, low and high together?",
                   space.id, units::show_area(space.floor_area_m2, style_), required.ratio),
       opening(required.required_m2),
       fmt::format("Floor area / {:.0f}, in smaller units.", required.ratio)});
  all_.push_back(
      {fmt::format("Its intake is {}, its exhaust {}. Which share is intake, and is that "
                   "right?",
                   opening(totals.intake_m2), opening(totals.exhaust_m2)),
       fmt::format("{:.0f} %", totals.intake_share() * 100),
       "Intake over both together. It should be at least half, or the exhaust draws "
       "weather or house air in; common practice stops at 60 %."});
}

void Asker::slot() {
  const std::optional<SectionPlace> place = place_of_section(a_);
  if (!place) {
    return;
  }
  const vents::Slot& slot = a_.vents.slots[place->slot];
  std::size_t live = 0;
  for (const vents::SlotBay& bay : slot.bays) {
    live += bay.live ? 1 : 0;
  }
  all_.push_back(
      {fmt::format("Slot {} lies over {} bays. How many of them are live: can air go from "
                   "there to an exhaust?",
                   slot.id, slot.bays.size()),
       fmt::format("{}", live), "Follow each bay from its foot to its head on the plan."});
  all_.push_back(
      {fmt::format("Its lower line is {} up the slope from the drip edge, the slot is {} "
                   "wide. Where is the upper line?",
                   length(slot.lower_line_m), length(slot.width_m)),
       length(slot.upper_line_m()), "Add the two."});
  const model::Product* product = a_.product(slot.product);
  if (product != nullptr && product->free_area_per_length_m > 0.0) {
    all_.push_back(
        {"What happens to the bay in the section when the slot beneath the vent is left "
         "uncut?",
         "It gets no air from below",
         "The vent lies on a whole deck then: nothing of it "
         "counts, however long it is."});
  }
}

class LessonSheet {
 public:
  LessonSheet(const Assessment& a, units::Style style, Paper paper)
      : a_(a),
        style_(style),
        sheet_((a.model.name.empty() ? std::string("Unnamed roof") : a.model.name) + ": a lesson",
               "Figures of this house, for learning. The local code, the vent's own instructions "
               "and a licensed professional decide.",
               paper) {}

  Drawing run() {
    air_path();
    square();
    quiz();
    return sheet_.take();
  }

 private:
  std::string length(double m) const { return units::show(m, style_); }
  void air_path();
  void steps(const vents::Slot& slot, const SectionPlace& place);
  void square();
  void quiz();

  const Assessment& a_;
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
  const Frame whole{{sheet_.left_mm(), sheet_.y_mm() + 7.0}, {sheet_.width_mm(), section_mm}};
  const std::string scale = draw_section(a_, *place, whole, style_, sheet_.page());
  sheet_.paragraph(fmt::format("Plumb section up bay {}, over the house. Scale {}.", bay, scale));
  sheet_.space(section_mm + 4.0);
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
  const std::string room = slot.space_over_insulation_m
                               ? fmt::format("{} is open by the model; less than {} would choke it",
                                             length(*slot.space_over_insulation_m),
                                             length(vents::practice::over_insulation_m))
                               : std::string("nothing may choke it");
  sheet_.item("3", fmt::format("It rises in the bay between deck and insulation: {}.", room));
  sheet_.item("4",
              "The plate of the wall. Blocking or a full heel here would shut the way for a "
              "slot over the overhang.");
  sheet_.item("5",
              "The insulation keeps the ceiling warm and stays below the stream; a baffle holds "
              "it down where room is short.");
  sheet_.item("-",
              fmt::format("Bay {}: {}. Warm air rises and leaves at the top; what leaves draws "
                          "more in below.",
                          short_name(a_.framing.bays[place.bay].id), a_.vents.bays[place.bay].why));
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
    rows.push_back({units::show_pitch(one.pitch), fmt::format("{:.4g}", one.pitch.in_12()),
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

std::vector<Question> questions_of(const Assessment& assessment, units::Style style) {
  return Asker(assessment, style).run();
}

Drawing lesson_sheet(const Assessment& assessment, units::Style style, Paper paper) {
  return LessonSheet(assessment, style, paper).run();
}

}  // namespace ridgeward::papers
