#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

/// Common practice, no source.
constexpr double most = 0.60;

std::vector<Finding> find_intake_share_high(const Roof& roof) {
  std::vector<Finding> found;
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    const vents::CompartmentTotals& totals = roof.vents.totals[id];
    if (totals.exhaust_m2 <= 0.0 || totals.intake_share() <= most + 1e-9) {
      continue;
    }
    // Exhaust that makes the intake at hand just 60 % of both.
    const double more_m2 = totals.intake_m2 * (1.0 - most) / most - totals.exhaust_m2;
    Finding finding;
    finding.kind = "intake_share_high";
    finding.compartment = id;
    finding.severity = Severity::warning;
    finding.at = place_of(roof, id);
    finding.measured = share_words(totals.intake_share());
    finding.needed = "at most " + share_words(most);
    finding.message =
        "Intake of " + roof.attic.compartments[id].id + " is more than its exhaust can use.";
    finding.remedy = "Add " + free_area_up_words(roof, more_m2) + " of exhaust" +
                     to_each(roof, id) + ", or shorten the intake.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check intake_share_high_kind;
const Check intake_share_high_kind{"intake_share_high",
                                   "intake above 60 % of intake and exhaust together",
                                   find_intake_share_high};

}  // namespace ridgeward::conflicts
