#include "conflicts/air_words.hpp"
#include "conflicts/words.hpp"

#include <fmt/format.h>

#include <map>
#include <string>

namespace ridgeward::conflicts {

namespace {

/// Of the standard winds. An intake on the lee side blows out: of two on opposite sides each draws
/// under about half of the winds, which is as it should be.
constexpr double least_share = 0.4;

/// A vent over several spaces is judged as a whole: short bays at its ends may do as they like.
struct Whole {
  const airflow::Way* way = nullptr;  ///< its first
  airflow::WindRecord record;         ///< summed over its spaces
  std::size_t spaces = 0;
};

std::string measured_words(const Whole& whole) {
  const auto spaces = static_cast<int>(whole.spaces);
  const int winds = whole.record.winds / spaces;
  const std::string words =
      fmt::format("{:.2g} of {} winds", static_cast<double>(whole.record.kept) / spaces, winds);
  return spaces == 1 ? words : words + fmt::format(", as the mean of its {} spaces", spaces);
}

std::vector<Finding> find_intake_seldom_draws(const Roof& roof) {
  std::map<std::string, Whole> intakes;
  for (std::size_t i = 0; i < roof.airflow.winds.size(); ++i) {
    const airflow::Way& way = roof.airflow.openings[i];
    if (way.role != airflow::Role::intake || roof.airflow.winds[i].winds == 0) {
      continue;
    }
    Whole& whole = intakes[way.id];
    whole.way = whole.way == nullptr ? &way : whole.way;
    whole.record.winds += roof.airflow.winds[i].winds;
    whole.record.kept += roof.airflow.winds[i].kept;
    ++whole.spaces;
  }
  std::vector<Finding> found;
  for (const auto& [id, whole] : intakes) {
    if (whole.record.share() >= least_share) {
      continue;
    }
    Finding finding;
    finding.kind = "intake_seldom_draws";
    finding.severity = Severity::note;
    finding.at = whole.way->at;
    finding.plane = plane_of(roof, *whole.way);
    finding.slot = whole.way->slot;
    finding.measured = measured_words(whole);
    finding.needed = "two winds in five or more";
    finding.message = "Intake " + id + " blows out under most winds" + as_modelled + ".";
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
