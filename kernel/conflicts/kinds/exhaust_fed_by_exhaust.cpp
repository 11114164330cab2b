#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

/// Share of the air that may come in through exhaust vents before it is told.
constexpr double most_share = 0.10;

/// The exhaust through which the most air comes in.
const airflow::Way* feeder(const Roof& roof, const airflow::CaseAir& one, CompartmentId space) {
  const airflow::Way* most = nullptr;
  double in = 0.0;
  for (std::size_t i = 0; i < roof.airflow.openings.size(); ++i) {
    const airflow::Way& way = roof.airflow.openings[i];
    if (way.compartment == space && way.role == airflow::Role::exhaust &&
        one.openings[i].in_kgs > in) {
      in = one.openings[i].in_kgs;
      most = &way;
    }
  }
  return most;
}

Finding told(const Roof& roof, const airflow::CaseAir& one, const airflow::SpaceAir& space,
             const std::string& when) {
  const airflow::Way& way = *feeder(roof, one, space.compartment);
  Finding finding;
  finding.kind = "exhaust_fed_by_exhaust";
  // A vent up a hip takes air in at its foot as it lets it out at its top.
  const bool is_up_a_hip = roof.vents.exhausts[way.exhaust].kind == model::VentKind::hip_vent;
  finding.severity = is_up_a_hip ? Severity::note : Severity::warning;
  finding.at = way.at;
  finding.plane = plane_of(roof, way);
  finding.exhaust = way.exhaust;
  finding.measured = share_words(space.exhaust_fed_share) + " of the air";
  finding.needed = "at most " + share_words(most_share);
  finding.message = when + " air for " + roof.attic.compartments[space.compartment].id +
                    " comes in through exhaust " + way.id + ", short of the space below" +
                    as_modelled + ".";
  finding.remedy =
      "Keep one kind of exhaust at one height and close " + way.id + ", or add intake low down.";
  return finding;
}

std::vector<Finding> find_exhaust_fed_by_exhaust(const Roof& roof) {
  std::vector<Finding> found;
  if (!has_vents(roof)) {
    return found;
  }
  std::vector<bool> is_told(roof.attic.compartments.size(), false);
  for (const airflow::CaseAir* one : calm_cases(roof)) {
    for (const airflow::SpaceAir& space : one->spaces) {
      if (space.compartment.is_none() || is_told[space.compartment.value] ||
          space.exhaust_fed_share <= most_share) {
        continue;
      }
      is_told[space.compartment.value] = true;
      found.push_back(told(roof, *one, space, "On the " + one->conditions.name));
    }
  }
  const std::vector<const airflow::CaseAir*> winds = wind_cases(roof);
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    const airflow::CaseAir* worst = nullptr;
    std::size_t fed = 0;
    for (const airflow::CaseAir* one : winds) {
      const double share = one->spaces[id].exhaust_fed_share;
      fed += share > most_share ? 1 : 0;
      if (worst == nullptr || share > worst->spaces[id].exhaust_fed_share) {
        worst = one;
      }
    }
    if (!is_told[id.value] && 2 * fed > winds.size()) {
      Finding finding = told(roof, *worst, worst->spaces[id],
                             "In " + std::to_string(fed) + " of " + std::to_string(winds.size()) +
                                 " winds, worst in " + worst->conditions.name + ",");
      finding.severity = Severity::note;
      found.push_back(std::move(finding));
    }
  }
  return found;
}

}  // namespace

extern const Check exhaust_fed_by_exhaust_kind;
const Check exhaust_fed_by_exhaust_kind{"exhaust_fed_by_exhaust",
                                        "an exhaust that draws its air in through another exhaust",
                                        find_exhaust_fed_by_exhaust};

}  // namespace ridgeward::conflicts
