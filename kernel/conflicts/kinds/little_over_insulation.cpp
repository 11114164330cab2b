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

/// The heel with which least_m is open over the plate: heel x cos(slope) - deck, both of the part
/// whose wall carries the eave.
double heel_for(const Roof& roof, const vents::Slot& slot) {
  const double slope_rad = roof.surface.planes[slot.plane].pitch.radians();
  return (least_m + roof.model.parts[slot.wall_part].deck_m) / std::cos(slope_rad);
}

std::vector<Finding> find_little_over_insulation(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    const std::optional<double> open_m = slot.least_open_m();
    if (!open_m || *open_m >= least_m - tolerance_m) {
      continue;
    }
    const double measured_m = std::max(0.0, *open_m);
    const bool is_at_plate =
        slot.over_plate_m && *slot.over_plate_m <= *slot.space_over_insulation_m;
    Finding finding;
    finding.kind = "little_over_insulation";
    finding.severity = Severity::warning;
    finding.at = middle_of(slot);
    finding.plane = slot.plane;
    finding.slot = id;
    // What is left may be too little to be shown.
    constexpr double shown_m = units::inch_m / 16.0;
    finding.measured = measured_m > tolerance_m && measured_m < shown_m
                           ? "less than " + length_words(roof, 2.0 * shown_m)
                           : length_words(roof, measured_m);
    finding.needed =
        "at least " + length_words(roof, least_m) + " (" +
        codes::section_of_room(roof.code == nullptr ? codes::CodeSet() : *roof.code, least_m) + ")";
    finding.message =
        is_at_plate
            ? "The plate leaves too little air space under the deck where the air of slot " +
                  slot.id + " comes in: the heel is too low."
            : "Insulation leaves too little air space under the deck where the air of slot " +
                  slot.id + " comes in.";
    finding.remedy = is_at_plate ? "Measure the heel again: it takes " +
                                       length_up_words(roof, heel_for(roof, slot)) +
                                       " of it, or use the upslope position."
                                 : "Set baffles in each bay, or thin the insulation at the plate.";
    found.push_back(std::move(finding));
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
