#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/length.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

/// IRC R806.3.
constexpr double least_m = units::inch_m;

std::vector<Finding> find_little_over_insulation(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    if (!slot.space_over_insulation_m || *slot.space_over_insulation_m >= least_m - tolerance_m) {
      continue;
    }
    const double measured_m = std::max(0.0, *slot.space_over_insulation_m);
    Finding finding;
    finding.kind = "little_over_insulation";
    finding.severity = Severity::warning;
    finding.at = middle_of(slot);
    finding.plane = slot.plane;
    finding.slot = id;
    finding.measured = length_words(roof, measured_m);
    finding.needed = "at least " + length_words(roof, least_m) + " (R806.3)";
    finding.message =
        "Insulation leaves too little air space under the deck where the air of slot " + slot.id +
        " comes in.";
    finding.remedy = "Set baffles in each bay, or thin the insulation at the plate.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check little_over_insulation_kind;
const Check little_over_insulation_kind{"little_over_insulation",
                                        "less than one inch between insulation and deck at a slot",
                                        find_little_over_insulation};

}  // namespace ridgeward::conflicts
