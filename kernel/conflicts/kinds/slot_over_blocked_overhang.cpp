#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

std::vector<Finding> run(const Roof& roof) {
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
    finding.message = "Slot " + slot.id +
                      " opens over the overhang, and solid blocking stands between the rafters.";
    finding.remedy = "Open the blocking bay by bay, or use the upslope position.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check slot_over_blocked_overhang_kind;
const Check slot_over_blocked_overhang_kind{
    "slot_over_blocked_overhang", "a slot over the overhang whose way in over the plate is blocked",
    run};

}  // namespace ridgeward::conflicts
