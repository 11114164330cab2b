#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/length.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace ridgeward::conflicts {

namespace {

/// IRC R806.3.
constexpr double least_m = units::inch_m;

bool is_little(const vents::SlotBay& part) {
  return part.is_judged() && part.least_open_m().value_or(least_m) < least_m - tolerance_m;
}

bool is_at_plate(const vents::SlotBay& part) {
  return part.over_plate_m && *part.over_plate_m <= *part.space_over_insulation_m;
}

/// The heel with which least_m is open over the plate of all those bays: heel x cos(slope) - deck,
/// both of the part whose wall carries the eave.
double heel_for(const Roof& roof, const vents::Slot& slot, const Beneath& some) {
  const double slope_rad = roof.surface.planes[slot.plane].pitch.radians();
  double deck_m = 0.0;
  for (const BayId id : some.bays) {
    deck_m = std::max(deck_m, roof.model.parts[roof.framing.bays[id].wall.part].deck_m);
  }
  return (least_m + deck_m) / std::cos(slope_rad);
}

double least_of(const vents::Slot& slot, const Beneath& some) {
  double least = HUGE_VAL;
  for (const vents::SlotBay& part : slot.bays) {
    if (std::find(some.bays.begin(), some.bays.end(), part.bay) != some.bays.end()) {
      least = std::min(least, part.least_open_m().value_or(HUGE_VAL));
    }
  }
  return std::max(0.0, least);
}

/// What is left may be too little to be shown.
std::string left_words(const Roof& roof, double measured_m) {
  constexpr double shown_m = units::inch_m / 16.0;
  return measured_m > tolerance_m && measured_m < shown_m
             ? "less than " + length_words(roof, 2.0 * shown_m)
             : length_words(roof, measured_m);
}

/// Bays that the plate makes too low are told apart from those that insulation does.
void find_in(const Roof& roof, SlotId id, bool at_plate, std::vector<Finding>& found) {
  const vents::Slot& slot = roof.vents.slots[id];
  // Where a slot is shut in part, what is shut is told by slot_over_blocked_overhang.
  const Beneath some = beneath(roof, slot, [&](const vents::SlotBay& part) {
    const bool is_told = !slot.is_blocked && part.block != vents::Block::none;
    return is_little(part) && !is_told && is_at_plate(part) == at_plate;
  });
  if (some.bays.empty()) {
    return;
  }
  Finding finding = about_slot(roof, id, "little_over_insulation", Severity::warning);
  finding.at = some.at;
  finding.measured = left_words(roof, least_of(slot, some));
  finding.needed =
      "at least " + length_words(roof, least_m) + " (" +
      codes::section_of_room(roof.code == nullptr ? codes::CodeSet() : *roof.code, least_m) + ")";
  const std::string where = over_words(roof, slot, some);
  finding.message =
      at_plate ? "The plate leaves too little air space under the deck where the air of slot " +
                     slot.id + " comes in" + where + ": the heel is too low."
               : "Insulation leaves too little air space under the deck where the air of slot " +
                     slot.id + " comes in" + where + ".";
  finding.remedy = at_plate ? "Measure the heel again: it takes " +
                                  length_up_words(roof, heel_for(roof, slot, some)) +
                                  " of it, or use the upslope position."
                   : where.empty()
                       ? "Set baffles in each bay, or thin the insulation at the plate."
                       : "Set baffles in each of these bays, or thin the insulation there.";
  found.push_back(std::move(finding));
}

std::vector<Finding> find_little_over_insulation(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    find_in(roof, id, false, found);
    find_in(roof, id, true, found);
  }
  return found;
}

}  // namespace

extern const Check little_over_insulation_kind;
const Check little_over_insulation_kind{
    "little_over_insulation",
    "less than one inch under the deck at a slot, over the insulation or the plate",
    find_little_over_insulation};

}  // namespace ridgeward::conflicts
