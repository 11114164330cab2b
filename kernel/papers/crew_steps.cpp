#include "papers/crew_steps.hpp"

#include "attic/names.hpp"
#include "papers/marks.hpp"
#include "vents/practice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

namespace ridgeward::papers {

namespace {

namespace practice = vents::practice;

/// More heights under the deck than these are told by the least and the most.
constexpr std::size_t most_heights = 3;
constexpr double beyond_m = 1e-4;  // of a hook
constexpr double flush_m = units::inch_m / 16;

class RunSteps {
 public:
  RunSteps(const Assessment& a, const Run& run, units::Style style)
      : a_(a),
        run_(run),
        slot_(a.vents.slots[run.slots.front()]),
        marks_(marks_of(a, slot_)),
        product_(a.product(slot_.product)),
        style_(style) {}

  std::vector<WorkStep> over_deck();
  std::vector<WorkStep> at_drip_edge();
  std::vector<WorkStep> in_soffit();

 private:
  std::string length(double m) const { return units::show(m, style_); }
  void say(std::string text) { steps_.push_back({phase_, std::move(text)}); }
  bool is_upslope() const { return slot_.courses.has_value(); }
  double nail_m() const {
    const bool is_said = product_ != nullptr && product_->nail_length_m > 0.0;
    return is_said ? product_->nail_length_m : practice::nail_length_m;
  }
  /// Whether a piece of the run lies at a rake.
  bool ends_at_rake() const;
  void before_the_slot();
  void courses(const vents::Courses& c);
  void chalk();
  std::string ends_words(const SlotMarks& marks) const;
  std::string beneath_words(const SlotMarks& marks, bool has_left, bool has_right) const;
  void cut();
  void look_inside();
  std::string open_words() const;
  void sections();
  void free_ends();
  std::optional<double> free_end_past_m(bool is_left) const;
  void cover();
  /// "18 in wide, 14' 0" long": the underlayment over the vents of this page.
  std::string covering() const;

  const Assessment& a_;
  const Run& run_;
  const vents::Slot& slot_;
  SlotMarks marks_;
  const model::Product* product_;
  units::Style style_;
  Phase phase_ = Phase::ready;
  std::vector<WorkStep> steps_;
};

bool RunSteps::ends_at_rake() const {
  const auto at_rake = [](const takeoff::Piece& piece) {
    return piece.left.at == takeoff::EndAt::rake || piece.right.at == takeoff::EndAt::rake;
  };
  return std::any_of(a_.takeoff.sections.begin(), a_.takeoff.sections.end(),
                     [&](const takeoff::SectionRun& strip) {
                       return strip.run == run_.id &&
                              std::any_of(strip.pieces.begin(), strip.pieces.end(), at_rake);
                     });
}

void RunSteps::before_the_slot() {
  if (slot_.is_over_break) {
    say(fmt::format(
        "Flash the pitch break ({}) first. Its line on the deck stands for the drip edge "
        "in these steps.",
        length(marks_.eave_m)));
    return;
  }
  say(fmt::format("Drip edge first, on the whole eave ({}), as the local code asks.",
                  length(marks_.eave_m)));
}

void RunSteps::courses(const vents::Courses& c) {
  const bool is_double =
      a_.surface.planes[run_.plane].pitch.in_12() < practice::single_underlayment_in_12 - 1e-9;
  const bool has_barrier = slot_.ice_barrier_m > 0.0;
  if (!has_barrier) {
    say(std::string("Underlayment over the whole slope") + (is_double ? ", in two layers." : "."));
  } else {
    say(
        fmt::format("Ice barrier from the drip edge to {} up the slope, as the local code asks, "
                    "underlayment{} over the rest of the slope.{}",
                    length(slot_.ice_barrier_m), is_double ? " in two layers" : "",
                    slot_.lower_line_m < slot_.ice_barrier_m
                        ? " The slot is cut through it: ask the building office first."
                        : ""));
  }
  if (ends_at_rake()) {
    say(fmt::format("Rake metal up past the vent: {} beyond the second course of underlayment.",
                    length(practice::rake_metal_beyond_m)));
  }
  say(slot_.is_over_break
          ? fmt::format("Starter, then courses of {} from the pitch break. Rows {} and {}, butt at "
                        "{}, are laid and nailed whole.",
                        length(c.exposure_m), c.wall_row, c.whole_row(), length(c.whole_row_butt_m))
          : fmt::format(
                "Starter, then courses of {} from the eave. Row {} lies over the wall line ({} up "
                "the slope). Row {}, butt at {}, is laid and nailed whole.",
                length(c.exposure_m), c.wall_row, length(slot_.wall_line_m), c.whole_row(),
                length(c.whole_row_butt_m)));
  say(
      fmt::format("Row {}, butt at {}: no nails on its nail line. Face-nail it along {} up the "
                  "slope, with {} more nails a shingle {} below its top.",
                  c.faced_row(), length(c.faced_row_butt_m), length(c.face_nails_m),
                  practice::top_nails_each, length(c.top_nails_below_m)));
}

void RunSteps::chalk() {
  phase_ = Phase::lines;
  say(fmt::format("Mark the rafters by the running dimensions: tape hooked on the {}.{}",
                  marks_.left_words(), beneath_words(marks_, true, false)));
  say(
      fmt::format("Snap two chalk lines up the slope from the drip edge: lower line {}, upper line "
                  "{}.",
                  length(slot_.lower_line_m), length(slot_.upper_line_m())));
  for (const SlotId id : run_.slots) {
    const vents::Slot& slot = a_.vents.slots[id];
    const SlotMarks marks = marks_of(a_, slot);
    const bool is_first = id == run_.slots.front();
    say(fmt::format("Ends of slot {}: {} The slot is {} long.{}", slot.id, ends_words(marks),
                    length(marks.length_m), beneath_words(marks, !is_first, true)));
  }
}

/// A tape has nothing to hook on beyond a valley's corner, where the plane is wider than its eave:
/// such an end is measured from the other side.
std::string RunSteps::ends_words(const SlotMarks& marks) const {
  const bool is_left_beyond = marks.start_from_left_m < -beyond_m;
  const bool is_right_beyond = marks.end_from_right_m < -beyond_m;
  const std::string left = from_words(marks.start_from_left_m, marks.left_words(), style_);
  const std::string right = from_words(marks.end_from_right_m, marks.right_words(), style_);
  if (is_left_beyond && is_right_beyond) {
    return fmt::format("the left one {}, the right one {}, level along the slope.", left, right);
  }
  if (is_left_beyond) {
    return fmt::format("{} and {} from the {}; the left one lies {}.",
                       length(marks.start_from_right_m), length(marks.end_from_right_m),
                       marks.right_words(), left);
  }
  if (is_right_beyond) {
    return fmt::format("{} and {} from the {}; the right one lies {}.",
                       length(marks.start_from_left_m), length(marks.end_from_left_m),
                       marks.left_words(), right);
  }
  return fmt::format("{} and {} from the {}; check {} from its right end to the {}.",
                     length(marks.start_from_left_m), length(marks.end_from_left_m),
                     marks.left_words(), length(marks.end_from_right_m), marks.right_words());
}

/// What a crew must know of an eave that ends beneath another roof; told at the hook that is used
/// first.
std::string RunSteps::beneath_words(const SlotMarks& marks, bool has_left, bool has_right) const {
  std::string words;
  if (has_left && marks.left_over) {
    words += " " + over_words("On the left", *marks.left_over, style_);
  }
  if (has_right && marks.right_over) {
    words += " " + over_words("On the right", *marks.right_over, style_);
  }
  return words;
}

void RunSteps::cut() {
  phase_ = Phase::cut;
  std::size_t crossings = 0;
  for (const SlotId id : run_.slots) {
    crossings += a_.vents.slots[id].crossings.size();
  }
  say(fmt::format(
      "Pull the nails along the lines. Set the saw to {}, the thickness of the deck. Cut "
      "both lines and the ends, lift out the strip of {}. The {} rafters beneath stay "
      "whole.",
      length(marks_.deck_m), length(slot_.width_m), crossings));
}

void RunSteps::look_inside() {
  const std::string text =
      fmt::format("Look in: at least {} open between insulation and deck, all along.",
                  length(practice::over_insulation_m));
  say(text + open_words());
}

/// What the model leaves open beneath the slots: bay by bay where it is not the same all along.
std::string RunSteps::open_words() const {
  std::map<double, std::vector<BayId>> by_height;  // as far as it is shown
  for (const SlotId id : run_.slots) {
    for (const vents::SlotBay& under : a_.vents.slots[id].bays) {
      const std::optional<double> open_m = under.least_open_m();
      if (!open_m || !under.is_judged()) {
        continue;
      }
      const auto same = std::find_if(by_height.begin(), by_height.end(), [&](const auto& one) {
        return length(one.first) == length(*open_m);
      });
      (same == by_height.end() ? by_height[*open_m] : same->second).push_back(under.bay);
    }
  }
  if (by_height.empty()) {
    return {};
  }
  if (by_height.size() == 1) {
    return fmt::format(" By the model {} is open.", length(by_height.begin()->first));
  }
  const auto in_bays = [&](const auto& one) {
    return fmt::format("{} in {}", length(one.first), attic::names_of_bays(a_.framing, one.second));
  };
  if (by_height.size() > most_heights) {
    return fmt::format(" By the model from {} to {} is open.", in_bays(*by_height.begin()),
                       length(by_height.rbegin()->first));
  }
  const auto usual = std::max_element(
      by_height.begin(), by_height.end(),
      [](const auto& l, const auto& r) { return l.second.size() < r.second.size(); });
  std::vector<std::string> all;
  for (auto one = by_height.begin(); one != by_height.end(); ++one) {
    if (one != usual) {
      all.push_back(in_bays(*one));
    }
  }
  all.push_back(length(usual->first) + " elsewhere");
  return fmt::format(" Open by the model: {}.", fmt::join(all, ", "));
}

void RunSteps::sections() {
  phase_ = Phase::sections;
  const std::string where =
      slot_.courses
          ? fmt::format("their mark on the butt of row {}", slot_.courses->faced_row())
          : fmt::format("set {} over the edge of the eave", length(practice::over_edge_m));
  const char* ends =
      ends_at_rake() ? " A factory end lies outwards at each rake, the trimmed end inwards." : "";
  say(fmt::format("Lay the {} pieces from left to right, butted, {}, as drawn.{}",
                  laid(a_, slot_.run), where, ends));
  for (const bool is_left : {true, false}) {
    const SlotId id = is_left ? run_.slots.front() : run_.slots.back();
    const auto& mitre = is_left ? a_.vents.slots[id].left_mitre : a_.vents.slots[id].right_mitre;
    if (mitre) {
      say(fmt::format(
          "Mitre the {} end: mark {} along the {} edge, draw to the corner of the other "
          "edge, cut.",
          is_left ? "left" : "right", length(mitre->offset_m),
          mitre->is_valley ? "lower" : "upper"));
    }
  }
}

/// How far the vent reaches past its slot at an end where it ends on the deck and no rake metal,
/// mitre or wall closes it; none where it does not.
std::optional<double> RunSteps::free_end_past_m(bool is_left) const {
  std::optional<double> past;
  for (const takeoff::SectionRun& strip : a_.takeoff.sections) {
    if (strip.run != run_.id || strip.plane != run_.plane || strip.pieces.empty()) {
      continue;
    }
    const takeoff::Piece& piece = is_left ? strip.pieces.front() : strip.pieces.back();
    if ((is_left ? piece.left.at : piece.right.at) != takeoff::EndAt::run_end) {
      continue;
    }
    for (const SlotId id : run_.slots) {
      const vents::Slot& slot = a_.vents.slots[id];
      const double off_m = is_left ? slot.vent_from_m - piece.from_m : slot.vent_to_m - piece.to_m;
      const double own_m = is_left ? slot.start_m - slot.vent_from_m : slot.vent_to_m - slot.end_m;
      if (std::abs(off_m) < flush_m) {
        past = std::max(past.value_or(0.0), own_m);
      }
    }
  }
  return past;
}

void RunSteps::free_ends() {
  const std::optional<double> left = free_end_past_m(true);
  const std::optional<double> right = free_end_past_m(false);
  if (!left && !right) {
    return;
  }
  const auto words_of = [&](double past_m) {
    return past_m < flush_m ? std::string("flush with the slot")
                            : length(past_m) + " past the end of the slot";
  };
  const std::string first = words_of(left ? *left : *right);
  const std::string second = left && right ? words_of(*right) : first;
  const bool is_flush = std::max(left.value_or(0.0), right.value_or(0.0)) < flush_m;
  say(fmt::format(
      "At the {} the vent ends on the open deck, {}{}: cut no further than {}, close its end as "
      "its own instructions say, and let the covering over the vent run on {} past the end onto "
      "the deck, so that no water reaches the cut from the side.",
      left && right ? (first == second ? "left and the right end" : "left end")
      : left        ? "left end"
                    : "right end",
      first, first == second ? "" : ", at the right end " + second,
      is_flush ? "the vent covers" : "the marks of the slot", length(practice::cover_past_end_m)));
}

std::string RunSteps::covering() const {
  std::string words;
  for (const takeoff::SectionRun& strip : a_.takeoff.sections) {
    if (strip.run != run_.id || strip.plane != run_.plane || strip.cover_length_m <= 0.0) {
      continue;
    }
    words += fmt::format("{}{} wide, {} long", words.empty() ? "" : " and ",
                         length(strip.cover_width_m), length(strip.cover_length_m));
    if (strip.cover_width_m < strip.cover_strip_m) {
      words += fmt::format(" (cut from a strip of {})", length(strip.cover_strip_m));
    }
  }
  return words;
}

void RunSteps::cover() {
  phase_ = Phase::cover;
  free_ends();
  const double nails = ordered(a_, "nails", slot_.run);
  if (is_upslope()) {
    say(fmt::format(
        "Underlayment over the vent, {}; then starter and one course, nailed by hand with "
        "nails of {} through the vent into the deck. Air enters at the vent's upper "
        "edge: leave that open.",
        covering(), length(nail_m())));
  } else {
    const std::string over =
        slot_.ice_barrier_m > 0.0
            ? fmt::format("The ice barrier of the eave goes over the vent, up to {} up the slope",
                          length(slot_.ice_barrier_m))
            : "Underlayment over the vent, " + covering();
    say(over + ", flush with its lower lip. The vent's upper openings are covered.");
    if (ends_at_rake()) {
      say(fmt::format("Rake metal over the ends of the vent, its leg at least {}.",
                      length(practice::rake_metal_leg_m)));
    }
    say(fmt::format(
        "Starter and first course over the vent, nailed by hand with nails of {} through "
        "the vent into the deck.",
        length(nail_m())));
  }
  say(fmt::format(
      "No nail between {} and {} up the slope: that is the slot. Above {} nail as "
      "usual.",
      length(slot_.lower_line_m), length(slot_.upper_line_m()), length(marks_.vent_high_m)));
  if (nails > 0.0) {
    say(fmt::format(
        "Nails for the vent: {:.0f} ({} a whole section, cut pieces by their length), {}.", nails,
        product_ != nullptr ? product_->nails_each : 0, into_deck_words(marks_.deck_m, style_)));
  }
  double by_hand = 0.0;
  for (const takeoff::OrderLine& line : a_.takeoff.order) {
    const bool is_own = line.for_what == slot_.run && line.item.rfind("hand nails ", 0) == 0;
    by_hand += is_own ? line.quantity : 0.0;
  }
  if (by_hand > 0.0) {
    say(fmt::format("Nails for starter and first course over it: {:.0f}.", by_hand));
  }
}

std::vector<WorkStep> RunSteps::over_deck() {
  before_the_slot();
  if (slot_.courses) {
    courses(*slot_.courses);
  } else {
    say(
        fmt::format("Underlayment along the eave under the vent, at least {} wide, as long as the "
                    "vent ({}); the slot is cut through it.",
                    length(practice::underlayment_strip_m), vent_lengths_words(a_, run_, style_)));
  }
  chalk();
  cut();
  look_inside();
  sections();
  cover();
  return std::move(steps_);
}

std::vector<WorkStep> RunSteps::at_drip_edge() {
  chalk();
  cut();
  look_inside();
  phase_ = Phase::sections;
  say(fmt::format("Fix the {} pieces from left to right, butted, over the opening.",
                  laid(a_, slot_.run)));
  phase_ = Phase::cover;
  say("Underlayment over the upper leg, " + covering() +
      ", and starter; the openings behind the fascia stay free.");
  return std::move(steps_);
}

std::vector<WorkStep> RunSteps::in_soffit() {
  say("Stand on a scaffold or a ladder that is tied: this is done from below.");
  phase_ = Phase::lines;
  const SoffitMarks across = marks_.soffit.value_or(SoffitMarks{});
  say(fmt::format(
      "Snap two lines on the soffit, measured level from the outer edge of the eave (the face of "
      "the fascia): {} and {}. Between the inner one and the wall {} are left; where the roof "
      "differs, keep to the middle of the soffit.",
      length(across.from_edge_m), length(across.to_edge_m), length(across.from_wall_m)));
  for (const SlotId id : run_.slots) {
    const vents::Slot& slot = a_.vents.slots[id];
    const SlotMarks marks = marks_of(a_, slot);
    say(fmt::format("{}: along the eave from {} to {} from the {}, {} wide.{}", slot.id,
                    length(marks.start_from_left_m), length(marks.end_from_left_m),
                    marks.left_words(), length(across.wide_m), beneath_words(marks, true, true)));
  }
  phase_ = Phase::cut;
  say("Look for wiring over the soffit, cut the openings, clear what lies behind them.");
  look_inside();
  phase_ = Phase::sections;
  say(fmt::format("Fix the {:.0f} pieces over the openings, screened against insects.",
                  ordered(a_, slot_.product, slot_.run)));
  return std::move(steps_);
}

}  // namespace

std::string vent_lengths_words(const Assessment& a, const Run& run, units::Style style) {
  std::string words;
  for (const SlotId id : run.slots) {
    words += (words.empty() ? "" : " and ") + units::show(a.vents.slots[id].vent_length_m, style);
  }
  return words;
}

std::string into_deck_words(double deck_m, units::Style style) {
  return deck_m < practice::nail_into_deck_m
             ? fmt::format("long enough to go through the deck of {}", units::show(deck_m, style))
             : fmt::format("long enough to go {} into the deck",
                           units::show(practice::nail_into_deck_m, style));
}

std::vector<WorkStep> work_steps_of(const Assessment& assessment, const Run& run,
                                    units::Style style) {
  RunSteps steps(assessment, run, style);
  const model::VentKind kind = assessment.vents.slots[run.slots.front()].kind;
  if (model::is_in_soffit(kind)) {
    return steps.in_soffit();
  }
  return kind == model::VentKind::drip_edge_intake ? steps.at_drip_edge() : steps.over_deck();
}

std::vector<std::string> steps_of(const Assessment& assessment, const Run& run,
                                  units::Style style) {
  std::vector<std::string> texts;
  for (WorkStep& step : work_steps_of(assessment, run, style)) {
    texts.push_back(std::move(step.text));
  }
  return texts;
}

}  // namespace ridgeward::papers
