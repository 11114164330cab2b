#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

constexpr double most_share = 0.20;
/// Pressure in the rooms below which flue gas may spill.
constexpr double least_house_pa = -2.0;

const airflow::Way* fan_of(const Roof& roof, CompartmentId space) {
  const auto found =
      std::find_if(roof.airflow.openings.begin(), roof.airflow.openings.end(),
                   [&](const airflow::Way& way) { return way.compartment == space && way.is_fan; });
  return found == roof.airflow.openings.end() ? nullptr : &*found;
}

std::vector<Finding> find_house_air_drawn_up(const Roof& roof) {
  std::vector<Finding> found;
  const airflow::CaseAir* summer = roof.airflow.first(airflow::CaseKind::summer);
  if (!has_vents(roof) || summer == nullptr) {
    return found;
  }
  for (const airflow::SpaceAir& space : summer->spaces) {
    const airflow::Way* fan =
        space.compartment.is_none() ? nullptr : fan_of(roof, space.compartment);
    if (fan == nullptr || (space.house_share <= most_share && summer->house_pa >= least_house_pa)) {
      continue;
    }
    Finding finding;
    finding.kind = "house_air_drawn_up";
    finding.severity = Severity::warning;
    finding.at = fan->at;
    finding.plane = plane_of(roof, *fan);
    finding.measured = fmt::format("{} from the rooms, {:.1f} Pa in them",
                                   share_words(space.house_share), summer->house_pa);
    finding.needed = fmt::format("at most {}, {:g} Pa", share_words(most_share), least_house_pa);
    finding.message = "Powered vent " + fan->id + " draws air up through the ceiling" +
                      as_modelled +
                      ". Heaters with a flue may spill carbon monoxide into the rooms.";
    finding.remedy =
        "Add intake, seal the ceiling, or take the fan out; have a qualified person test the "
        "heaters.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check house_air_drawn_up_kind;
const Check house_air_drawn_up_kind{"house_air_drawn_up",
                                    "a powered vent that draws air out of the rooms",
                                    find_house_air_drawn_up};

}  // namespace ridgeward::conflicts
