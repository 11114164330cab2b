#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"

#include <cmath>
#include <map>
#include <set>
#include <string>

namespace ridgeward::conflicts {

namespace {

using airflow::Role;

/// Of a compartment's air: less the wrong way round is no finding.
constexpr double least_against = 0.02;

/// A vent over several spaces is judged as a whole: short bays at its ends may do as they like.
struct Whole {
  const airflow::Way* way = nullptr;  ///< its first
  double flow_m3s = 0.0;
  double mass_kgs = 0.0;
  double in_kgs = 0.0;  ///< of the spaces that it serves, each once
  std::set<CompartmentId> spaces;
};

std::map<std::string, Whole> wholes(const Roof& roof, const airflow::CaseAir& one) {
  std::map<std::string, Whole> all;
  for (std::size_t i = 0; i < roof.airflow.openings.size(); ++i) {
    const airflow::Way& way = roof.airflow.openings[i];
    if (way.role == Role::leak) {
      continue;
    }
    Whole& whole = all[way.id];
    whole.way = whole.way == nullptr ? &way : whole.way;
    whole.flow_m3s += one.openings[i].flow_m3s;
    whole.mass_kgs += one.openings[i].mass_kgs;
    if (whole.spaces.insert(way.compartment).second) {
      whole.in_kgs += one.spaces[way.compartment].in_kgs;
    }
  }
  return all;
}

/// Said by neutral_level_below_intake.
bool is_under_pressure(const airflow::CaseAir& one, const airflow::Way& way) {
  const std::optional<double>& level = one.spaces[way.compartment].neutral_level_m;
  return way.role == Role::intake && level && *level < way.at.z &&
         one.spaces[way.compartment].air_c > one.conditions.outside_c;
}

Finding told(const Roof& roof, const airflow::CaseAir& one, const Whole& whole) {
  const airflow::Way& way = *whole.way;
  const bool is_intake = way.role == Role::intake;
  Finding finding;
  finding.kind = "opening_runs_backwards";
  // Between rafter spaces air goes through holes and gaps whose size is assumed.
  const bool is_assumed = roof.attic.compartments[way.compartment].is_rafter_space;
  finding.severity = is_assumed ? Severity::note : Severity::warning;
  finding.at = way.at;
  finding.plane = plane_of(roof, way);
  finding.slot = way.slot;
  finding.exhaust = way.exhaust;
  finding.measured = air_words(roof, std::abs(whole.flow_m3s)) + (is_intake ? " out" : " in");
  finding.needed = is_intake ? "air in" : "air out";
  finding.message = std::string(is_intake ? "Intake " : "Exhaust ") + way.id +
                    (is_intake ? " blows out" : " draws in") + " on the " + one.conditions.name +
                    as_modelled + ".";
  finding.remedy = is_intake ? "Close openings that lie lower, or add exhaust higher up."
                             : "Add intake low down, move this vent up, or close it.";
  return finding;
}

std::vector<Finding> find_opening_runs_backwards(const Roof& roof) {
  std::vector<Finding> found;
  if (!has_vents(roof)) {
    return found;
  }
  std::set<std::string> told_ids;
  for (const airflow::CaseAir* one : calm_cases(roof)) {
    for (const auto& [id, whole] : wholes(roof, *one)) {
      const double against = whole.way->role == Role::intake ? -whole.mass_kgs : whole.mass_kgs;
      if (against > least_against * whole.in_kgs && !is_under_pressure(*one, *whole.way) &&
          told_ids.insert(id).second) {
        found.push_back(told(roof, *one, whole));
      }
    }
  }
  return found;
}

}  // namespace

extern const Check opening_runs_backwards_kind;
const Check opening_runs_backwards_kind{
    "opening_runs_backwards", "an intake that blows out or an exhaust that draws in without wind",
    find_opening_runs_backwards};

}  // namespace ridgeward::conflicts
