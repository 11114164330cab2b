#include "base/polygon.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/length.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

constexpr double just_below_m = 1e-5;

/// How much of a slot's length has the plane under it at a height.
double covered_m(const polygon::Loops& border, const vents::Slot& slot, double v_m) {
  double sum = 0.0;
  for (const polygon::Chord& chord : polygon::chords_at(border, v_m)) {
    sum += std::max(0.0, std::min(chord.to, slot.end_m) - std::max(chord.from, slot.start_m));
  }
  return sum;
}

/// How far up the plane the slot's whole length still has plane under it, but for what the strip's
/// ends are cut off along hips and valleys. By halving between the slot and the strip's edge.
double room_m(const polygon::Loops& border, const vents::Slot& slot, double least_m,
              double upper_v_m) {
  double low = slot.lower_v_m() + slot.width_m;
  double high = upper_v_m;
  for (int i = 0; i < 30; ++i) {
    const double middle = 0.5 * (low + high);
    (covered_m(border, slot, middle - just_below_m) < least_m ? high : low) = middle;
  }
  return low - slot.drip_v_m;
}

std::vector<Finding> find_vent_past_plane(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    const model::Product* product = product_of(roof, slot.product);
    if (product == nullptr || model::is_in_soffit(slot.kind) || product->depth_m <= 0.0) {
      continue;
    }
    const surface::Plane& plane = roof.surface.planes[slot.plane];
    polygon::Loops border;
    for (const surface::Loop& loop : plane.loops) {
      border.push_back(surface::corners_uv(roof.surface, plane.frame, loop));
    }
    const double upper_m = slot.vent_low_m + product->depth_m;
    const double cut_off_m = (slot.left_mitre ? slot.left_mitre->offset_m : 0.0) +
                             (slot.right_mitre ? slot.right_mitre->offset_m : 0.0);
    const double least_m = slot.end_m - slot.start_m - cut_off_m - tolerance_m;
    if (covered_m(border, slot, slot.drip_v_m + upper_m - just_below_m) >= least_m) {
      continue;
    }
    const double there_m = room_m(border, slot, least_m, slot.drip_v_m + upper_m);
    found.push_back(about_slot(roof, id, "vent_past_plane", Severity::error));
    Finding& finding = found.back();
    finding.measured = "upper edge " + length_words(roof, upper_m) + " up the slope, the plane " +
                       length_words(roof, there_m);
    finding.needed = "at most " + length_words(roof, there_m);
    finding.message = "The vent over slot " + slot.id + " does not fit on plane " + plane.id +
                      ": it reaches past the plane's upper end.";
    const double deep_m = there_m - slot.vent_low_m;
    // Rounded down.
    finding.remedy = "Use a vent no deeper than " +
                     length_up_words(roof, deep_m - 0.999 * units::inch_m / 8.0) +
                     (serves_at_eave(roof, slot, there_m) ? ", or the eave position."
                                                          : ", or leave the run out.");
  }
  return found;
}

}  // namespace

extern const Check vent_past_plane_kind;
const Check vent_past_plane_kind{"vent_past_plane",
                                 "a strip of vent that reaches past the upper end of its plane",
                                 find_vent_past_plane};

}  // namespace ridgeward::conflicts
