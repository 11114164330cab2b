#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

/// What stands in the way, and what to do about it.
struct Words {
  const char* message;
  const char* remedy;
};

Words words_for(const vents::Slot& slot) {
  switch (slot.block) {
    case vents::Block::insulation:
      return {" opens over the overhang, and insulation fills the heel up to the deck.",
              "Set baffles in each bay, thin the insulation at the plate, or use the upslope "
              "position."};
    case vents::Block::plate:
      return {" opens over the overhang, and the heel is so low that the deck lies on the plate.",
              "Measure the heel again, or use the upslope position."};
    case vents::Block::closed_soffit:
      return {" lies in a soffit that is closed, or under an eave without one.",
              "Open the soffit and give it as vented, or use an over-deck intake."};
    case vents::Block::blocking:
    case vents::Block::none:
      break;
  }
  return model::is_in_soffit(slot.kind)
             ? Words{" opens into the overhang, and solid blocking stands between the rafters.",
                     "Open the blocking bay by bay, or use an over-deck intake in the upslope "
                     "position."}
             : Words{" opens over the overhang, and solid blocking stands between the rafters.",
                     "Open the blocking bay by bay, or use the upslope position."};
}

std::vector<Finding> find_slot_over_blocked_overhang(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    if (!slot.is_blocked) {
      continue;
    }
    const double upper_m = slot.lower_line_m + slot.width_m;
    Finding finding;
    finding.kind = "slot_over_blocked_overhang";
    finding.severity = Severity::error;
    finding.at = middle_of(slot);
    finding.plane = slot.plane;
    finding.slot = id;
    finding.measured = "upper line " + length_words(roof, upper_m) +
                       " up the slope, wall line at " + length_words(roof, slot.wall_line_m);
    finding.needed = "an open way over the plate";
    const Words words = words_for(slot);
    finding.message = "Slot " + slot.id + words.message;
    finding.remedy = words.remedy;
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check slot_over_blocked_overhang_kind;
const Check slot_over_blocked_overhang_kind{
    "slot_over_blocked_overhang", "a slot over the overhang whose way in over the plate is blocked",
    find_slot_over_blocked_overhang};

}  // namespace ridgeward::conflicts
