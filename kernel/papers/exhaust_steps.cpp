// The work at exhaust vents, and what is told about a page's slots and vents.
#include "papers/crew_steps.hpp"
#include "papers/marks.hpp"
#include "units/length.hpp"
#include "vents/practice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <set>

namespace ridgeward::papers {

namespace {

/// Above, they are counted.
constexpr std::size_t most_named = 3;

bool has(const std::vector<ExhaustId>& all, ExhaustId id) {
  return std::find(all.begin(), all.end(), id) != all.end();
}

/// Whether a text holds an id as a word of its own.
bool names(const std::string& text, const std::string& id) {
  const auto is_part = [&](std::size_t at) {
    return at < text.size() && (std::isalnum(static_cast<unsigned char>(text[at])) != 0 ||
                                text[at] == '-' || text[at] == '/' || text[at] == '_');
  };
  for (std::size_t at = text.find(id); !id.empty() && at != std::string::npos;
       at = text.find(id, at + 1)) {
    if ((at == 0 || !is_part(at - 1)) && !is_part(at + id.size())) {
      return true;
    }
  }
  return false;
}

/// Compartments that a page is about: those that its openings serve, and rafter spaces in the bays
/// under them.
class Reach {
 public:
  explicit Reach(const Assessment& a) : a_(a) {}

  void add(const vents::Slot& slot) {
    add(slot.compartment);
    for (const vents::SlotBay& bay : slot.bays) {
      add(a_.attic.bays[bay.bay].compartment);
      for (const attic::Stretch& stretch : a_.attic.bays[bay.bay].stretches) {
        const attic::Space& space = a_.attic.spaces[stretch.space];
        add(space.kind == attic::SpaceKind::rafter_space ? space.compartment : CompartmentId());
      }
    }
  }
  void add(const vents::Exhaust& vent) {
    add(vent.compartment);
    for (const vents::ExhaustShare& share : vent.shares) {
      add(share.compartment);
    }
  }
  bool holds(const conflicts::Finding& finding) const {
    return std::any_of(compartments_.begin(), compartments_.end(),
                       [&](CompartmentId id) { return conflicts::is_about(finding, id); });
  }

 private:
  void add(CompartmentId id) {
    if (!id.is_none()) {
      compartments_.insert(id);
    }
  }

  const Assessment& a_;
  std::set<CompartmentId> compartments_;
};

/// How long the strips of a vent are: "21' 0\"", "9' 0\" and 12' 0\"".
std::string strips_words(const Assessment& a, const std::string& run, units::Style style) {
  std::string words;
  for (const takeoff::SectionRun& strip : a.takeoff.sections) {
    if (strip.run == run) {
      words += (words.empty() ? "" : " and ") + units::show(strip.length_m, style);
    }
  }
  return words;
}

std::string spaced(std::string words) {
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

/// Holes and flanges, product by product.
class SingleSteps {
 public:
  SingleSteps(const Assessment& a, const std::vector<ExhaustId>& vents, units::Style style)
      : a_(a), vents_(vents), style_(style) {
    for (const ExhaustId id : vents) {
      const vents::Exhaust& vent = a.vents.exhausts[id];
      if (std::find(products_.begin(), products_.end(), vent.product) == products_.end()) {
        products_.push_back(vent.product);
        holes_m_.push_back(vent.hole_m);
      }
      is_powered_ = is_powered_ || vent.kind == model::VentKind::powered;
      is_turbine_ = is_turbine_ || vent.kind == model::VentKind::turbine;
    }
  }

  std::vector<std::string> run();

 private:
  std::string length(double m) const { return units::show(m, style_); }
  double deck_m() const {
    const PlaneId plane = a_.vents.exhausts[vents_.front()].plane;
    return a_.model.parts[a_.surface.planes[plane].part].deck_m;
  }
  void cut();
  void lay();
  void wire();

  const Assessment& a_;
  const std::vector<ExhaustId>& vents_;
  units::Style style_;
  std::vector<std::string> products_;
  std::vector<double> holes_m_;
  bool is_powered_ = false;
  bool is_turbine_ = false;
  std::vector<std::string> steps_;
};

void SingleSteps::cut() {
  std::string holes;
  for (std::size_t i = 0; i < products_.size(); ++i) {
    holes +=
        fmt::format("{}{} for {}", holes.empty() ? "" : ", ", length(holes_m_[i]), products_[i]);
  }
  steps_.emplace_back(
      "Mark each middle from the table: tape hooked at the letter, along, then square to it along "
      "the slope. From below, see that wiring and pipes are clear of it.");
  steps_.emplace_back(
      "The hole lies between two rafters: move it sideways rather than cut one. Keep the vents of "
      "a "
      "row at one height.");
  steps_.push_back(fmt::format(
      "Set the saw to {}, the thickness of the deck. Cut the hole: {} from side to side, round or "
      "square as the vent's own instructions say.",
      length(deck_m()), holes));
}

void SingleSteps::lay() {
  for (const std::string& name : products_) {
    const model::Product* product = a_.product(name);
    if (product != nullptr && product->length_m > 0.0) {
      steps_.push_back(
          fmt::format("{}: {} wide, {} up the slope. Its flange goes under the shingles above and "
                      "beside it and over those below, bedded in sealant, so that water runs over "
                      "each lap. A bead all round takes {}.",
                      name, length(product->length_m), length(product->depth_m),
                      length(2 * (product->length_m + product->depth_m))));
    }
  }
  double nails = 0.0;
  for (const ExhaustId id : vents_) {
    const model::Product* product = a_.product(a_.vents.exhausts[id].product);
    nails += product != nullptr ? product->nails_each : 0;
  }
  if (nails > 0.0) {
    steps_.push_back(
        fmt::format("Nail the flanges: {:.0f} nails in all, {}. The shingles cover the heads; seal "
                    "those at the lower edge.",
                    nails, into_deck_words(deck_m(), style_)));
  }
}

void SingleSteps::wire() {
  if (is_turbine_) {
    steps_.emplace_back("Set the turbine's axle plumb and see that it turns freely.");
  }
  if (is_powered_) {
    steps_.emplace_back(
        "Wiring by a licensed electrician: circuit, switch within sight of the fan, thermostat as "
        "its instructions say. Nobody works on the fan until it is off and locked.");
    steps_.emplace_back(
        "Do not run the fan before a qualified person has tested every appliance with a flue in "
        "the house with it at full speed: it can draw flue gas into the rooms, and carbon monoxide "
        "kills.");
  }
}

std::vector<std::string> SingleSteps::run() {
  cut();
  lay();
  wire();
  return std::move(steps_);
}

}  // namespace

namespace {

/// What a cut along a line must leave whole.
std::string whole_timber(const Assessment& a, const vents::Exhaust& vent, bool has_board) {
  const surface::Line& line = a.surface.lines[vent.line];
  const PlaneId plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
  const bool is_truss =
      a.model.parts[a.surface.planes[plane].part].framing.kind == model::FramingKind::truss;
  const char* timber = is_truss ? "top chords of the trusses" : "rafters";
  return std::string(has_board ? "Board and " : "The ") + timber;
}

}  // namespace

std::vector<std::string> steps_of(const Assessment& assessment, const RidgeRun& run,
                                  units::Style style) {
  const auto length = [&](double m) { return units::show(m, style); };
  const vents::Exhaust& first = assessment.vents.exhausts[run.vents.front()];
  const bool is_hip = assessment.surface.lines[first.line].kind == surface::LineKind::hip;
  const model::Product* product = assessment.product(first.product);
  std::vector<std::string> steps;
  for (const ExhaustId id : run.vents) {
    const vents::Exhaust& vent = assessment.vents.exhausts[id];
    const RidgeMarks marks = marks_of(assessment, vent);
    steps.push_back(fmt::format(
        "Ends of slot {}: {} and {} along the {} from its {}; check {} to its {}.", vent.id,
        length(marks.start_from_first_m), length(marks.end_from_first_m), is_hip ? "hip" : "ridge",
        marks.first_words(), length(marks.end_from_last_m), marks.last_words()));
    if (marks.first_over && &vent == &first) {
      steps.back() += " " + over_words("At the " + marks.first_end, *marks.first_over, style);
    }
    if (marks.last_over && &vent == &first) {
      steps.back() += " " + over_words("At the " + marks.last_end, *marks.last_over, style);
    }
  }
  bool has_board = false;
  for (const ChalkedSide& side : marks_of(assessment, first).sides) {
    const surface::Plane& plane = assessment.surface.planes[side.plane];
    has_board = has_board || side.near_m > 0.0;
    const std::string clear =
        side.near_m > 0.0
            ? fmt::format("the opening is clear from {} (the face of the board beneath).",
                          length(side.near_m))
            : std::string("the opening is clear from the line itself, for no board lies beneath.");
    steps.push_back(
        fmt::format("On {}: chalk {} down from the line; {}", plane.id, length(side.far_m), clear));
  }
  steps.push_back(fmt::format(
      "Set the saw to {}, the thickness of the deck. Cut along the chalk "
      "lines, never past the ends, and lift out the strips on both sides. "
      "{} stay whole.",
      length(marks_of(assessment, first).deck_m), whole_timber(assessment, first, has_board)));
  steps.emplace_back("Shingles up to the edge of the slot on both sides, none over it.");
  const double nails = ordered(assessment, "nails", run.id);
  steps.push_back(fmt::format(
      "Lay the {} pieces butted along the line{}, from one end of the slot to the other: "
      "{} together, as ordered. Close both ends of the vent as its own instructions say. "
      "To run it on for the eye order more; no slot is cut there.",
      laid(assessment, run.id), is_hip ? ", from the foot up" : "",
      strips_words(assessment, run.id, style)));
  if (product != nullptr && nails > 0.0) {
    steps.push_back(fmt::format(
        "Nails for the vent: {:.0f} ({} a whole piece, cut ones by their length), {}.", nails,
        product->nails_each, into_deck_words(marks_of(assessment, first).deck_m, style)));
  }
  steps.emplace_back(is_hip
                         ? "Caps over the vent from the foot of the hip up, each lapping over the "
                           "one below it, and on to both ends of the hip."
                         : "Caps over the vent, lapped away from the wind, and on to both ends of "
                           "the ridge.");
  return steps;
}

std::vector<std::string> steps_of_singles(const Assessment& assessment,
                                          const std::vector<ExhaustId>& vents, units::Style style) {
  return SingleSteps(assessment, vents, style).run();
}

std::vector<std::size_t> findings_about(const Assessment& assessment,
                                        const std::vector<SlotId>& slots,
                                        const std::vector<ExhaustId>& vents) {
  Reach reach(assessment);
  for (const SlotId id : slots) {
    reach.add(assessment.vents.slots[id]);
  }
  for (const ExhaustId id : vents) {
    reach.add(assessment.vents.exhausts[id]);
  }
  std::vector<std::size_t> own;
  for (std::size_t i = 0; i < assessment.findings.size(); ++i) {
    const conflicts::Finding& finding = assessment.findings[i];
    const bool is_named = std::find(slots.begin(), slots.end(), finding.slot) != slots.end() ||
                          has(vents, finding.exhaust) ||
                          std::any_of(vents.begin(), vents.end(), [&](ExhaustId id) {
                            return names(finding.measured, assessment.vents.exhausts[id].id);
                          });
    const bool is_of_space =
        finding.slot.is_none() && finding.exhaust.is_none() && reach.holds(finding);
    if (is_named || is_of_space) {
      own.push_back(i);
    }
  }
  return own;
}

std::string way_words(const Assessment& assessment, const vents::SlotBay& under) {
  const BayId bay = under.bay;
  switch (under.block) {
    case vents::Block::blocking:
      return "nothing: solid blocking stands on the plate";
    case vents::Block::insulation:
      return "nothing: insulation fills the way over the plate";
    case vents::Block::plate:
      return "nothing: the deck meets the plate";
    case vents::Block::closed_soffit:
      return "nothing: the soffit here is closed, or there is none";
    case vents::Block::none:
      break;
  }
  const vents::BayState& state = assessment.vents.bays[bay];
  const CompartmentId space = assessment.attic.bays[bay].compartment;
  std::vector<std::string> out;
  for (const vents::Exhaust& vent : assessment.vents.exhausts) {
    if (!space.is_none() && vents::serves(vent, space)) {
      out.push_back(spaced(model::word(vent.kind)) + " " + vent.id);
    }
  }
  // A rafter space leads to the exhaust at its head; an attic to all that it has.
  if (!state.live || out.size() < 2 || assessment.attic.compartments[space].is_rafter_space) {
    return state.why;
  }
  // "into attic, out at box vent box-1; ends at the header below sky": all of them for the one.
  const std::size_t exit = state.why.rfind(", out at ");
  const std::size_t cut = state.why.find("; ", exit);
  if (exit == std::string::npos) {
    return state.why;
  }
  std::string words = state.why.substr(0, exit) + ", out at ";
  if (out.size() > most_named) {
    words +=
        fmt::format("the {} exhausts of {}", out.size(), assessment.attic.compartments[space].id);
  } else {
    for (std::size_t i = 0; i < out.size(); ++i) {
      words += (i == 0 ? "" : i + 1 == out.size() ? " and " : ", ") + out[i];
    }
  }
  return cut == std::string::npos ? words : words + state.why.substr(cut);
}

bool is_shown(const vents::SlotBay& under) {
  constexpr double shown_m = units::inch_m / 16.0;
  return under.open_length_m >= shown_m;
}

bool is_mere_gap(const framing::Bay& bay) {
  return bay.clear_width_m < vents::practice::over_insulation_m;
}

std::vector<Run> runs_of(const Assessment& assessment) {
  std::vector<Run> runs;
  for (const SlotId id : assessment.vents.slots.ids()) {
    const vents::Slot& slot = assessment.vents.slots[id];
    const auto same = std::find_if(runs.begin(), runs.end(), [&](const Run& run) {
      return run.id == slot.run && run.plane == slot.plane;
    });
    if (same == runs.end()) {
      runs.push_back({slot.run, slot.plane, {id}});
    } else {
      same->slots.push_back(id);
    }
  }
  return runs;
}

std::vector<RidgeRun> ridge_runs_of(const Assessment& assessment) {
  std::vector<RidgeRun> runs;
  for (const ExhaustId id : assessment.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = assessment.vents.exhausts[id];
    if (exhaust.line.is_none()) {
      continue;
    }
    const auto same = std::find_if(runs.begin(), runs.end(),
                                   [&](const RidgeRun& run) { return run.id == exhaust.vent; });
    if (same == runs.end()) {
      runs.push_back({exhaust.vent, {id}});
    } else {
      same->vents.push_back(id);
    }
  }
  return runs;
}

double ordered(const Assessment& assessment, const std::string& product, const std::string& run) {
  double quantity = 0.0;
  for (const takeoff::OrderLine& line : assessment.takeoff.order) {
    quantity += line.item == product && line.for_what == run ? line.quantity : 0.0;
  }
  return quantity;
}

std::size_t laid(const Assessment& assessment, const std::string& run) {
  std::size_t count = 0;
  for (const takeoff::SectionRun& strip : assessment.takeoff.sections) {
    count += strip.run == run ? strip.pieces.size() : 0;
  }
  return count;
}

}  // namespace ridgeward::papers
