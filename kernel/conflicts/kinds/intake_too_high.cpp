#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

/// The compartment of which a slot opens onto live bays; none when onto none.
CompartmentId served_by(const Roof& roof, const vents::Slot& slot) {
  for (const vents::SlotBay& part : slot.bays) {
    if (part.live) {
      return roof.attic.bays[part.bay].compartment;
    }
  }
  return {};
}

std::vector<Finding> find_intake_too_high(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    const CompartmentId space = served_by(roof, slot);
    const codes::Test* test =
        space.is_none() ? nullptr : failing(roof, space, codes::Measure::intake_height_share);
    if (test == nullptr || !test->bounds.most) {
      continue;
    }
    const attic::Compartment& compartment = roof.attic.compartments[space];
    const double height_m = compartment.top_m - compartment.bottom_m;
    const double most_m = compartment.bottom_m + *test->bounds.most * height_m;
    const double over_m = codes::top_of(roof.surface, slot) - most_m;
    if (over_m <= tolerance_m) {
      continue;
    }
    Finding finding = about_slot(roof, id, "intake_too_high", weight_of(roof, *test));
    finding.measured = length_words(roof, most_m + over_m - compartment.bottom_m) +
                       " above the ceiling, in a space " + length_words(roof, height_m) + " high";
    finding.needed =
        "at most " + length_words(roof, most_m - compartment.bottom_m) + " (" + test->section + ")";
    finding.message = "Slot " + slot.id + " lies above the part of " + compartment.id +
                      " in which the code counts lower openings.";
    finding.remedy =
        slot.position == model::Position::upslope
            ? "Use the eave position, or set the slot " + length_words(roof, over_m) + " lower."
            : "Set the intake at an eave that is " + length_words(roof, over_m) + " lower or more.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check intake_too_high_kind;
const Check intake_too_high_kind{"intake_too_high",
                                 "an intake above the part of the space that the code asks for",
                                 find_intake_too_high};

}  // namespace ridgeward::conflicts
