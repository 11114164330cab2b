#include "base/polygon.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <glm/vec2.hpp>

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

/// A ceiling a hand above the deck there is drawn wrong; less is a matter of heels.
constexpr double least_m = 0.1;

/// How far the ceiling of the space that a slot opens into lies above the deck where the air comes
/// in: at the slot, or over the plate's inner face where the slot lies outside the wall.
double above_deck_m(const Roof& roof, const vents::Slot& slot, const vents::SlotBay& bay) {
  const SpaceId id = roof.attic.bays[bay.bay].space;
  if (id.is_none() || roof.attic.spaces[id].kind != attic::SpaceKind::attic) {
    return 0.0;
  }
  const surface::Plane& plane = roof.surface.planes[slot.plane];
  const framing::Bay& between = roof.framing.bays[bay.bay];
  const double v_m = slot.is_over_overhang ? slot.drip_v_m + slot.inner_face_m : slot.lower_v_m();
  // Where the bay has no ceiling beneath it here, nothing is known.
  const glm::dvec3 deck = plane.frame.at({0.5 * (between.from_u_m + between.to_u_m), v_m});
  const attic::Space& space = roof.attic.spaces[id];
  return polygon::contains(space.outline, glm::dvec2(deck))
             ? space.ceiling_at(glm::dvec2(deck), plane.part) - deck.z
             : 0.0;
}

std::vector<Finding> find_slot_below_ceiling(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    double worst_m = 0.0;
    SpaceId space;
    for (const vents::SlotBay& bay : slot.bays) {
      const double above_m = bay.live ? above_deck_m(roof, slot, bay) : 0.0;
      if (above_m > worst_m) {
        worst_m = above_m;
        space = roof.attic.bays[bay.bay].space;
      }
    }
    if (worst_m <= least_m) {
      continue;
    }
    Finding finding = about_slot(roof, id, "slot_below_ceiling", Severity::error);
    finding.measured = length_words(roof, worst_m) + " from the deck up to the ceiling there";
    finding.needed = "a ceiling below the deck";
    finding.message = "Slot " + slot.id + " lets air in below the ceiling of " +
                      roof.attic.spaces[space].id + ": into the room, not into the attic.";
    finding.remedy =
        "Draw the flat ceiling only where the roof stands above it, and what slopes beside it as a "
        "ceiling of its own.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check slot_below_ceiling_kind;
const Check slot_below_ceiling_kind{
    "slot_below_ceiling", "a slot through which air comes in below the ceiling, into a room",
    find_slot_below_ceiling};

}  // namespace ridgeward::conflicts
