#include "conflicts/air_words.hpp"

#include "airflow/words.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

std::vector<const airflow::CaseAir*> cases_of(const Roof& roof,
                                              std::initializer_list<airflow::CaseKind> kinds) {
  std::vector<const airflow::CaseAir*> all;
  for (const airflow::CaseAir& one : roof.airflow.cases) {
    if (std::find(kinds.begin(), kinds.end(), one.kind) != kinds.end()) {
      all.push_back(&one);
    }
  }
  return all;
}

}  // namespace

std::vector<const airflow::CaseAir*> calm_cases(const Roof& roof) {
  return cases_of(roof, {airflow::CaseKind::winter, airflow::CaseKind::summer});
}

std::vector<const airflow::CaseAir*> wind_cases(const Roof& roof) {
  return cases_of(roof, {airflow::CaseKind::wind});
}

std::string air_words(const Roof& roof, double flow_m3s) {
  const units::LengthUnit unit = roof.model.unit;
  return airflow::flow_words(flow_m3s, unit == units::LengthUnit::m || unit == units::LengthUnit::mm
                                           ? units::Style::metric
                                           : units::Style::feet_inches);
}

PlaneId plane_of(const Roof& roof, const airflow::Way& way) {
  if (!way.slot.is_none()) {
    return roof.vents.slots[way.slot].plane;
  }
  return way.exhaust.is_none() ? PlaneId() : roof.vents.exhausts[way.exhaust].plane;
}

bool has_role(const Roof& roof, CompartmentId compartment, airflow::Role role) {
  return std::any_of(
      roof.airflow.openings.begin(), roof.airflow.openings.end(),
      [&](const airflow::Way& way) { return way.compartment == compartment && way.role == role; });
}

}  // namespace ridgeward::conflicts
