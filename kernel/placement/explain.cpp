#include "placement/explain.hpp"

#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::placement {

namespace {

constexpr double most_seconds = 60.0;
constexpr double clearly_m = 1e-6;
constexpr double a_cent = 0.01;

units::Style style_of(const model::RoofModel& model) {
  return model.unit == units::LengthUnit::m || model.unit == units::LengthUnit::mm
             ? units::Style::metric
             : units::Style::feet_inches;
}

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

/// The most of one side that fits over a group: the best run of each stretch that can stand beside
/// the others.
double most_m2(const Candidates& all, const Group& group, const std::string& exhaust) {
  std::map<std::size_t, double> by_eave;
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
      const Stretch& stretch = all.stretches[candidate.stretch];
      double& best = by_eave[candidate.is_intake() ? stretch.eave : candidate.stretch];
      best = std::max(best, own);
    } else {
      sum += own * candidate.places();
    }
  }
  for (const auto& [eave, area] : by_eave) {
    sum += area;
  }
  return sum;
}

}  // namespace

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
  for (const Alternative& other : placed.alternatives) {
    const char* alone = group.compartments.size() > 1 ? " alone" : "";
    if (other.exhaust == placed.exhaust) {
      continue;
    }
    if (other.is_possible) {
      placed.traded.push_back(fmt::format(
          "With {}{} for exhaust the best placement{} weighs {:.2f} more.", other.exhaust, alone,
          other.is_proven ? "" : " found", std::max(0.0, other.cost - chosen.solution.cost)));
    } else {
      placed.traded.push_back(fmt::format("With {}{} for exhaust no placement {}.", other.exhaust,
                                          alone, other.is_proven ? "meets the code" : "was found"));
    }
  }
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
  double least_missing = HUGE_VAL;
  std::string nearest;
  for (const Alternative& other : placed.alternatives) {
    const Way way{other.exhaust, ground.code.reduced_ratio > 0.0, 0, false};
    const Problem problem = nearest_to(ground, all, group, way);
    const Solution solution = solve(problem.program, most_seconds);
    double missing = 0.0;
    for (std::size_t i = 0; !solution.values.empty() && i < problem.missing.size(); ++i) {
      missing += solution.values[problem.missing[i]];
    }
    if (!solution.values.empty() && missing < least_missing) {
      least_missing = missing;
      nearest = other.exhaust;
    }
  }
  if (least_missing < HUGE_VAL && ratio > 0.0) {
    const double missing_m2 = least_missing * 1e-4;
    placed.in_the_way.push_back(
        missing_m2 > 1e-6
            ? fmt::format("The nearest, with {} and intake balanced against it, lacks {}.", nearest,
                          area(missing_m2))
            : fmt::format("With {} the area is there; the code's conditions of place or share "
                          "are not met.",
                          nearest));
  }
}

void explain_whole(const model::RoofModel& model, const Candidates& all, Placement& placement) {
  if (!model.intake.empty() || !model.exhaust.empty()) {
    placement.said.push_back(
        fmt::format("The model's own vents are left out: {} intake run(s) and {} exhaust vent(s).",
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
