#include "placement/explain.hpp"

#include "attic/names.hpp"
#include "placement/lengths.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ridgeward::placement {

namespace {

constexpr double most_seconds = 60.0;
constexpr double clearly_m = 1e-6;
constexpr double a_cent = 0.01;

/// Unknowns of the program after the candidates: one share, then how far each eave departs.
double uneven_m(const Chosen& chosen) {
  const std::size_t first = chosen.problem.candidates.size() + 1;
  double sum = 0.0;
  for (std::size_t i = 0; i < chosen.problem.eaves; ++i) {
    sum += chosen.solution.values[first + i];
  }
  return sum;
}

/// Compartments of a group that get the ordinary area, not the reduced one alone.
std::size_t count_with_ordinary_area(const Ground& ground, const Candidates& all,
                                     const Group& group, const Chosen& chosen) {
  std::map<std::uint32_t, double> areas;
  for (std::size_t i = 0; i < chosen.problem.candidates.size(); ++i) {
    for (const Share& share : all.all[chosen.problem.candidates[i]].shares) {
      areas[share.compartment.value] += std::round(chosen.solution.values[i]) * share.area_m2;
    }
  }
  return static_cast<std::size_t>(
      std::count_if(group.compartments.begin(), group.compartments.end(), [&](CompartmentId id) {
        const double floor_m2 = ground.attic.compartments[id].floor_area_m2;
        return areas[id.value] >= floor_m2 / ground.code.ratio * (1.0 - 1e-9);
      }));
}

/// Which exhaust stands over what, where that is not one and the same.
void explain_exhausts(const Ground& ground, const Candidates& all, const Chosen& chosen,
                      Placed& placed) {
  std::map<std::string, std::set<CompartmentId>> over;
  for (std::size_t i = 0; i < chosen.problem.candidates.size(); ++i) {
    const Candidate& own = all.all[chosen.problem.candidates[i]];
    for (const Share& share : own.shares) {
      if (!own.is_intake() && chosen.solution.values[i] > 0.5) {
        over[own.product].insert(share.compartment);
      }
    }
  }
  for (const auto& [product, spaces] : over) {
    if (over.size() > 1) {
      placed.exhaust_over.push_back(product + " over " +
                                    named(ground, {spaces.begin(), spaces.end()}));
    }
  }
}

/// What one product for all would come to: the cheapest first.
void explain_alternatives(const Chosen& chosen, const char* alone, Placed& placed) {
  std::vector<std::pair<double, std::string>> dearer;
  std::string none;
  for (const Alternative& other : placed.alternatives) {
    if (other.exhaust == placed.exhaust) {
      continue;
    }
    if (other.is_possible) {
      dearer.emplace_back(std::max(0.0, other.cost - chosen.solution.cost), other.exhaust);
    } else {
      none += (none.empty() ? "" : ", ") + other.exhaust +
              (other.is_proven ? "" : " (the search ended first)");
    }
  }
  std::sort(dearer.begin(), dearer.end());
  std::string list;
  for (const auto& [more, exhaust] : dearer) {
    list += fmt::format("{}{} {:.2f}", list.empty() ? "" : ", ", exhaust, more);
  }
  if (!list.empty()) {
    placed.traded.push_back(
        fmt::format("Other exhaust{} costs more, unevenness weighed in: {}.", alone, list));
  }
  if (!none.empty()) {
    placed.traded.push_back(
        fmt::format("No placement meets the code with other exhaust{}: {}.", alone, none));
  }
}

void explain_ratio(const Ground& ground, const Candidates& all, const Group& group,
                   const Chosen& chosen, Placed& placed) {
  const codes::CodeSet& code = ground.code;
  if (chosen.way.is_reduced || code.reduced_ratio <= 0.0 || code.ratio <= 0.0) {
    return;
  }
  const std::size_t spaces = group.compartments.size();
  const std::size_t ordinary =
      spaces == 1 ? 1 : count_with_ordinary_area(ground, all, group, chosen);
  if (ordinary > 0) {
    placed.traded.push_back(fmt::format(
        "1/{:g} of the floor is provided{}: the conditions for 1/{:g} can't be met, or cost more.",
        code.ratio, ordinary < spaces ? fmt::format(" over {} of {} spaces", ordinary, spaces) : "",
        code.reduced_ratio));
  }
}

/// The most of one side that fits over a group: of what overlaps the best. An empty product:
/// intake.
double most_m2(const Candidates& all, const Group& group, const std::string& exhaust) {
  std::map<std::uint32_t, std::vector<Worth>> along;
  double sum = 0.0;
  for (const std::size_t index : group.candidates) {
    const Candidate& candidate = all.all[index];
    if (candidate.is_intake() != exhaust.empty() ||
        (!exhaust.empty() && candidate.product != exhaust)) {
      continue;
    }
    double own = 0.0;
    for (const Share& share : candidate.shares) {
      own += share.area_m2;
    }
    if (candidate.is_intake() || model::runs_along(candidate.kind)) {
      const Stretch& lies = all.stretches[candidate.stretch];
      along[candidate.is_intake() ? lies.plane.value : lies.line.value].push_back(
          {{lies.from_m, lies.to_m}, own});
    } else {
      sum += own * candidate.places();
    }
  }
  for (auto& [place, worths] : along) {
    sum += most_apart(std::move(worths));
  }
  return sum;
}

/// The least area that is missing where all but the required area is kept. The best that was found:
/// its search may end first.
void explain_missing(const Ground& ground, const Candidates& all, const Group& group,
                     Placed& placed) {
  const bool is_joined = group.compartments.size() > 1;
  double least_missing = HUGE_VAL;
  std::string nearest;
  for (const Alternative& other : placed.alternatives) {
    const Way way{is_joined ? "" : other.exhaust, ground.code.reduced_ratio > 0.0, 0, false};
    const Problem problem = nearest_to(ground, all, group, way);
    const Solution solution = solve(problem.program, most_seconds);
    double missing = 0.0;
    for (std::size_t i = 0; !solution.values.empty() && i < problem.missing.size(); ++i) {
      missing += solution.values[problem.missing[i]];
    }
    if (!solution.values.empty() && missing < least_missing) {
      least_missing = missing;
      nearest = is_joined ? "one exhaust over each space" : other.exhaust;
    }
    if (is_joined) {
      break;
    }
  }
  if (least_missing == HUGE_VAL) {
    return;
  }
  const double missing_m2 = least_missing * 1e-4;
  placed.in_the_way.push_back(
      missing_m2 > 1e-6
          ? fmt::format("The nearest, with {} and intake balanced against it, lacks {}.", nearest,
                        units::show_free_area(missing_m2, style_of(ground.model)))
          : fmt::format("With {} the area is there; the code's conditions of place or share "
                        "are not met.",
                        nearest));
}

}  // namespace

units::Style style_of(const model::RoofModel& model) {
  return model.unit == units::LengthUnit::m || model.unit == units::LengthUnit::mm
             ? units::Style::metric
             : units::Style::feet_inches;
}

std::string named(const Ground& ground, const std::vector<CompartmentId>& compartments) {
  std::map<std::string, std::vector<CompartmentId>> alone;
  std::vector<std::string> names;
  for (const CompartmentId id : compartments) {
    const attic::Compartment& space = ground.attic.compartments[id];
    if (space.is_rafter_space && space.spaces.size() == 1) {
      alone[attic::ceiling_of(ground.attic, id)].push_back(id);
    } else {
      names.push_back(space.id);
    }
  }
  for (const auto& [ceiling, spaces] : alone) {
    names.push_back(attic::names_of(ground.framing, ground.attic, spaces));
  }
  return fmt::format("{}", fmt::join(names, "; "));
}

void explain_choice(const Ground& ground, const Candidates& all, const Group& group,
                    const Chosen& chosen, Placed& placed) {
  placed.uneven_m = uneven_m(chosen);
  if (placed.uneven_m > clearly_m) {
    placed.traded.push_back(
        fmt::format("The eaves are used less evenly than one section each, by {} in all: more "
                    "evenly, the code's areas and the balance can't be met.",
                    units::show(placed.uneven_m, style_of(ground.model))));
  }
  if (!chosen.way.has_advice) {
    placed.traded.emplace_back("Advice of the trade gave way to the code: both can't be had here.");
  }
  explain_exhausts(ground, all, chosen, placed);
  explain_ratio(ground, all, group, chosen, placed);
  for (std::size_t i = 0; i < chosen.problem.candidates.size(); ++i) {
    const Candidate& candidate = all.all[chosen.problem.candidates[i]];
    if (candidate.warnings > 0 && chosen.solution.values[i] > 0.5) {
      placed.traded.push_back(
          "A warning is accepted on " +
          (candidate.run.has_value() ? candidate.run->plane : candidate.vents.front().line) +
          ", because nothing without one is enough: " + candidate.warning);
    }
  }
  explain_alternatives(chosen, group.compartments.size() > 1 ? " alone over all of it" : "",
                       placed);
}

void explain_impossible(const Ground& ground, const Candidates& all, const Group& group,
                        Placed& placed) {
  const units::Style style = style_of(ground.model);
  const auto area = [&](double area_m2) { return units::show_free_area(area_m2, style); };
  double floor_m2 = 0.0;
  for (const CompartmentId id : group.compartments) {
    floor_m2 += ground.attic.compartments[id].floor_area_m2;
  }
  const double ratio =
      ground.code.reduced_ratio > 0.0 ? ground.code.reduced_ratio : ground.code.ratio;
  if (ratio > 0.0) {
    placed.in_the_way.push_back(fmt::format("{} is required in all, at 1/{:g} of the floor.",
                                            area(floor_m2 / ratio), ratio));
  }
  placed.in_the_way.push_back("Intake that fits on its eaves: at most " +
                              area(most_m2(all, group, "")) + ".");
  bool has_exhaust = false;
  for (const Alternative& other : placed.alternatives) {
    placed.in_the_way.push_back("Exhaust that fits with " + other.exhaust + ": at most " +
                                area(most_m2(all, group, other.exhaust)) + ".");
    has_exhaust = true;
  }
  if (!has_exhaust) {
    placed.in_the_way.emplace_back("No exhaust of the catalogue can stand over it.");
    return;
  }
  if (group.compartments.size() > 1) {
    const Problem problem = problem_of(ground, all, group, {"", false, 0, false, false});
    placed.in_the_way.insert(placed.in_the_way.end(), problem.unmet.begin(), problem.unmet.end());
    if (!problem.unmet.empty()) {
      return;
    }
  }
  if (ratio > 0.0) {
    explain_missing(ground, all, group, placed);
  }
}

void explain_whole(const model::RoofModel& model, const Candidates& all, Placement& placement) {
  if (!model.intake.empty() || !model.exhaust.empty()) {
    placement.said.push_back(
        fmt::format("The model's own vents are left out: {} of intake and {} of exhaust.",
                    model.intake.size(), model.exhaust.size()));
  }
  if (placement.bought) {
    const Bought& bought = *placement.bought;
    placement.said.push_back(fmt::format(
        "Bought together, left-overs used up, the vents come to {:.2f} (run by run {:.2f}). {}",
        bought.together, bought.counted,
        bought.above < a_cent
            ? "No placement can be bought for less."
            : fmt::format("The cheapest that there is can't be more than {:.2f} below.",
                          bought.above)));
  }
  for (const std::string& eave : all.left_out) {
    placement.said.push_back("No intake on " + eave + ".");
  }
}

}  // namespace ridgeward::placement
