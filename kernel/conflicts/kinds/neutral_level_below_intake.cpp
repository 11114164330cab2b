#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

/// The lowest intake of a compartment; null when it has none.
const airflow::Way* lowest_intake(const Roof& roof, CompartmentId compartment) {
  const airflow::Way* lowest = nullptr;
  for (const airflow::Way& way : roof.airflow.openings) {
    if (way.compartment == compartment && way.role == airflow::Role::intake &&
        (lowest == nullptr || way.at.z < lowest->at.z)) {
      lowest = &way;
    }
  }
  return lowest;
}

std::vector<Finding> find_neutral_level_below_intake(const Roof& roof) {
  std::vector<Finding> found;
  const airflow::CaseAir* winter = roof.airflow.first(airflow::CaseKind::winter);
  if (!has_vents(roof) || winter == nullptr) {
    return found;
  }
  for (const airflow::SpaceAir& space : winter->spaces) {
    const airflow::Way* lowest =
        space.compartment.is_none() ? nullptr : lowest_intake(roof, space.compartment);
    if (lowest == nullptr || !space.neutral_level_m || *space.neutral_level_m >= lowest->at.z ||
        space.air_c <= winter->conditions.outside_c) {
      continue;
    }
    Finding finding;
    finding.kind = "neutral_level_below_intake";
    finding.severity = Severity::warning;
    finding.at = lowest->at;
    finding.plane = plane_of(roof, *lowest);
    finding.slot = lowest->slot;
    finding.measured = length_words(roof, *space.neutral_level_m);
    finding.needed = "above the intake at " + length_words(roof, lowest->at.z);
    finding.message = "On the calm winter night " + roof.attic.compartments[space.compartment].id +
                      " is under pressure from below its lowest intake upward" + as_modelled +
                      ": all vents blow out and what comes in comes from the rooms.";
    finding.remedy = "Seal the ceiling; add intake low down.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check neutral_level_below_intake_kind;
const Check neutral_level_below_intake_kind{"neutral_level_below_intake",
                                            "an attic under pressure even at its lowest intake",
                                            find_neutral_level_below_intake};

}  // namespace ridgeward::conflicts
