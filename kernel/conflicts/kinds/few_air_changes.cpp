#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"

#include <fmt/format.h>

namespace ridgeward::conflicts {

namespace {

/// An hour, on a calm winter night. Attics that breathe through their leaks alone have about 0.4,
/// vented ones 1 and more; no code asks for a figure.
constexpr double least_per_h = 0.5;

std::vector<Finding> find_few_air_changes(const Roof& roof) {
  std::vector<Finding> found;
  const airflow::CaseAir* winter = roof.airflow.first(airflow::CaseKind::winter);
  if (!has_vents(roof) || winter == nullptr) {
    return found;
  }
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    const airflow::SpaceAir& space = winter->spaces[id];
    if (space.air_changes_per_h >= least_per_h || !has_role(roof, id, airflow::Role::intake) ||
        !has_role(roof, id, airflow::Role::exhaust)) {
      continue;
    }
    Finding finding;
    finding.kind = "few_air_changes";
    finding.severity = Severity::note;
    finding.at = place_of(roof, id);
    finding.measured = fmt::format("{:.2f} an hour", space.air_changes_per_h);
    finding.needed = fmt::format("{:.1f} an hour (no code asks for a figure)", least_per_h);
    finding.message = "Few air changes in " + roof.attic.compartments[id].id +
                      " on the calm winter night" + as_modelled + ".";
    finding.remedy = "Add intake and exhaust in like measure.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check few_air_changes_kind;
const Check few_air_changes_kind{"few_air_changes", "few air changes on a calm winter night",
                                 find_few_air_changes};

}  // namespace ridgeward::conflicts
