#include "framing/rafter_centres.hpp"
#include "placement/borders.hpp"
#include "placement/candidates.hpp"
#include "placement/cost.hpp"
#include "placement/lengths.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ridgeward::placement {

namespace {

constexpr double near_m = 1e-6;

/// One exhaust for each compartment that can have one, so that its bays are live.
std::vector<model::ExhaustVent> an_exhaust_each(const Candidates& all) {
  std::vector<model::ExhaustVent> vents;
  std::set<std::uint32_t> done;
  for (const Candidate& candidate : all.all) {
    bool is_new = false;
    for (const Share& share : candidate.shares) {
      is_new = (!candidate.is_intake() && done.insert(share.compartment.value).second) || is_new;
    }
    if (is_new) {
      vents.push_back(candidate.vents.front());
      vents.back().id = "e" + std::to_string(vents.size());
    }
  }
  return vents;
}

bool has_eave(const surface::Surface& surface, const surface::Plane& plane) {
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      if (surface.lines[step.line].kind == surface::LineKind::eave) {
        return true;
      }
    }
  }
  return false;
}

/// Every product in every position along every eave, whole.
std::vector<model::IntakeRun> whole_eaves(const Ground& ground) {
  std::vector<model::IntakeRun> runs;
  for (const auto& [id, product] : ground.catalogue.products) {
    if (!model::is_intake(product.kind) || !may_use(ground.model, ground.catalogue, product)) {
      continue;
    }
    for (const surface::Plane& plane : ground.surface.planes) {
      if (!has_eave(ground.surface, plane)) {
        continue;
      }
      for (const model::Position position : product.positions) {
        model::IntakeRun run;
        run.id = "w" + std::to_string(runs.size());
        run.product = id;
        run.plane = plane.id;
        run.position = position;
        run.whole = true;
        runs.push_back(std::move(run));
      }
    }
  }
  return runs;
}

/// Why nothing of a slot counts: what lies under its bays, else what shuts its way in.
std::string why_dead(const vents::Vents& vents, const vents::Slot& slot) {
  for (const vents::SlotBay& part : slot.bays) {
    if (!vents.bays[part.bay].live) {
      return vents.bays[part.bay].why;
    }
  }
  switch (slot.block) {
    case vents::Block::blocking:
      return "solid blocking shuts the way in over the plate";
    case vents::Block::insulation:
      return "insulation shuts the way in over the plate";
    case vents::Block::plate:
      return "its heel leaves no way in over the plate";
    case vents::Block::closed_soffit:
      return "its soffit is closed";
    case vents::Block::none:
      break;
  }
  return slot.bays.empty() ? "no bay lies beneath" : "no free area is left";
}

/// A stretch of a slot over live bays of one compartment, or over bays that are compartments each.
struct Live {
  Span span;
  CompartmentId compartment;
  bool is_bay_by_bay = false;
  std::vector<Piece> pieces;
};

/// Dead bays and borders of compartments part it at the middles of their rafters.
std::vector<Live> live_stretches(const Ground& ground, const vents::Slot& slot) {
  std::vector<vents::SlotBay> bays = slot.bays;
  std::sort(bays.begin(), bays.end(), [&](const vents::SlotBay& l, const vents::SlotBay& r) {
    return ground.framing.bays[l.bay].from_u_m < ground.framing.bays[r.bay].from_u_m;
  });
  std::vector<Live> all;
  double end_m = -HUGE_VAL;
  for (const vents::SlotBay& part : bays) {
    const framing::Bay& bay = ground.framing.bays[part.bay];
    const framing::Centres rafters = framing::centres_beside(ground.framing, bay);
    const Span span{std::max(rafters.left_m, slot.start_m), std::min(rafters.right_m, slot.end_m)};
    if (!part.live || span.length_m() <= near_m) {
      continue;
    }
    const CompartmentId space = ground.attic.bays[part.bay].compartment;
    const bool is_bay_by_bay = ground.attic.compartments[space].is_rafter_space;
    const bool goes_on =
        !all.empty() && span.from_m <= end_m + near_m &&
        (all.back().compartment == space || (is_bay_by_bay && all.back().is_bay_by_bay));
    if (goes_on) {
      all.back().span.to_m = std::max(all.back().span.to_m, span.to_m);
    } else {
      // A bay beneath the one before (its rafter ends higher up) starts where that one ends.
      all.push_back({{std::max(span.from_m, end_m), span.to_m}, space, is_bay_by_bay, {}});
    }
    if (span.to_m - end_m > near_m) {
      all.back().pieces.push_back({{std::max(span.from_m, end_m), span.to_m}, space, space});
    }
    end_m = std::max(end_m, span.to_m);
  }
  std::erase_if(all, [](const Live& one) { return one.span.length_m() <= near_m; });
  return all;
}

class IntakeFinder {
 public:
  IntakeFinder(const Ground& ground, Candidates& all) : ground_(ground), all_(all) {}
  void find();

 private:
  void survey();
  void add_runs(const vents::Slot& slot, const Range& range, const model::IntakeRun& whole);
  void judge();
  void add(const Trial& trial, SlotId id, std::size_t number);
  void join_eaves();
  void prefer_eaves();
  void tell_left_out();

  const Ground& ground_;
  Candidates& all_;
  std::vector<model::IntakeRun> runs_;
  std::vector<std::size_t> stretch_of_;  ///< by run
  std::vector<std::string> why_;         ///< by stretch: why nothing of it can be used
  struct Dead {
    PlaneId plane;
    bool is_in_soffit = false;
    std::string why;
  };
  std::vector<Dead> dead_;  ///< whole slots without a live bay
};

/// What is left of every eave for every product.
void IntakeFinder::survey() {
  const std::vector<model::IntakeRun> whole = whole_eaves(ground_);
  const Trial trial = tried(ground_, whole, an_exhaust_each(all_));
  const Borders borders(ground_);
  for (const vents::Slot& slot : trial.vents.slots) {
    const std::vector<Live> live = live_stretches(ground_, slot);
    if (live.empty()) {
      dead_.push_back({slot.plane, model::is_in_soffit(slot.kind), why_dead(trial.vents, slot)});
    }
    for (const Live& one : live) {
      std::vector<Range> ranges = borders.ranges(one.pieces);
      if (!one.is_bay_by_bay) {
        ranges = {{one.span, {}, true, {}, {}}};
      }
      for (const Range& range : ranges) {
        add_runs(slot, range, whole[std::stoul(slot.run.substr(1))]);
      }
    }
  }
}

void IntakeFinder::add_runs(const vents::Slot& slot, const Range& range,
                            const model::IntakeRun& whole) {
  const model::Product& product = ground_.catalogue.products.at(slot.product);
  all_.stretches.push_back({true, slot.plane, {}, range.span.from_m, range.span.to_m, 0});
  why_.emplace_back();
  for (const Span& span : runs_in(range, product, Rest::in_middle, ground_.model.unit)) {
    model::IntakeRun run = whole;
    run.id = "r" + std::to_string(runs_.size());
    run.whole = false;
    run.from_m = span.from_m;
    run.to_m = span.to_m;
    runs_.push_back(std::move(run));
    stretch_of_.push_back(all_.stretches.size() - 1);
  }
}

void IntakeFinder::add(const Trial& trial, SlotId id, std::size_t number) {
  const vents::Slot& slot = trial.vents.slots[id];
  const model::Product& product = ground_.catalogue.products.at(slot.product);
  Candidate candidate;
  candidate.product = slot.product;
  candidate.kind = slot.kind;
  candidate.run = runs_[number];
  for (const vents::SlotBay& part : slot.bays) {
    const CompartmentId space = ground_.attic.bays[part.bay].compartment;
    if (candidate.shares.empty() || candidate.shares.back().compartment != space) {
      candidate.shares.push_back({space});
    }
    Share& share = candidate.shares.back();
    share.area_m2 += part.free_area_m2;
    if (const std::optional<double> open_m = part.least_open_m()) {
      share.over_insulation_m = std::min(share.over_insulation_m.value_or(*open_m), *open_m);
    }
  }
  candidate.plane = slot.plane;
  candidate.length_m = slot.vent_length_m;
  const int cuts = (is_whole(slot.vent_length_m, product.length_m) ? 0 : 1) +
                   (slot.left_mitre ? 1 : 0) + (slot.right_mitre ? 1 : 0);
  candidate.cost = cost_of(ground_.model, product, slot.vent_length_m, cuts);
  candidate.stretch = stretch_of_[number];
  candidate.high_m = codes::top_of(ground_.surface, slot);
  all_.all.push_back(std::move(candidate));
}

/// Runs as they would be placed, without those that draw an error or open onto a dead bay.
void IntakeFinder::judge() {
  const Trial trial = tried(ground_, runs_, an_exhaust_each(all_));
  std::vector<int> slots(runs_.size(), 0);
  for (const vents::Slot& slot : trial.vents.slots) {
    ++slots[std::stoul(slot.run.substr(1))];
  }
  std::vector<bool> is_bad(trial.vents.slots.size(), false);
  std::vector<int> warnings(trial.vents.slots.size(), 0);
  std::vector<std::string> first(trial.vents.slots.size());
  for (const conflicts::Finding& finding : trial.findings) {
    if (finding.slot.is_none() || finding.severity == conflicts::Severity::note) {
      continue;
    }
    const std::size_t at = finding.slot.value;
    const vents::Slot& slot = trial.vents.slots[finding.slot];
    is_bad[at] = is_bad[at] || finding.severity == conflicts::Severity::error;
    warnings[at] += 1;
    first[at] = first[at].empty()
                    ? by_product(finding.message + " " + finding.remedy, slot.id, slot.product)
                    : first[at];
  }
  for (const SlotId id : trial.vents.slots.ids()) {
    const vents::Slot& slot = trial.vents.slots[id];
    const std::size_t number = std::stoul(slot.run.substr(1));
    const bool is_live =
        !slot.bays.empty() && std::all_of(slot.bays.begin(), slot.bays.end(),
                                          [](const vents::SlotBay& part) { return part.live; });
    if (is_bad[id.value] || !is_live || slots[number] != 1 || slot.free_area_m2 <= 0.0) {
      std::string& why = why_[stretch_of_[number] - (all_.stretches.size() - why_.size())];
      why = why.empty() ? first[id.value] : why;
      continue;
    }
    add(trial, id, number);
    all_.all.back().warnings = warnings[id.value];
    all_.all.back().warning = first[id.value];
  }
}

/// Stretches of one plane that overlap lie over one piece of eave.
void IntakeFinder::join_eaves() {
  std::set<std::size_t> used;
  for (const Candidate& candidate : all_.all) {
    if (candidate.is_intake()) {
      used.insert(candidate.stretch);
    }
  }
  std::vector<std::size_t> order(used.begin(), used.end());
  std::sort(order.begin(), order.end(), [&](std::size_t l, std::size_t r) {
    const Stretch& a = all_.stretches[l];
    const Stretch& b = all_.stretches[r];
    return a.plane != b.plane ? a.plane < b.plane : a.from_m < b.from_m;
  });
  for (const std::size_t index : order) {
    Stretch& stretch = all_.stretches[index];
    if (all_.eaves.empty() || all_.eaves.back().plane != stretch.plane ||
        stretch.from_m >= all_.eaves.back().to_m - near_m) {
      all_.eaves.push_back({stretch.plane, stretch.from_m, stretch.to_m});
    }
    all_.eaves.back().to_m = std::max(all_.eaves.back().to_m, stretch.to_m);
    stretch.eave = all_.eaves.size() - 1;
  }
}

/// The upslope position is for eaves where the eave position can't be had.
void IntakeFinder::prefer_eaves() {
  std::vector<bool> has_eave_run(all_.eaves.size(), false);
  for (const Candidate& candidate : all_.all) {
    if (candidate.run.has_value() && candidate.warnings == 0 &&
        candidate.run->position == model::Position::eave) {
      has_eave_run[all_.stretches[candidate.stretch].eave] = true;
    }
  }
  std::erase_if(all_.all, [&](const Candidate& candidate) {
    return candidate.run.has_value() && candidate.run->position == model::Position::upslope &&
           has_eave_run[all_.stretches[candidate.stretch].eave];
  });
}

void IntakeFinder::tell_left_out() {
  std::set<std::uint32_t> used;
  for (const Eave& eave : all_.eaves) {
    used.insert(eave.plane.value);
  }
  for (const PlaneId plane : ground_.surface.planes.ids()) {
    if (used.count(plane.value) > 0 || !has_eave(ground_.surface, ground_.surface.planes[plane])) {
      continue;
    }
    std::string why = "no room between the hold-backs";
    // What keeps a slot in the deck from counting says more than that a soffit is closed.
    for (const bool is_in_soffit : {true, false}) {
      for (const Dead& dead : dead_) {
        why = dead.plane == plane && dead.is_in_soffit == is_in_soffit ? dead.why : why;
      }
    }
    const std::size_t first = all_.stretches.size() - why_.size();
    for (std::size_t i = 0; i < why_.size(); ++i) {
      why = all_.stretches[first + i].plane == plane && !why_[i].empty() ? why_[i] : why;
    }
    why.erase(why.find_last_not_of('.') + 1);
    all_.left_out.push_back(ground_.surface.planes[plane].id + ": " + why);
  }
}

void IntakeFinder::find() {
  survey();
  judge();
  join_eaves();
  prefer_eaves();
  tell_left_out();
}

}  // namespace

void add_intakes(const Ground& ground, Candidates& all) { IntakeFinder(ground, all).find(); }

}  // namespace ridgeward::placement
