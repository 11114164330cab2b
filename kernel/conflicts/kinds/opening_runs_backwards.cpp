#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"

#include <cmath>

namespace ridgeward::conflicts {

namespace {

using airflow::Role;

/// Said by neutral_level_below_intake.
bool is_under_pressure(const airflow::CaseAir& one, const airflow::Way& way) {
  const std::optional<double>& level = one.spaces[way.compartment].neutral_level_m;
  return way.role == Role::intake && level && *level < way.at.z &&
         one.spaces[way.compartment].air_c > one.conditions.outside_c;
}

Finding told(const Roof& roof, const airflow::CaseAir& one, std::size_t index) {
  const airflow::Way& way = roof.airflow.openings[index];
  const bool is_intake = way.role == Role::intake;
  Finding finding;
  finding.kind = "opening_runs_backwards";
  finding.severity = Severity::warning;
  finding.at = way.at;
  finding.plane = plane_of(roof, way);
  finding.slot = way.slot;
  finding.measured =
      air_words(roof, std::abs(one.openings[index].flow_m3s)) + (is_intake ? " out" : " in");
  finding.needed = is_intake ? "air in" : "air out";
  finding.message = std::string(is_intake ? "Intake " : "Exhaust ") + way.id +
                    (is_intake ? " blows out" : " draws in") + " on the " + one.conditions.name +
                    as_modelled + ".";
  finding.remedy = is_intake ? "Close openings that lie lower, or add exhaust higher up."
                             : "Add intake low down, move this vent up, or close it.";
  return finding;
}

std::vector<Finding> run(const Roof& roof) {
  std::vector<Finding> found;
  if (!has_vents(roof)) {
    return found;
  }
  std::vector<bool> is_told(roof.airflow.openings.size(), false);
  for (const airflow::CaseAir* one : calm_cases(roof)) {
    for (std::size_t i = 0; i < roof.airflow.openings.size(); ++i) {
      if (is_told[i] || one->openings[i].role_kept ||
          is_under_pressure(*one, roof.airflow.openings[i])) {
        continue;
      }
      is_told[i] = true;
      found.push_back(told(roof, *one, i));
    }
  }
  return found;
}

}  // namespace

extern const Check opening_runs_backwards_kind;
const Check opening_runs_backwards_kind{
    "opening_runs_backwards", "an intake that blows out or an exhaust that draws in without wind",
    run};

}  // namespace ridgeward::conflicts
