#include "attic/names.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

/// Intake counts only where it leads to an exhaust, so without exhaust there is none of either.
const char* lacking(bool has_intake, bool has_exhaust) {
  if (has_exhaust) {
    return "no intake that counts";
  }
  return has_intake ? "no exhaust" : "no exhaust, so no intake counts either";
}

std::vector<Finding> find_compartment_without_openings(const Roof& roof) {
  std::vector<Finding> found;
  if (!has_vents(roof)) {
    return found;
  }
  for (const CompartmentId id : roof.attic.compartments.ids()) {
    const vents::CompartmentTotals& totals = roof.vents.totals[id];
    const bool has_intake = totals.intake_m2 > 0.0;
    const bool has_exhaust = totals.exhaust_m2 > 0.0;
    if ((has_intake && has_exhaust) || roof.attic.compartments[id].floor_area_m2 <= 0.0) {
      continue;
    }
    Finding finding;
    finding.kind = "compartment_without_openings";
    finding.compartment = id;
    finding.severity = Severity::error;
    finding.at = place_of(roof, id);
    finding.measured = free_area_words(roof, totals.intake_m2) + " in, " +
                       free_area_words(roof, totals.exhaust_m2) + " out";
    finding.needed = "intake and exhaust";
    const attic::Compartment& space = roof.attic.compartments[id];
    const std::string lack = lacking(has_intake, has_exhaust);
    finding.message = space.is_rafter_space ? "In " + space.id + " there is " + lack + "."
                                            : "Compartment " + space.id + " has " + lack + ".";
    const std::string border = has_intake
                                   ? std::string()
                                   : attic::border_cure(roof.surface, roof.framing, roof.attic, id,
                                                        units::style_of(roof.model.unit));
    finding.remedy = !border.empty()             ? border
                     : has_intake || has_exhaust ? "Add the side that is missing."
                                                 : "Add intake low down and exhaust high up.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check compartment_without_openings_kind;
const Check compartment_without_openings_kind{
    "compartment_without_openings",
    "a compartment with floor area that lacks intake, exhaust or both",
    find_compartment_without_openings};

}  // namespace ridgeward::conflicts
