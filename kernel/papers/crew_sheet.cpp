#include "papers/crew_sheet.hpp"

#include "papers/crew_writer.hpp"
#include "papers/inspector_sheet.hpp"
#include "papers/plan_drawing.hpp"
#include "papers/plane_drawing.hpp"
#include "papers/ridge_drawing.hpp"
#include "papers/summary.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::papers {

namespace {

constexpr double detail_height_mm = 62.0;
constexpr double mitre_height_mm = 52.0;
constexpr double head_mm = 15.0;          // of a run's page: what is written over the drawing
constexpr double least_filled_mm = 75.0;  // of a run's last page

}  // namespace

CrewSheet::CrewSheet(const Assessment& a, units::Style style, Paper paper)
    : a_(a),
      style_(style),
      runs_(runs_of(a)),
      ridges_(ridge_runs_of(a)),
      sheet_((a.model.name.empty() ? std::string("Unnamed roof") : a.model.name) + ": for the crew",
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
    all.push_back(
        fmt::format("{}. Single vents on plane {} ({})", all.size(), plane(id).id, vents.size()));
  }
  if (!louvres_.empty()) {
    all.push_back(fmt::format("{}. Louvres in gable walls ({})", all.size(), louvres_.size()));
  }
  all.emplace_back("What to take up");
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
  if (a_.is_at_fault()) {
    sheet_.item("!", "NOT READY TO CUT. " + verdict_words(a_) +
                         " See the warnings of the runs and the inspector's sheet.");
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
  std::size_t number = marks.size();
  for (const auto& [id, vents] : singles_) {
    const vents::Exhaust& vent = a_.vents.exhausts[vents[vents.size() / 2]];
    marks.push_back({vent.from, fmt::format("{}", ++number)});
  }
  ++number;
  for (const ExhaustId id : louvres_) {
    marks.push_back({a_.vents.exhausts[id].from, fmt::format("{}", number)});
  }
  const double key_top = sheet_.y_mm() + 4.0;
  const double key =
      draw_plan_key(a_, {sheet_.left_mm(), key_top}, sheet_.width_mm(), sheet_.page());
  sheet_.space(key + 4.0);
  const Frame frame{{sheet_.left_mm(), sheet_.y_mm()}, {sheet_.width_mm(), sheet_.room_mm()}};
  draw_numbered_plan(a_, scale_to_fit(a_, frame, style_), style_, marks, sheet_.page());
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
  constexpr std::size_t cells = 8;  // three pairs, a gap after each but the last
  std::vector<std::vector<std::string>> rows;
  std::vector<MemberId> done;  // pieces side by side may cross one rafter twice
  std::string hook;
  for (const SlotId id : run.slots) {
    const SlotMarks marks = marks_of(a_, a_.vents.slots[id]);
    hook = marks.left_words();
    for (const RafterMark& mark : marks.rafters) {
      if (std::find(done.begin(), done.end(), mark.member) != done.end()) {
        continue;
      }
      done.push_back(mark.member);
      if (rows.empty() || rows.back().size() == cells) {
        rows.emplace_back();
      } else {
        rows.back().emplace_back();
      }
      rows.back().push_back(short_name(a_.framing.members[mark.member].id));
      rows.back().push_back(mark_words(mark.from_left_m, style_));
    }
  }
  if (rows.empty()) {
    return;
  }
  rows.back().resize(cells);
  sheet_.heading("Rafter marks: centres from the " + hook);
  sheet_.table({{"rafter", 1.0},
                {"at", 1.0, true},
                {"", 0.6},
                {"rafter", 1.0},
                {"at", 1.0, true},
                {"", 0.6},
                {"rafter", 1.0},
                {"at", 1.0, true}},
               rows);
}

/// What the hatches of a run's drawing mean, where there are any.
std::string CrewSheet::hatches(const Run& run) const {
  const bool has_dead = std::any_of(run.slots.begin(), run.slots.end(), [&](SlotId id) {
    const auto& bays = a_.vents.slots[id].bays;
    return std::any_of(bays.begin(), bays.end(), [](const auto& bay) { return !bay.live; });
  });
  const bool has_deck = std::any_of(
      a_.surface.blind_decks.begin(), a_.surface.blind_decks.end(),
      [&](const auto& deck) { return deck.plane == run.plane && deck.cricket.empty(); });
  std::string words;
  if (has_dead) {
    words += " Upright hatch: dead bays, which lead to no exhaust.";
  }
  const auto& sheltered = a_.surface.sheltered_decks;
  if (has_deck || std::any_of(sheltered.begin(), sheltered.end(),
                              [&](const auto& deck) { return deck.plane == run.plane; })) {
    words += " Slanting hatch: deck beneath another roof.";
  }
  return words;
}

void CrewSheet::intake(const Run& run, double share) {
  const vents::Slot& first = a_.vents.slots[run.slots.front()];
  const bool is_soffit = model::is_in_soffit(first.kind);
  not_ready(run.slots, {});
  const SlotMarks marks = marks_of(a_, first);
  const glm::dvec2 room{sheet_.width_mm(), 0.62 * share * (sheet_.room_mm() - head_mm)};
  const std::string scale = whole_plane(a_, run.plane, {{}, room}, style_).words;
  const bool is_beyond = marks.start_from_left_m < 0.0 ||
                         std::any_of(marks.rafters.begin(), marks.rafters.end(),
                                     [](const RafterMark& mark) { return mark.from_left_m < 0.0; });
  sheet_.paragraph(sides_words(run.plane) + " The tape hooks at 0, on the " + marks.left_words() +
                   (is_beyond ? "; what lies beyond is measured from there the other way." : ".") +
                   hatches(run) +
                   (is_soffit ? " The opening is drawn on the roof, plumb over its place in the "
                                "soffit."
                              : "") +
                   " Scale " + scale + ".");
  const PlaneView view =
      whole_plane(a_, run.plane, {{sheet_.left_mm(), sheet_.y_mm()}, room}, style_);
  const bool has_marks = draw_run(a_, view, run.slots, style_, sheet_.page());
  sheet_.space(run_height_mm(view));
  if (!is_soffit) {
    std::vector<std::pair<SlotId, bool>> both;
    for (const SlotId id : run.slots) {
      both.emplace_back(id, true);
      both.emplace_back(id, false);
    }
    ends(both);
  }
  warnings(run.slots, {});
  sheet_.heading("Steps");
  numbered(steps_of(a_, run, style_));
  if (!has_marks) {
    rafter_table(run);
  }
  pieces(run.id, first.product);
  mitres(run);
  beneath(run);
}

/// Where no more than a few lines would be left for a page of their own, the drawing is made
/// smaller; where that does not help, it stays.
void CrewSheet::fitted(const std::function<void(double)>& body) {
  const Sheet::Place start = sheet_.place();
  for (const double share : {1.0, 0.85, 0.7}) {
    body(share);
    if (sheet_.page_number() == start.page || sheet_.filled_mm() > least_filled_mm) {
      return;
    }
    sheet_.back_to(start);
  }
  body(1.0);
}

Drawing CrewSheet::run() {
  cover();
  overview();
  for (const Run& one : runs_) {
    open_page();
    fitted([&](double share) { intake(one, share); });
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

Drawing crew_sheet(const Assessment& assessment, units::Style style, Paper paper) {
  return CrewSheet(assessment, style, paper).run();
}

}  // namespace ridgeward::papers
