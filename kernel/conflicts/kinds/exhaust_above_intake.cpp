#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

std::vector<Finding> find_exhaust_above_intake(const Roof& roof) {
  std::vector<Finding> found;
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    const vents::CompartmentTotals& totals = roof.vents.totals[id];
    if (totals.intake_m2 <= 0.0 || totals.exhaust_m2 <= totals.intake_m2 * (1.0 + tolerance)) {
      continue;
    }
    const double short_of_m2 = totals.exhaust_m2 - totals.intake_m2;
    Finding finding;
    finding.kind = "exhaust_above_intake";
    finding.compartment = id;
    finding.severity = Severity::error;
    finding.at = place_of(roof, id);
    finding.measured = free_area_words(roof, totals.exhaust_m2) + " out, " +
                       free_area_words(roof, totals.intake_m2) + " in";
    finding.needed = "no more out than in";
    finding.message = "More exhaust than intake over " + roof.attic.compartments[id].id +
                      ": it can draw weather in at the exhaust or house air through the ceiling.";
    finding.remedy = "Add " + free_area_up_words(roof, short_of_m2) +
                     " of intake that opens onto live bays" + to_each(roof, id) +
                     ", or shorten the exhaust.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check exhaust_above_intake_kind;
const Check exhaust_above_intake_kind{"exhaust_above_intake",
                                      "more exhaust than intake over one compartment",
                                      find_exhaust_above_intake};

}  // namespace ridgeward::conflicts
