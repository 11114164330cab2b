#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <array>

namespace ridgeward::conflicts {

namespace {

/// What stands in the way, and what to do about it.
struct Words {
  const char* message;
  const char* remedy;
};

Words words_for(const vents::Slot& slot, vents::Block block) {
  switch (block) {
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

constexpr std::array<vents::Block, 4> all_blocks{vents::Block::blocking, vents::Block::insulation,
                                                 vents::Block::plate, vents::Block::closed_soffit};

/// A slot of which something still counts is no error: it is cut too far.
void find_in(const Roof& roof, SlotId id, vents::Block block, std::vector<Finding>& found) {
  const vents::Slot& slot = roof.vents.slots[id];
  const Beneath some =
      beneath(roof, slot, [&](const vents::SlotBay& part) { return part.block == block; });
  const bool is_bare = slot.bays.empty() && slot.block == block;
  if (some.bays.empty() && !is_bare) {
    return;
  }
  Finding finding = about_slot(roof, id, "slot_over_blocked_overhang",
                               slot.is_blocked ? Severity::error : Severity::warning);
  finding.at = some.at;
  finding.measured = "upper line " + length_words(roof, slot.upper_line_m()) +
                     " up the slope, wall line at " + length_words(roof, slot.wall_line_m);
  finding.needed = "an open way over the plate";
  const Words words = words_for(slot, block);
  const std::string where = over_words(roof, slot, some);
  finding.message = "Slot " + slot.id + where + (where.empty() ? "" : ",") + words.message;
  finding.remedy = std::string(words.remedy) +
                   (where.empty() ? "" : " Or end the slot at the last bay that is open.");
  found.push_back(std::move(finding));
}

std::vector<Finding> find_slot_over_blocked_overhang(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    for (const vents::Block block : all_blocks) {
      find_in(roof, id, block, found);
    }
  }
  return found;
}

}  // namespace

extern const Check slot_over_blocked_overhang_kind;
const Check slot_over_blocked_overhang_kind{
    "slot_over_blocked_overhang", "a slot over the overhang whose way in over the plate is blocked",
    find_slot_over_blocked_overhang};

}  // namespace ridgeward::conflicts
