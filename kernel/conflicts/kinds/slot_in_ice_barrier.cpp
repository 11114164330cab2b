#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

std::vector<Finding> find_slot_in_ice_barrier(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    // In the eave position the barrier is laid over the vent.
    if (slot.position != model::Position::upslope ||
        slot.lower_line_m >= slot.ice_barrier_m - tolerance_m) {
      continue;
    }
    Finding finding = about_slot(roof, id, "slot_in_ice_barrier", Severity::warning);
    finding.measured = "slot from " + length_words(roof, slot.lower_line_m) + " to " +
                       length_words(roof, slot.upper_line_m()) + " up the slope";
    finding.needed = "above " + length_words(roof, slot.ice_barrier_m) + ", the barrier's reach" +
                     section_words(roof, &codes::CodeSet::Sections::ice_barrier);
    finding.message = "Slot " + slot.id + " cuts the ice barrier that this climate asks for.";
    finding.remedy =
        "Use the eave position, where the barrier goes over the vent; or ask the "
        "building official, and carry the barrier on above the vent to " +
        length_words(roof, slot.ice_barrier_m) + ".";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check slot_in_ice_barrier_kind;
const Check slot_in_ice_barrier_kind{
    "slot_in_ice_barrier", "an upslope slot that cuts the ice barrier", find_slot_in_ice_barrier};

}  // namespace ridgeward::conflicts
