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

/// Whether the eave position can be had and lies low enough.
bool eave_is_low_enough(const Roof& roof, const vents::Slot& slot, double most_m) {
  const model::Product* product = product_of(roof, slot.product);
  const surface::Plane& plane = roof.surface.planes[slot.plane];
  return serves_at_eave(roof, slot) &&
         plane.frame
                 .at({slot.start_m,
                      slot.drip_v_m + product->slot.lower_line_m + product->slot.width_m})
                 .z <= most_m + tolerance_m;
}

/// Slots are marked along the slope, so a slot's way down is told along it as well as plumb.
std::string remedy(const Roof& roof, const vents::Slot& slot, double most_m, double over_m) {
  const std::string plumb = length_up_words(roof, over_m);
  std::string lower =
      "Set the intake at an eave that is " + plumb + " lower or more, measured plumb.";
  if (slot.position != model::Position::upslope) {
    return lower;
  }
  if (slot.is_over_break) {
    return "Use an eave of the slope below the pitch break: this slope begins too high.";
  }
  const double along_m = over_m / roof.surface.planes[slot.plane].frame.up.z;
  const std::string down =
      "et the slot " + length_up_words(roof, along_m) + " down the slope (" + plumb + " plumb).";
  const bool stays_inside = slot.lower_line_m - along_m >= slot.inner_face_m - tolerance_m;
  if (eave_is_low_enough(roof, slot, most_m)) {
    return stays_inside ? "Use the eave position, or s" + down : "Use the eave position.";
  }
  return stays_inside ? "S" + down : "No slot inside the wall is low enough here. " + lower;
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
    finding.remedy = remedy(roof, slot, most_m, over_m);
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
