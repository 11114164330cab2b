#include "airflow/words.hpp"
#include "papers/crew_steps.hpp"
#include "papers/lesson.hpp"
#include "papers/marks.hpp"
#include "papers/section_drawing.hpp"
#include "papers/summary.hpp"
#include "papers/told_tests.hpp"
#include "units/area.hpp"
#include "vents/practice.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace ridgeward::papers {

namespace {

constexpr std::size_t most_troubles = 3;  // of this house's own; the sheets list all
constexpr std::size_t most_tests = 3;
constexpr double chalk_m = 0.008;  // half a chalk line as drawn

class LessonSteps {
 public:
  LessonSteps(const Assessment& a, units::Style style)
      : a_(a), style_(style), space_(largest_compartment(a)), place_(place_of_section(a)) {
    const std::vector<Run> runs = runs_of(a);
    const auto through = std::find_if(runs.begin(), runs.end(), [&](const Run& run) {
      return place_ &&
             std::find(run.slots.begin(), run.slots.end(), place_->slot) != run.slots.end();
    });
    if (!runs.empty()) {
      const Run& run = through == runs.end() ? runs.front() : *through;
      slots_ = run.slots;
      slot_ = place_ ? place_->slot : run.slots.front();
      work_ = work_steps_of(a, run, style);
    }
  }

  std::vector<LessonStep> run() {
    why();
    code();
    balance();
    place();
    lines();
    cut();
    sections();
    shingles();
    trouble();
    return std::move(all_);
  }

 private:
  std::string length(double m) const { return units::show(m, style_); }
  std::string opening(double m2) const { return units::show_free_area(m2, style_); }
  LessonStep& begin(Topic topic, std::string title);
  void why();
  void code();
  void balance();
  void place();
  void dead_bays(LessonStep& step) const;
  void lines();
  void cut();
  void sections();
  void shingles();
  void trouble();
  void say_air(LessonStep& step) const;
  /// The crew's steps of one part of the work.
  void say_work(LessonStep& step, Phase phase) const;
  bool has_run(LessonStep& step) const;
  const vents::Slot& slot() const { return a_.vents.slots[slot_]; }
  /// The strip of the roof about a slot, from its own side.
  Sight sight_of(const vents::Slot& slot, double from_m, double to_m) const;
  void see_vents(Sight& sight) const;
  /// From one place along the eave to another, from one height over the drip edge to another; its
  /// words stand at its right end, or in its middle.
  Band band(glm::dvec2 from, glm::dvec2 to, std::string words, bool is_in_middle) const;

  const Assessment& a_;
  units::Style style_;
  CompartmentId space_;
  std::optional<SectionPlace> place_;
  std::vector<SlotId> slots_;  ///< of the run that is told; none where the house has none
  SlotId slot_;                ///< the one of them that figures are taken from
  std::vector<WorkStep> work_;
  std::vector<LessonStep> all_;
};

LessonStep& LessonSteps::begin(Topic topic, std::string title) {
  all_.push_back({topic, std::move(title), {}, {}, {}});
  return all_.back();
}

Sight LessonSteps::sight_of(const vents::Slot& slot, double from_m, double to_m) const {
  const surface::Frame& frame = a_.surface.planes[slot.plane].frame;
  Sight sight;
  for (const double u : {from_m, to_m}) {
    sight.points.push_back(frame.at({u, slot.drip_v_m}));
    sight.points.push_back(frame.at({u, slot.lower_v_m() + slot.width_m}));
  }
  const glm::dvec3 level{frame.normal.x, frame.normal.y, 0.0};
  sight.from = glm::length(level) > 1e-9 ? glm::normalize(level) : glm::dvec3(0.0);
  return sight;
}

Band LessonSteps::band(glm::dvec2 from, glm::dvec2 to, std::string words, bool is_in_middle) const {
  const glm::dvec2 low{from.x, slot().drip_v_m + from.y};
  const glm::dvec2 high{to.x, slot().drip_v_m + to.y};
  return {slot().plane, low, high,
          is_in_middle ? (low + high) / 2.0 : glm::dvec2{high.x, (low.y + high.y) / 2},
          std::move(words)};
}

void LessonSteps::see_vents(Sight& sight) const {
  sight.slots = a_.vents.slots.ids();
  sight.exhausts = a_.vents.exhausts.ids();
}

bool LessonSteps::has_run(LessonStep& step) const {
  if (slots_.empty()) {
    step.says.emplace_back(
        "This house has no intake slot yet. Let the program place vents, or add a run to the "
        "model; then this step has figures.");
  }
  return !slots_.empty();
}

void LessonSteps::say_work(LessonStep& step, Phase phase) const {
  for (const WorkStep& one : work_) {
    if (one.phase == phase) {
      step.says.push_back(one.text);
    }
  }
}

void LessonSteps::say_air(LessonStep& step) const {
  for (const airflow::CaseKind kind : {airflow::CaseKind::winter, airflow::CaseKind::summer}) {
    const airflow::CaseAir* one = a_.airflow.first(kind);
    if (one == nullptr || space_.is_none() || !one->spaces.has(space_)) {
      continue;
    }
    const airflow::SpaceAir& air = one->spaces[space_];
    step.says.push_back(fmt::format(
        "{}: {} outside, {} under the roof, {:.1f} air changes an hour; {:.0f} % of what comes in "
        "comes by the intake, {:.0f} % from the rooms.",
        one->conditions.name, airflow::temperature_words(one->conditions.outside_c, style_),
        airflow::temperature_words(air.air_c, style_), air.air_changes_per_h,
        100 * air.intake_share, 100 * air.house_share));
    step.says.back().front() = static_cast<char>(std::toupper(step.says.back().front()));
  }
}

void LessonSteps::why() {
  LessonStep& step = begin(Topic::why, "Why the roof needs air");
  step.says.emplace_back(
      "Air comes in low, at the eaves, rises under the deck and leaves high up. In winter it "
      "carries damp out and keeps the deck cold, so that snow does not melt from beneath and "
      "freeze at the eave. In summer it carries heat off.");
  if (place_) {
    step.says.push_back(fmt::format("Here: in at slot {}, then bay {}: {}.", slot().id,
                                    a_.framing.bays[place_->bay].id,
                                    a_.vents.bays[place_->bay].why));
    step.sight.bays.push_back(place_->bay);
  } else {
    step.says.emplace_back(
        "No intake slot of this house opens onto a live bay: there is no way for the air to "
        "draw.");
  }
  say_air(step);
  see_vents(step.sight);
  step.cautions.push_back(cautions()[2]);
}

void LessonSteps::code() {
  LessonStep& step = begin(Topic::code, "What the code asks");
  if (space_.is_none()) {
    step.says.emplace_back("No space under this roof is to be vented.");
    step.cautions.push_back(cautions()[3]);
    return;
  }
  const attic::Compartment& space = a_.attic.compartments[space_];
  const codes::Requirement& required = a_.tests.required[space_];
  step.says.push_back(a_.code.name + (required.ratio > 0.0 ? ": " + a_.code.ratio_words : "."));
  if (required.ratio > 0.0) {
    step.says.push_back(fmt::format(
        "\"{}\" has a floor of {}. The ratio that holds is 1/{:.0f}: {} of net free area, low and "
        "high together.",
        space.id, units::show_area(space.floor_area_m2, style_), required.ratio,
        opening(required.required_m2)));
  }
  std::vector<const codes::Test*> shown;
  for (const codes::Test& test : a_.tests.tests) {
    if (test.compartment == space_ && !test.is_advice) {
      shown.push_back(&test);
    }
  }
  step.says.push_back(count_words(count_tests(a_, space_)) + ".");
  std::stable_sort(shown.begin(), shown.end(), [](const codes::Test* x, const codes::Test* y) {
    return x->is_tested && !x->holds && (!y->is_tested || y->holds);
  });
  for (std::size_t i = 0; i < std::min(most_tests, shown.size()); ++i) {
    const codes::Test& test = *shown[i];
    const ToldTest told = papers::told(a_, test, style_);
    const char* verdict = !test.is_tested ? "Not tested:" : test.holds ? "Holds:" : "Not met:";
    step.says.push_back(fmt::format("{} {}: {} Measured: {}; needed: {}.", verdict, told.section,
                                    told.asks, told.measured, told.needed));
  }
  see_vents(step.sight);
  step.cautions.push_back(cautions()[4]);
}

void LessonSteps::balance() {
  LessonStep& step = begin(Topic::balance, "Balance: as much in as out");
  if (!space_.is_none()) {
    const vents::CompartmentTotals& totals = a_.vents.totals[space_];
    step.says.push_back(fmt::format("Intake, low: {}. Exhaust, high: {}. Both: {}.",
                                    opening(totals.intake_m2), opening(totals.exhaust_m2),
                                    opening(totals.intake_m2 + totals.exhaust_m2)));
    step.says.push_back(
        fmt::format("{:.0f} % is intake. It belongs between 50 and 60 % (common practice).",
                    100 * totals.intake_share()));
  }
  step.says.emplace_back(
      "With more exhaust than intake the upper vents take what they lack from the rooms below or, "
      "with the wind, from outside with rain and snow.");
  step.says.emplace_back(
      "Only what is open all the way counts: the smallest of the vent, the slot and the gap over "
      "the insulation, and only over bays from which air reaches an exhaust.");
  see_vents(step.sight);
  step.cautions.push_back(cautions()[2]);
}

void LessonSteps::dead_bays(LessonStep& step) const {
  std::size_t dead = 0;
  BayId first;
  for (const BayId id : a_.framing.bays.ids()) {
    if (a_.vents.bays.has(id) && !a_.vents.bays[id].live) {
      ++dead;
      first = first.is_none() ? id : first;
    }
  }
  if (dead > 0) {
    step.says.push_back(fmt::format(
        "Of the {1} bays of the whole roof, at eaves and above them, {0} lead nowhere; a slot over "
        "them counts for nothing. Bay {2}: {3}.",
        dead, a_.framing.bays.size(), a_.framing.bays[first].id, a_.vents.bays[first].why));
  }
}

void LessonSteps::place() {
  LessonStep& step = begin(Topic::place, "Where the slot goes");
  if (!has_run(step)) {
    dead_bays(step);
    step.cautions.push_back(cautions()[3]);
    return;
  }
  const vents::Slot& here = slot();
  const auto live = std::count_if(here.bays.begin(), here.bays.end(),
                                  [](const vents::SlotBay& bay) { return bay.live; });
  step.says.push_back(
      fmt::format("Slot {} on plane {} opens onto {}, {} of them live: {} of free area.", here.id,
                  a_.surface.planes[here.plane].id, counted(here.bays.size(), "bay", "bays"), live,
                  opening(here.free_area_m2)));
  const model::Product* product = a_.product(here.product);
  if (here.courses) {
    step.says.push_back(fmt::format(
        "It lies up the slope, inside the wall: row {} of the shingles covers the wall line, {} "
        "up from the drip edge.",
        here.courses->wall_row, length(here.wall_line_m)));
  } else {
    step.says.push_back(fmt::format(
        "It lies at the eave, {} up the slope from the drip edge{}.", length(here.lower_line_m),
        here.is_over_overhang ? ", over the overhang: air must pass over the plate, so no blocking "
                                "and no insulation may stand there"
                              : ""));
  }
  if (product != nullptr && product->slot.hold_back_m > 0.0) {
    step.says.push_back(
        fmt::format("It stops {} short of gable-end walls and {} short of hips and valleys.",
                    length(product->slot.hold_back_m), length(product->slot.hold_back_hip_m)));
  }
  dead_bays(step);
  step.sight = sight_of(here, here.start_m, here.end_m);
  for (const vents::SlotBay& bay : here.bays) {
    step.sight.bays.push_back(bay.bay);
    for (const glm::dvec2 uv : a_.framing.bays[bay.bay].outline) {
      step.sight.points.push_back(a_.surface.planes[here.plane].frame.at(uv));
    }
  }
  step.sight.slots = slots_;
  step.cautions.push_back(cautions()[3]);
}

void LessonSteps::lines() {
  LessonStep& step = begin(Topic::lines, "The lines");
  if (has_run(step)) {
    say_work(step, Phase::ready);
    say_work(step, Phase::lines);
    const SlotMarks marks = marks_of(a_, slot());
    const double end = marks.hook_u_m + marks.eave_m;
    step.sight = sight_of(slot(), marks.hook_u_m, end);
    for (const double line : {slot().lower_line_m, slot().upper_line_m()}) {
      // Apart where they can be read: the lower line's figure left, the upper one's right.
      step.sight.bands.push_back(
          band({marks.hook_u_m, line - chalk_m}, {end, line + chalk_m}, length(line), false));
    }
    step.sight.bands.front().words_at.x = slot().start_m;
    step.sight.slots = slots_;
  }
  step.cautions.push_back(cautions()[0]);
}

void LessonSteps::cut() {
  LessonStep& step = begin(Topic::cut, "The cut");
  if (has_run(step)) {
    say_work(step, Phase::cut);
    const double middle = (slot().start_m + slot().end_m) / 2;
    const double reach = std::min(1.5, (slot().end_m - slot().start_m) / 2);
    step.sight = sight_of(slot(), middle - reach, middle + reach);
    step.sight.slots = slots_;
    step.sight.bands.push_back(band({slot().start_m, slot().lower_line_m},
                                    {slot().end_m, slot().upper_line_m()}, "cut out", true));
    if (place_) {
      step.sight.bays.push_back(place_->bay);
    }
  }
  step.cautions.push_back(cautions()[0]);
  step.cautions.push_back(cautions()[1]);
}

void LessonSteps::sections() {
  LessonStep& step = begin(Topic::sections, "The sections");
  if (has_run(step)) {
    say_work(step, Phase::sections);
    std::vector<Band> pieces;
    for (const takeoff::SectionRun& strip : a_.takeoff.sections) {
      if (strip.over != slot().id || strip.pieces.empty()) {
        continue;
      }
      std::string list;
      const model::Product* product = a_.product(slot().product);
      const double depth = product == nullptr ? slot().width_m : product->depth_m;
      for (const takeoff::Piece& piece : strip.pieces) {
        pieces.push_back(band({piece.from_m, slot().vent_low_m},
                              {piece.to_m, slot().vent_low_m + depth}, length(piece.length_m),
                              true));
        list += (list.empty() ? "" : ", ") + length(piece.length_m);
      }
      step.says.push_back(fmt::format("Over slot {}, from left to right: {}.", strip.over, list));
    }
    step.sight = sight_of(slot(), slot().vent_from_m, slot().vent_to_m);
    step.sight.bands = std::move(pieces);
  }
  step.cautions.push_back(cautions()[0]);
}

void LessonSteps::shingles() {
  LessonStep& step = begin(Topic::shingles, "Shingles over it");
  if (has_run(step)) {
    say_work(step, Phase::cover);
    step.sight = sight_of(slot(), slot().vent_from_m, slot().vent_to_m);
    step.sight.bands.push_back(band({slot().start_m, slot().lower_line_m},
                                    {slot().end_m, slot().upper_line_m()}, "no nail here", true));
  }
  step.cautions.push_back(cautions()[0]);
}

void LessonSteps::trouble() {
  LessonStep& step = begin(Topic::trouble, "What goes wrong");
  std::vector<const conflicts::Finding*> worst;
  worst.reserve(a_.findings.size());
  for (const conflicts::Finding& finding : a_.findings) {
    worst.push_back(&finding);
  }
  std::stable_sort(worst.begin(), worst.end(),
                   [](const conflicts::Finding* x, const conflicts::Finding* y) {
                     return x->severity > y->severity;
                   });
  step.says.push_back(worst.empty() ? std::string("Nothing stands in the way on this house.")
                                    : fmt::format("Found on this house: {}.", worst.size()));
  for (std::size_t i = 0; i < std::min(most_troubles, worst.size()); ++i) {
    step.says.push_back(worst[i]->message + " " + worst[i]->remedy);
    step.sight.points.push_back(worst[i]->at);
  }
  step.says.push_back(fmt::format(
      "Usual mistakes: insulation pushed into the eave (at least {} must stay open), a slot over "
      "a bay that ends at a hip, a nail through the slot, two kinds of exhaust over one space, "
      "more exhaust than intake.",
      length(vents::practice::over_insulation_m)));
  // A single place is shown with the house about it.
  if (step.sight.points.size() == 1) {
    step.sight.points.clear();
  }
  for (const vents::Slot& one : a_.vents.slots) {
    for (const vents::SlotBay& bay : one.bays) {
      if (!bay.live) {
        step.sight.bays.push_back(bay.bay);
      }
    }
  }
  step.cautions.push_back(cautions()[2]);
  step.cautions.push_back(cautions()[3]);
}

}  // namespace

const char* word(Topic topic) {
  constexpr std::array<const char*, topic_count> words{
      "why", "code", "balance", "place", "lines", "cut", "sections", "shingles", "trouble"};
  return words[static_cast<std::size_t>(topic)];
}

CompartmentId largest_compartment(const Assessment& a) {
  CompartmentId largest;
  for (const CompartmentId id : a.attic.compartments.ids()) {
    if (largest.is_none() ||
        a.attic.compartments[id].floor_area_m2 > a.attic.compartments[largest].floor_area_m2) {
      largest = id;
    }
  }
  return largest;
}

std::vector<LessonStep> lesson_of(const Assessment& assessment, units::Style style) {
  return LessonSteps(assessment, style).run();
}

}  // namespace ridgeward::papers
