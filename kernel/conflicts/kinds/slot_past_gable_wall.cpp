#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "framing/stage.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

/// One slot end at one gable-end wall: how far inside the wall's outer face the slot ends.
Finding finding_for(const Roof& roof, SlotId id, double inside_m, double needed_m) {
  const vents::Slot& slot = roof.vents.slots[id];
  const model::Part& part = roof.model.parts[roof.surface.planes[slot.plane].part];
  const bool is_past = inside_m < 0.0;
  Finding finding =
      about_slot(roof, id, "slot_past_gable_wall", is_past ? Severity::error : Severity::warning);
  finding.measured = is_past ? length_words(roof, -inside_m) + " past the gable-end wall"
                             : length_words(roof, inside_m) + " inside the gable-end wall";
  finding.needed = "at least " + length_words(roof, needed_m) + " inside it";
  finding.message =
      "Slot " + slot.id +
      (!is_past                ? " lies over the end rafter on the gable-end wall."
       : part.framing.lookouts ? " runs past the gable-end wall, where lookouts carry the deck."
                               : " runs past the gable-end wall, where no attic lies beneath.");
  finding.remedy = "End run " + slot.run + " " + length_words(roof, needed_m - inside_m) +
                   " or more further in, or give " + slot.product +
                   " a hold-back from gable-end walls (common practice: 6 in).";
  return finding;
}

std::vector<Finding> find_slot_past_gable_wall(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    if (model::is_in_soffit(slot.kind)) {
      continue;
    }
    const surface::Plane& plane = roof.surface.planes[slot.plane];
    const double middle_v = slot.lower_v_m() + 0.5 * slot.width_m;
    const double needed_m =
        framing::stock_named(roof.model.parts[plane.part].framing.rafter).thickness_m;
    for (const framing::GableEnd& end : framing::gable_ends(roof.model, roof.surface, plane)) {
      // Only the end that this slot comes to: a plane may end at several walls, one behind another.
      const bool is_beside = middle_v > end.low_v_m && middle_v < end.high_v_m;
      const bool comes_to_it =
          end.is_on_right
              ? slot.end_m > end.wall_u_m - 2.0 * needed_m && slot.start_m < end.rake_u_m
              : slot.start_m < end.wall_u_m + 2.0 * needed_m && slot.end_m > end.rake_u_m;
      const double inside_m =
          end.is_on_right ? end.wall_u_m - slot.end_m : slot.start_m - end.wall_u_m;
      if (is_beside && comes_to_it && inside_m < needed_m - tolerance_m) {
        found.push_back(finding_for(roof, id, inside_m, needed_m));
      }
    }
  }
  return found;
}

}  // namespace

extern const Check slot_past_gable_wall_kind;
const Check slot_past_gable_wall_kind{
    "slot_past_gable_wall",
    "a slot that runs past a gable-end wall onto its lookouts, or over its end rafter",
    find_slot_past_gable_wall};

}  // namespace ridgeward::conflicts
