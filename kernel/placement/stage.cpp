#include "placement/stage.hpp"

#include "attic/stage.hpp"
#include "framing/stage.hpp"
#include "placement/explain.hpp"
#include "placement/problem.hpp"
#include "surface/stage.hpp"
#include "takeoff/takeoff.hpp"
#include "vents/stage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace ridgeward::placement {

namespace {

/// Costs nearer to each other than this are one.
constexpr double near = 1e-9;

/// Products of exhaust that some candidate of the group has, in order of their ids.
std::vector<std::string> exhausts_of(const Candidates& all, const Group& group) {
  std::set<std::string> names;
  for (const std::size_t index : group.candidates) {
    if (!all.all[index].is_intake()) {
      names.insert(all.all[index].product);
    }
  }
  return {names.begin(), names.end()};
}

/// One group with all that it is chosen from.
struct Case {
  const Ground& ground;
  const Candidates& all;
  const Group& group;
  bool is_shared = false;  ///< money by length: see Way

  bool is_joined() const { return group.compartments.size() > 1; }
};

/// The ways in which one exhaust can meet the code. Of several compartments each chooses its own.
std::vector<Way> ways_of(const Case& what, const std::string& exhaust, bool has_advice) {
  const codes::CodeSet& code = what.ground.code;
  std::vector<Way> ways;
  if (code.reduced_ratio > 0.0 && !what.is_joined()) {
    const std::size_t count =
        code.reduced_needs_all ? 1 : std::max<std::size_t>(1, code.conditions.size());
    for (std::size_t i = 0; i < count; ++i) {
      ways.push_back({exhaust, true, i, has_advice, what.is_shared});
    }
  }
  ways.push_back({exhaust, false, 0, has_advice, what.is_shared});
  return ways;
}

/// The best of several ways, the first when they tie.
struct Best {
  Chosen chosen;
  bool is_any = false;
  bool is_proven = true;
  double at_least = HUGE_VAL;  ///< none of these ways weighs less
};

Best best_of(const Case& what, const std::vector<Way>& ways, Placed& placed) {
  Best best;
  for (const Way& way : ways) {
    Problem problem = problem_of(what.ground, what.all, what.group, way);
    if (!problem.impossible.empty()) {
      if (!way.is_reduced) {
        placed.in_the_way.push_back("The code asks: " + problem.impossible +
                                    " No placement of vents changes that.");
      }
      continue;
    }
    Solution solution =
        solved(what.all, problem, best.is_any ? best.chosen.solution.cost : HUGE_VAL);
    best.is_proven = best.is_proven && solution.outcome != Outcome::unknown &&
                     solution.outcome != Outcome::unproven;
    if (solution.outcome != Outcome::impossible) {
      best.at_least = std::min(best.at_least, solution.at_least);
    }
    if (!solution.values.empty()) {
      best.chosen = {way, std::move(problem), std::move(solution)};
      best.is_any = true;
    }
  }
  return best;
}

void note_alternative(const Best& best, const std::string& exhaust, Placed& placed) {
  std::erase_if(placed.alternatives,
                [&](const Alternative& other) { return other.exhaust == exhaust; });
  placed.alternatives.push_back(
      {exhaust, best.is_any, best.is_proven, best.is_any ? best.chosen.solution.cost : 0.0});
}

/// One product for all of a group: the best of those that can be had.
std::optional<Chosen> chosen_for_all(const Case& what, bool has_advice, Placed& placed) {
  std::optional<Chosen> chosen;
  double at_least = HUGE_VAL;
  for (const std::string& exhaust : exhausts_of(what.all, what.group)) {
    Best best = best_of(what, ways_of(what, exhaust, has_advice), placed);
    placed.is_proven = placed.is_proven && best.is_proven;
    at_least = std::min(at_least, best.at_least);
    note_alternative(best, exhaust, placed);
    if (best.is_any && (!chosen || best.chosen.solution.cost < chosen->solution.cost - near)) {
      chosen = std::move(best.chosen);
    }
  }
  placed.above = chosen ? std::max(0.0, chosen->solution.cost - at_least) : HUGE_VAL;
  return chosen;
}

/// Whether the exhaust chosen is of this product alone.
bool is_all_of(const Candidates& all, const Chosen& chosen, const std::string& exhaust) {
  for (std::size_t i = 0; i < chosen.problem.candidates.size(); ++i) {
    const Candidate& own = all.all[chosen.problem.candidates[i]];
    if (!own.is_intake() && chosen.solution.values[i] > 0.5 && own.product != exhaust) {
      return false;
    }
  }
  return true;
}

/// One product over each compartment: no placement with one for all of them is better.
std::optional<Chosen> chosen_each(const Case& what, bool has_advice, Placed& placed) {
  Best best = best_of(what, ways_of(what, "", has_advice), placed);
  placed.is_proven = placed.is_proven && best.is_proven;
  for (const std::string& exhaust : exhausts_of(what.all, what.group)) {
    if (best.is_any && is_all_of(what.all, best.chosen, exhaust)) {
      note_alternative(best, exhaust, placed);
      continue;
    }
    // Where nothing can be had with all of them, nothing can with one.
    const bool is_open = best.is_any || !best.is_proven;
    const Best other = is_open ? best_of(what, ways_of(what, exhaust, has_advice), placed) : Best{};
    note_alternative(other, exhaust, placed);
    if (other.is_any &&
        (!best.is_any || other.chosen.solution.cost < best.chosen.solution.cost - near)) {
      best.chosen = other.chosen;
      best.is_any = true;
    }
  }
  placed.above = best.is_any ? std::max(0.0, best.chosen.solution.cost - best.at_least) : HUGE_VAL;
  return best.is_any ? std::optional(std::move(best.chosen)) : std::nullopt;
}

/// Solves a group; with advice of the trade where that can be had.
std::optional<Chosen> chosen_for(const Case& what, Placed& placed) {
  for (const bool has_advice : {true, false}) {
    std::optional<Chosen> chosen = what.is_joined() ? chosen_each(what, has_advice, placed)
                                                    : chosen_for_all(what, has_advice, placed);
    if (chosen) {
      return chosen;
    }
  }
  return std::nullopt;
}

/// `count` of a row of places, spread over it.
std::vector<model::ExhaustVent> spread(const std::vector<model::ExhaustVent>& places, int count) {
  std::vector<model::ExhaustVent> chosen;
  chosen.reserve(static_cast<std::size_t>(count));
  const auto all = static_cast<double>(places.size());
  for (int i = 0; i < count; ++i) {
    chosen.push_back(places[static_cast<std::size_t>(std::floor((i + 0.5) * all / count))]);
  }
  return chosen;
}

void write_choice(const Candidates& all, const Chosen& chosen, Placed& placed,
                  model::RoofModel& model) {
  double weighed = chosen.solution.cost;
  std::set<std::string> exhausts;
  for (std::size_t i = 0; i < chosen.problem.candidates.size(); ++i) {
    const int count = static_cast<int>(std::lround(chosen.solution.values[i]));
    if (count < 1) {
      continue;
    }
    const Candidate& candidate = all.all[chosen.problem.candidates[i]];
    for (const Share& share : candidate.shares) {
      (candidate.is_intake() ? placed.intake_m2 : placed.exhaust_m2) += count * share.area_m2;
    }
    const Cost& cost = candidate.cost;
    const double shown = cost.money > 0.0 ? cost.money : cost.all;
    placed.cost += count * shown;
    placed.money += count * cost.money;
    weighed += count * (cost.all - shown - (chosen.way.is_shared ? cost.at_least : cost.all));
    if (candidate.run.has_value()) {
      model.intake.push_back(*candidate.run);
      ++placed.runs;
    } else {
      const std::vector<model::ExhaustVent> vents = spread(candidate.vents, count);
      model.exhaust.insert(model.exhaust.end(), vents.begin(), vents.end());
      placed.exhausts += count;
      exhausts.insert(candidate.product);
    }
  }
  placed.beside = weighed;
  placed.exhaust = fmt::format("{}", fmt::join(exhausts, ", "));
}

/// Ids that a person can read out, in the order of the planes.
void name_vents(model::RoofModel& model) {
  std::stable_sort(model.intake.begin(), model.intake.end(),
                   [](const model::IntakeRun& l, const model::IntakeRun& r) {
                     return l.plane != r.plane ? l.plane < r.plane : l.from_m < r.from_m;
                   });
  for (std::size_t i = 0; i < model.intake.size(); ++i) {
    model.intake[i].id = "in-" + std::to_string(i + 1);
  }
  for (std::size_t i = 0; i < model.exhaust.size(); ++i) {
    model.exhaust[i].id = "out-" + std::to_string(i + 1);
  }
}

/// What assessing the placement finds at fault: what was chosen part by part is judged as a whole.
std::vector<std::string> errors_in(const Ground& ground, const model::RoofModel& model) {
  const Trial trial = tried(ground, model.intake, model.exhaust, Air::solved);
  std::vector<std::string> errors;
  for (const conflicts::Finding& finding : trial.findings) {
    if (finding.severity == conflicts::Severity::error) {
      errors.push_back(finding.message + " Measured " + finding.measured + ", needed " +
                       finding.needed + ".");
    }
  }
  for (const codes::Test& test : trial.tests.tests) {
    if (test.fails()) {
      errors.push_back(test.words + " (" + test.section + ") Measured " + test.measured_text +
                       ", needed " + test.needed + ".");
    }
  }
  return errors;
}

Placed place_group(const Case& what, double& weighs, model::RoofModel& model) {
  Placed placed;
  for (const CompartmentId id : what.group.compartments) {
    placed.compartments.push_back(what.ground.attic.compartments[id].id);
  }
  placed.what = named(what.ground, what.group.compartments);
  const std::optional<Chosen> chosen = chosen_for(what, placed);
  if (!chosen) {
    explain_impossible(what.ground, what.all, what.group, placed);
    return placed;
  }
  placed.is_met = true;
  placed.in_the_way.clear();
  weighs += chosen->solution.cost - placed.above;
  write_choice(what.all, *chosen, placed, model);
  explain_choice(what.ground, what.all, what.group, *chosen, placed);
  return placed;
}

/// Every group by itself. `weighs`: no choice weighs less.
Placement chosen_on(const Ground& ground, const Candidates& all, bool is_shared, double& weighs) {
  Placement placement;
  placement.model = ground.model;
  placement.model.intake.clear();
  placement.model.exhaust.clear();
  placement.is_met = true;
  weighs = 0.0;
  for (const Group& group : groups_of(ground, all)) {
    placement.groups.push_back(
        place_group({ground, all, group, is_shared}, weighs, placement.model));
    placement.is_met = placement.is_met && placement.groups.back().is_met;
  }
  name_vents(placement.model);
  return placement;
}

/// Money for the vents of a placement, bought together.
double bought_for(const Ground& ground, const model::RoofModel& model) {
  const Result<vents::Vents> vents =
      vents::set_out(model, ground.catalogue, ground.surface, ground.framing, ground.attic);
  ensure(vents.ok(), "what is placed can be set out");
  double sum = 0.0;
  for (const takeoff::OrderLine& line :
       takeoff::count(model, ground.catalogue, ground.surface, vents.value()).order) {
    sum += ground.catalogue.products.count(line.item) > 0 ? line.total_price.value_or(0.0) : 0.0;
  }
  return sum;
}

/// A placement bought together, and what it weighs then.
struct Weighed {
  Bought bought;
  double weight = 0.0;
};
Weighed weighed(const Ground& ground, const Placement& placement) {
  Weighed all;
  all.bought.together = bought_for(ground, placement.model);
  for (const Placed& placed : placement.groups) {
    all.bought.counted += placed.money;
    all.weight += placed.cost - placed.money + placed.beside;
  }
  all.weight += all.bought.together;
  return all;
}

/// With prices: whether a placement that wastes less of its left-overs is bought for less, and how
/// far from the least the better of the two can be.
void buy_together(const Ground& ground, const Candidates& all, Placement& placement) {
  double at_least = 0.0;
  Placement other = chosen_on(ground, all, true, at_least);
  Weighed best = weighed(ground, placement);
  if (const Weighed own = weighed(ground, other); own.weight < best.weight - near) {
    placement = std::move(other);
    best = own;
  }
  best.bought.above = std::max(0.0, best.weight - at_least);
  placement.bought = best.bought;
}

}  // namespace

Result<Placement> place(const model::RoofModel& model, const model::Catalogue& catalogue,
                        const codes::CodeSet& code) {
  const Result<surface::Surface> surface = surface::raise(model);
  if (!surface) {
    return surface.faults();
  }
  const framing::Framing framing = framing::frame(model, surface.value());
  const Result<attic::Attic> attic = attic::divide(model, surface.value(), framing);
  if (!attic) {
    return attic.faults();
  }
  const Ground ground{model, catalogue, code, surface.value(), framing, attic.value()};
  const Candidates all = candidates_on(ground);
  double weighs = 0.0;
  Placement placement = chosen_on(ground, all, false, weighs);
  const bool has_prices =
      std::any_of(all.all.begin(), all.all.end(),
                  [](const Candidate& candidate) { return candidate.cost.money > 0.0; });
  if (placement.is_met && has_prices) {
    buy_together(ground, all, placement);
  }
  explain_whole(model, all, placement);
  if (placement.is_met) {
    const std::vector<std::string> errors = errors_in(ground, placement.model);
    placement.is_met = errors.empty();
    for (const std::string& error : errors) {
      placement.said.push_back("In the way of any placement: " + error);
    }
  }
  return placement;
}

}  // namespace ridgeward::placement
