#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"

#include <fmt/format.h>

namespace ridgeward::conflicts {

namespace {

/// Of the standard winds. An intake on the lee side blows out: of two on opposite sides each draws
/// under about half of the winds, which is as it should be.
constexpr double least_share = 0.4;

std::vector<Finding> find_intake_seldom_draws(const Roof& roof) {
  std::vector<Finding> found;
  for (std::size_t i = 0; i < roof.airflow.winds.size(); ++i) {
    const airflow::Way& way = roof.airflow.openings[i];
    const airflow::WindRecord& record = roof.airflow.winds[i];
    if (way.role != airflow::Role::intake || record.share() >= least_share) {
      continue;
    }
    Finding finding;
    finding.kind = "intake_seldom_draws";
    finding.severity = Severity::note;
    finding.at = way.at;
    finding.plane = plane_of(roof, way);
    finding.slot = way.slot;
    finding.measured = fmt::format("{} of {} winds", record.kept, record.winds);
    finding.needed = "two winds in five or more";
    finding.message = "Intake " + way.id + " blows out under most winds" + as_modelled + ".";
    finding.remedy = "Put more of the intake on the sides that the wind meets.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check intake_seldom_draws_kind;
const Check intake_seldom_draws_kind{
    "intake_seldom_draws", "an intake that takes in air under few winds", find_intake_seldom_draws};

}  // namespace ridgeward::conflicts
