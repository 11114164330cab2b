#include "papers/framing_square.hpp"
#include "papers/lesson.hpp"
#include "papers/section_drawing.hpp"
#include "units/area.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <optional>

namespace ridgeward::papers {

namespace {

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
    dead_bay();
    return std::move(all_);
  }

 private:
  std::string length(double m) const { return units::show(m, style_); }
  std::string opening(double m2) const { return units::show_free_area(m2, style_); }
  /// A figure of the framing square, whose 12 are of any unit: the one that is measured in.
  std::string per_12(double value, int places = 2) const {
    return fmt::format("{:.{}f} {}", value, places, style_ == units::Style::metric ? "cm" : "in");
  }
  /// Adds a question with the right choice and the wrong ones that differ from it.
  void ask(const std::string& asks, const std::string& answer, const std::string& how,
           const std::vector<Choice>& wrong);
  void square();
  void hip_and_jacks(const SquareFigures& one);
  void area();
  void balance(const attic::Compartment& space, const vents::CompartmentTotals& totals);
  void slot();
  void bays_of(const vents::Slot& slot);
  void lines_of(const vents::Slot& slot);
  void dead_bay();

  const Assessment& a_;
  units::Style style_;
  std::vector<Question> all_;
};

void Asker::ask(const std::string& asks, const std::string& answer, const std::string& how,
                const std::vector<Choice>& wrong) {
  Question question{asks, answer, how, {}, 0};
  for (const Choice& choice : wrong) {
    const bool is_new = choice.text != answer &&
                        std::none_of(question.choices.begin(), question.choices.end(),
                                     [&](const Choice& one) { return one.text == choice.text; });
    if (is_new) {
      question.choices.push_back(choice);
    }
  }
  if (question.choices.empty()) {
    return;  // nothing to choose from
  }
  // The right one stands now here, now there, and always so for one house.
  question.right = (all_.size() * 2 + 1) % (question.choices.size() + 1);
  question.choices.insert(question.choices.begin() + static_cast<std::ptrdiff_t>(question.right),
                          {answer, how});
  all_.push_back(std::move(question));
}

void Asker::square() {
  const std::vector<SquareFigures> figures = square_figures_of(a_);
  if (figures.empty()) {
    return;
  }
  const SquareFigures& one = figures.front();
  const std::string pitch = units::show_pitch(one.pitch, style_);
  const std::string root =
      fmt::format("he root of 12 x 12 + {0:.4g} x {0:.4g}.", one.pitch.in_12());
  ask(fmt::format("How long is a common rafter of pitch {} for {} of run?", pitch, per_12(12.0, 0)),
      per_12(one.common_per_12),
      style_ == units::Style::metric
          ? fmt::format("The rise is 12 x tan {} = {:.4g}; t{}", pitch, one.pitch.in_12(), root)
          : "T" + root,
      {{per_12(12 + one.pitch.in_12()),
        "That is run and rise laid end to end. The rafter is the slanting side of the triangle: "
        "shorter than both together."},
       {per_12(one.hip_per_12),
        "That is the hip for the same run: it runs slantwise across the corner."}});
  if (has_line(a_, surface::LineKind::hip) || has_line(a_, surface::LineKind::valley)) {
    hip_and_jacks(one);
  }
}

void Asker::hip_and_jacks(const SquareFigures& one) {
  ask(fmt::format("And a hip or valley between two such planes at a square corner, for {} of the "
                  "common rafter's run?",
                  per_12(12.0, 0)),
      per_12(one.hip_per_12),
      fmt::format("Its own run is 12 x root 2 = {:.2f}; the root of that squared + {:g} squared.",
                  one.hip_run_per_12, one.pitch.in_12()),
      {{per_12(one.common_per_12),
        "That is the common rafter. The hip has the same rise but a longer run."},
       {per_12(one.hip_run_per_12),
        "That is the hip's run on the level; the rise is still to come in."}});
  ask(fmt::format("Rafters stand {} on centre. By how much does each jack differ from the next?",
                  length(one.spacing_m)),
      length(one.jack_difference_m), fmt::format("The spacing x {:.2f} / 12.", one.common_per_12),
      {{length(one.spacing_m), "That is on the level. Along the slope it is more."},
       {length(one.spacing_m * one.hip_per_12 / 12),
        "That is how far apart they meet the hip. A jack itself runs as a common rafter does."}});
}

void Asker::area() {
  const CompartmentId largest = largest_compartment(a_);
  if (largest.is_none() || a_.tests.required[largest].ratio <= 0.0) {
    return;
  }
  const attic::Compartment& space = a_.attic.compartments[largest];
  const codes::Requirement& required = a_.tests.required[largest];
  const double other = required.ratio > 200.0 ? 150.0 : 300.0;
  ask(fmt::format("\"{}\" has a floor of {}. The ratio that holds is 1/{:.0f}. How much net free "
                  "area does it need, low and high together?",
                  space.id, units::show_area(space.floor_area_m2, style_), required.ratio),
      opening(required.required_m2),
      fmt::format("Floor area / {:.0f}, in smaller units.", required.ratio),
      {{opening(space.floor_area_m2 / other),
        fmt::format("That is the floor over {:.0f}. Which of the two holds depends on the code's "
                    "conditions: see the tests.",
                    other)},
       {opening(required.required_m2 / 2),
        "That is one half of it. The ratio asks for low and high together."}});
  balance(space, a_.vents.totals[largest]);
}

void Asker::balance(const attic::Compartment& space, const vents::CompartmentTotals& totals) {
  const double both = totals.intake_m2 + totals.exhaust_m2;
  if (both <= 0.0) {
    return;
  }
  std::vector<Choice> wrong{
      {fmt::format("{:.0f} %", 100 * totals.exhaust_m2 / both), "That is the exhaust's share."}};
  if (totals.exhaust_m2 > 0.0) {
    wrong.push_back({fmt::format("{:.0f} %", 100 * totals.intake_m2 / totals.exhaust_m2),
                     "That is intake over exhaust. A share is taken of both together."});
  }
  ask(fmt::format("\"{}\" has an intake of {} and an exhaust of {}. Which share is intake, and is "
                  "that right?",
                  space.id, opening(totals.intake_m2), opening(totals.exhaust_m2)),
      fmt::format("{:.0f} %", totals.intake_share() * 100),
      "Intake over both together. It should be at least half, or the exhaust draws weather or "
      "house air in; common practice stops at 60 %.",
      wrong);
}

void Asker::slot() {
  const std::optional<SectionPlace> place = place_of_section(a_);
  if (!place) {
    return;
  }
  const vents::Slot& slot = a_.vents.slots[place->slot];
  bays_of(slot);
  lines_of(slot);
  const model::Product* product = a_.product(slot.product);
  if (product != nullptr && product->free_area_per_length_m > 0.0) {
    ask("What happens to the bay in the section when the slot beneath the vent is left uncut?",
        "It gets no air from below",
        "The vent lies on a whole deck then: nothing of it counts, however long it is.",
        {{"It gets half as much",
          "There is no hole at all: through a whole deck nothing comes, not half."},
         {"Nothing: the vent alone lets the air in",
          "The vent lets air under itself; only the slot lets it through the deck."}});
  }
}

void Asker::bays_of(const vents::Slot& slot) {
  std::size_t live = 0;
  for (const vents::SlotBay& bay : slot.bays) {
    live += bay.live ? 1 : 0;
  }
  ask(fmt::format("Slot {} lies over {} bays. How many of them are live: can air go from there to "
                  "an exhaust?",
                  slot.id, slot.bays.size()),
      fmt::format("{}", live), "Follow each bay from its foot to its head on the plan.",
      {{fmt::format("{}", slot.bays.size()),
        "That is all of them. Some lead nowhere: follow each one up."},
       {fmt::format("{}", slot.bays.size() - live), "That is how many are dead."},
       {fmt::format("{}", slot.crossings.size()), "That is how many rafters it crosses."},
       {fmt::format("{}", live / 2),
        "More than that: a bay is live on either side of the house, as long as its air gets "
        "out."}});
}

void Asker::lines_of(const vents::Slot& slot) {
  ask(fmt::format("Its lower line is {} up the slope from the drip edge, the slot is {} wide. "
                  "Where is the upper line?",
                  length(slot.lower_line_m), length(slot.width_m)),
      length(slot.upper_line_m()), "Add the two.",
      {{length(slot.lower_line_m - slot.width_m),
        "That lies below the lower line. Heights are counted up the slope."},
       {length(slot.lower_line_m + 2 * slot.width_m),
        "The width is added once: the lower line is the slot's own lower edge."}});
}

void Asker::dead_bay() {
  const auto first = [&](bool is_live) {
    for (const BayId id : a_.framing.bays.ids()) {
      if (a_.vents.bays.has(id) && a_.vents.bays[id].live == is_live &&
          !a_.vents.bays[id].why.empty()) {
        return id;
      }
    }
    return BayId();
  };
  const BayId dead = first(false);
  if (dead.is_none()) {
    return;
  }
  const BayId live = first(true);
  std::vector<Choice> wrong{
      {"its rafters stand too close", "Width makes a bay slow, not dead. Dead means: no way out."}};
  if (!live.is_none()) {
    wrong.push_back(
        {a_.vents.bays[live].why,
         fmt::format("That is the way out of bay {}, a live one.", a_.framing.bays[live].id)});
  }
  ask(fmt::format("Bay {} is dead: a slot over it would count for nothing. Why?",
                  a_.framing.bays[dead].id),
      a_.vents.bays[dead].why,
      "Follow it from its foot to its head: there is no way to an exhaust.", wrong);
  if (!all_.empty() && all_.back().answer == a_.vents.bays[dead].why) {
    const framing::Bay& bay = a_.framing.bays[dead];
    const surface::Frame& frame = a_.surface.planes[bay.plane].frame;
    Sight& sight = all_.back().sight;
    sight.bays = {dead};
    for (const glm::dvec2 corner : bay.outline) {
      sight.points.push_back(frame.at(corner));
    }
    const glm::dvec3 level{frame.normal.x, frame.normal.y, 0.0};
    sight.from = glm::length(level) > 1e-9 ? glm::normalize(level) : glm::dvec3(0.0);
  }
}

}  // namespace

std::vector<Question> questions_of(const Assessment& assessment, units::Style style) {
  return Asker(assessment, style).run();
}

}  // namespace ridgeward::papers
