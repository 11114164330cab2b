#include "attic/names.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

/// Dead bays that follow each other for one reason.
struct Group {
  std::vector<BayId> bays;
  std::string why;
};

struct Dead {
  double length_m = 0.0;
  double open_m = 0.0;
  bool is_all = true;
  std::vector<Group> groups;
};

std::string words_of(const Roof& roof, const Dead& dead) {
  std::string words;
  for (const Group& group : dead.groups) {
    words += (words.empty() ? "" : "; ") + attic::names_of_bays(roof.framing, group.bays) + " (" +
             group.why + ")";
  }
  return words;
}

Dead dead_of(const Roof& roof, const vents::Slot& slot) {
  Dead dead;
  for (const vents::SlotBay& part : slot.bays) {
    dead.open_m += part.open_length_m;
    if (roof.vents.bays[part.bay].live) {
      dead.is_all = false;
      continue;
    }
    dead.length_m += part.open_length_m;
    const std::string& why = roof.vents.bays[part.bay].why;
    if (dead.groups.empty() || dead.groups.back().why != why) {
      dead.groups.push_back({{}, why});
    }
    dead.groups.back().bays.push_back(part.bay);
  }
  return dead;
}

std::vector<Finding> find_dead_bay_slot(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    const Dead dead = dead_of(roof, slot);
    if (slot.is_blocked || dead.length_m <= 0.0) {
      continue;
    }
    Finding finding;
    finding.kind = "dead_bay_slot";
    finding.severity = dead.is_all ? Severity::error : Severity::warning;
    finding.at = middle_of(slot);
    finding.plane = slot.plane;
    finding.slot = id;
    finding.measured = length_words(roof, dead.length_m) + " of " +
                       length_words(roof, dead.open_m) + " opens onto dead bays";
    finding.needed = "live bays only";
    finding.message = "Slot " + slot.id + " opens onto " + words_of(roof, dead) + ".";
    finding.remedy = dead.is_all ? "Leave this slot out, or give its bays a way to an exhaust."
                                 : "End the slot at the last live bay, or give these bays a way to "
                                   "an exhaust.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check dead_bay_slot_kind;
const Check dead_bay_slot_kind{"dead_bay_slot",
                               "a slot that opens onto bays from which no air reaches an exhaust",
                               find_dead_bay_slot};

}  // namespace ridgeward::conflicts
