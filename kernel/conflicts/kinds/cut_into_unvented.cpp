#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

namespace ridgeward::conflicts {

namespace {

Finding cut_into(const std::string& what, const std::string& ceiling) {
  Finding finding;
  finding.kind = "cut_into_unvented";
  finding.severity = Severity::error;
  finding.measured = "over the unvented ceiling " + ceiling;
  finding.needed = "no opening in an unvented roof";
  finding.message =
      what + " is cut into an unvented roof: foam lies against the deck of " + ceiling + ".";
  finding.remedy = "Leave it out. An unvented roof stays closed; cutting it lets moist air in.";
  return finding;
}

const attic::Sealed* foam_at(const Roof& roof, glm::dvec3 at) {
  const attic::Sealed* sealed = roof.attic.sealed_under({at.x, at.y});
  return sealed != nullptr && sealed->kind == model::CeilingKind::unvented ? sealed : nullptr;
}

/// The ceiling with foam under a bay that lies over one.
const attic::Sealed* foam_along(const Roof& roof, const framing::Bay& bay) {
  const surface::Frame& frame = roof.surface.planes[bay.plane].frame;
  for (const glm::dvec2 corner : bay.outline) {
    const glm::dvec2 middle{0.5 * (bay.from_u_m + bay.to_u_m), corner.y};
    if (const attic::Sealed* sealed = foam_at(roof, frame.at(middle))) {
      return sealed;
    }
  }
  return &roof.attic.sealed.front();
}

/// The bays of a slot tell what it opens onto, over the overhang too.
const attic::Sealed* foam_under(const Roof& roof, const vents::Slot& slot) {
  for (const vents::SlotBay& part : slot.bays) {
    if (roof.attic.bays[part.bay].under == attic::Under::foam) {
      return foam_along(roof, roof.framing.bays[part.bay]);
    }
  }
  return nullptr;
}

std::vector<Finding> find_cut_into_unvented(const Roof& roof) {
  std::vector<Finding> found;
  if (roof.attic.sealed.empty()) {
    return found;
  }
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    if (const attic::Sealed* sealed = foam_under(roof, slot)) {
      found.push_back(cut_into("Slot " + slot.id, sealed->id));
      found.back().at = middle_of(slot);
      found.back().plane = slot.plane;
      found.back().slot = id;
    }
  }
  for (const vents::Exhaust& exhaust : roof.vents.exhausts) {
    const glm::dvec3 middle = 0.5 * (exhaust.from + exhaust.to);
    if (const attic::Sealed* sealed = foam_at(roof, middle)) {
      found.push_back(cut_into("Exhaust " + exhaust.id, sealed->id));
      found.back().at = middle;
      found.back().plane = exhaust.plane;
    }
  }
  return found;
}

}  // namespace

extern const Check cut_into_unvented_kind;
const Check cut_into_unvented_kind{"cut_into_unvented",
                                   "a slot or an exhaust over a ceiling with foam at the deck",
                                   find_cut_into_unvented};

}  // namespace ridgeward::conflicts
