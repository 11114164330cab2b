#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/length.hpp"

#include <cmath>

namespace ridgeward::conflicts {

namespace {

std::vector<Finding> find_slot_over_plate(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    const double inside_m = slot.lower_line_m - slot.inner_face_m;
    if (slot.position != model::Position::upslope || inside_m >= -tolerance_m || !slot.courses) {
      continue;
    }
    const double rows = std::ceil(-inside_m / slot.courses->exposure_m - 1e-9);
    Finding finding = about_slot(roof, id, "slot_over_plate", Severity::error);
    finding.measured = "lower line " + length_words(roof, slot.lower_line_m) + " up, " +
                       length_words(roof, -inside_m) + " outside the inner face";
    finding.needed = "at or above " + length_words(roof, slot.inner_face_m);
    finding.message = "Slot " + slot.id + " opens over the wall's plate, not into the space.";
    finding.remedy = "Set it " + std::to_string(static_cast<int>(rows)) +
                     (rows == 1.0 ? " row" : " rows") +
                     " of shingles further up: raise the slot's distance above the butt to " +
                     length_words(roof, slot.lower_line_m - slot.courses->faced_row_butt_m +
                                            rows * slot.courses->exposure_m) +
                     ".";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check slot_over_plate_kind;
const Check slot_over_plate_kind{
    "slot_over_plate", "an upslope slot that does not lie inboard of the inner face of the plate",
    find_slot_over_plate};

}  // namespace ridgeward::conflicts
