#include "codes/stage.hpp"

#include "codes/figures.hpp"
#include "codes/measures.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace ridgeward::codes {

namespace {

/// Areas this close to what is required count as enough.
constexpr double tolerance = 1e-9;

Test run(const Ventilated& space, const Rule& rule, double required_m2, bool is_condition) {
  Test test;
  test.compartment = space.space.compartment;
  test.test = rule.id;
  test.section = rule.section;
  test.words = rule.words;
  test.is_advice = rule.is_advice;
  test.is_condition = is_condition;
  test.from_memory = rule.from_memory;
  test.measure = rule.measure;
  test.bounds = rule.bounds;
  test.needed = needed_words(rule.measure, rule.bounds);
  if (const std::optional<double> value = measured(space, rule.measure, required_m2)) {
    test.measured = *value;
    test.measured_text = figure(rule.measure, *value);
    test.holds = within(rule.bounds, *value);
  } else {
    test.is_measured = false;
    test.measured_text = "nothing";
  }
  const CompartmentId own = space.space.compartment;
  if (rule.measure == Measure::space_over_insulation_m &&
      space.space.attic.compartments[own].insulation_m <= 0.0) {
    test.is_tested = false;
    test.measured_text = "no insulation is given";
  }
  return test;
}

/// Whether the conditions grant the reduced ratio; tells every one of them.
bool is_reduced(const CodeSet& code, const Ventilated& space, double floor_m2,
                std::vector<Test>& tests) {
  if (code.reduced_ratio <= 0.0) {
    return false;
  }
  std::size_t held = 0;
  std::size_t asked = 0;
  for (const Rule& rule : code.conditions) {
    if (!applies(space.space, rule)) {
      continue;
    }
    ++asked;
    tests.push_back(run(space, rule, floor_m2 / code.reduced_ratio, true));
    held += tests.back().holds ? 1 : 0;
  }
  return code.reduced_needs_all ? held == asked : held > 0;
}

std::string free_area(double area_m2) {
  return fmt::format("{} ({})", units::show_free_area(area_m2, units::Style::feet_inches),
                     units::show_free_area(area_m2, units::Style::metric));
}

std::string area_needed(const std::string& area, const Requirement& requirement) {
  return fmt::format("at least {}, 1/{:g} of the floor", area, requirement.ratio);
}

Test area_test(const CodeSet& code, const Ventilated& space, const Requirement& requirement,
               bool reduced) {
  const vents::CompartmentTotals& totals = space.vents.totals[space.space.compartment];
  Test test;
  test.compartment = space.space.compartment;
  test.test = "required_area";
  test.section = reduced ? code.reduced_section : code.ratio_section;
  test.words = reduced ? code.reduced_words : code.ratio_words;
  test.measured = totals.intake_m2 + totals.exhaust_m2;
  test.measured_text = free_area(test.measured);
  test.holds = test.measured >= requirement.required_m2 * (1.0 - tolerance);
  test.needed = area_needed(free_area(requirement.required_m2), requirement);
  return test;
}

}  // namespace

TestFigures figures_of(const Test& test, const Requirement& requirement, units::Style style) {
  if (!test.measure) {
    return {units::show_free_area(test.measured, style),
            area_needed(units::show_free_area(requirement.required_m2, style), requirement)};
  }
  return {test.is_measured && test.is_tested ? figure(*test.measure, test.measured, style)
                                             : test.measured_text,
          needed_words(*test.measure, test.bounds, style)};
}

Tests test(const CodeSet& code, const surface::Surface& surface, const framing::Framing& framing,
           const attic::Attic& attic, const vents::Vents& vents) {
  Tests all;
  for (const CompartmentId id : attic.compartments.ids()) {
    const Ventilated space{{surface, framing, attic, id}, vents};
    const double floor_m2 = attic.compartments[id].floor_area_m2;
    std::vector<Test> conditions;
    const bool reduced = is_reduced(code, space, floor_m2, conditions);
    Requirement requirement;
    requirement.ratio = reduced ? code.reduced_ratio : code.ratio;
    requirement.required_m2 = requirement.ratio > 0.0 ? floor_m2 / requirement.ratio : 0.0;
    all.required.push_back(requirement);
    if (requirement.ratio > 0.0) {
      all.tests.push_back(area_test(code, space, requirement, reduced));
    }
    std::move(conditions.begin(), conditions.end(), std::back_inserter(all.tests));
    for (const Rule& rule : code.rules) {
      if (!applies(space.space, rule)) {
        continue;
      }
      all.tests.push_back(run(space, rule, requirement.required_m2, false));
    }
  }
  return all;
}

std::string or_practice(const std::string& section) {
  return section.empty() ? "common practice" : section;
}

std::string section_of_room(const CodeSet& code, double room_m) {
  constexpr double same_m = 0.001;
  const auto rule = std::find_if(code.rules.begin(), code.rules.end(), [&](const Rule& one) {
    return one.measure == Measure::space_over_insulation_m && one.bounds.least &&
           std::abs(*one.bounds.least - room_m) < same_m;
  });
  return or_practice(rule == code.rules.end() ? "" : rule->section);
}

std::string proviso(const CodeSet& code, const std::string& climate_zone, const Tests& tests) {
  const bool is_asked =
      climate_zone.empty() || code.proviso_zones.find(climate_zone.front()) != std::string::npos;
  const bool is_reduced =
      std::any_of(tests.required.begin(), tests.required.end(),
                  [&](const Requirement& one) { return one.ratio == code.reduced_ratio; });
  if (code.proviso_words.empty() || !is_asked || !is_reduced) {
    return {};
  }
  const std::string where =
      climate_zone.empty()
          ? "No climate zone is given. In zones that start with one of " + code.proviso_zones + ","
          : "In climate zone " + climate_zone;
  return fmt::format("{} 1/{:g} also asks for this, which no model tells: {} ({}).", where,
                     code.reduced_ratio, code.proviso_words, code.reduced_section);
}

}  // namespace ridgeward::codes
