#include "attic/space.hpp"
#include "base/polygon.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

constexpr double near_m = 1e-6;

/// Length of a slot over decks that its part is laid on, and the first of them.
struct Blind {
  double length_m = 0.0;
  double open_m = 0.0;
  const surface::BlindDeck* deck = nullptr;
};

bool holds(const surface::BlindDeck& deck, const std::vector<std::vector<glm::dvec2>>& loops,
           glm::dvec2 plan) {
  return polygon::contains(surface::plan_of(deck.frame, loops), plan);
}

Blind blind_under(const Roof& roof, const vents::Slot& slot) {
  Blind blind;
  const surface::Plane& plane = roof.surface.planes[slot.plane];
  for (const vents::SlotBay& part : slot.bays) {
    const framing::Bay& bay = roof.framing.bays[part.bay];
    blind.open_m += part.open_length_m;
    const double u =
        0.5 * (std::max(slot.start_m, bay.from_u_m) + std::min(slot.end_m, bay.to_u_m));
    const glm::dvec2 plan{plane.frame.at({u, slot.lower_v_m() + 0.5 * slot.width_m})};
    for (const surface::BlindDeck& deck : roof.surface.blind_decks) {
      if (deck.part == plane.part && deck.cricket.empty() && holds(deck, deck.outline_uv, plan) &&
          !holds(deck, deck.openings_uv, plan)) {
        blind.length_m += part.open_length_m;
        blind.deck = &deck;
        break;
      }
    }
  }
  return blind;
}

std::vector<Finding> find_slot_onto_blind_deck(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    const Blind blind = blind_under(roof, slot);
    if (blind.length_m <= near_m || blind.deck == nullptr) {
      continue;
    }
    const std::string beneath = blind.deck->plane.is_none()
                                    ? std::string("an earlier roof")
                                    : "plane " + roof.surface.planes[blind.deck->plane].id;
    Finding finding =
        about_slot(roof, id, "slot_onto_blind_deck",
                   blind.length_m >= blind.open_m - near_m ? Severity::error : Severity::warning);
    finding.measured = length_words(roof, blind.length_m) + " of " +
                       length_words(roof, blind.open_m) + " over the deck of " + beneath;
    finding.needed = "an open way into the attic beneath";
    finding.message = "Slot " + slot.id + " opens onto the old deck of " + beneath +
                      ", over which " + roof.model.parts[blind.deck->part].id + " is laid.";
    finding.remedy =
        "Cut an opening in that deck under the slot and give it in the model, or move "
        "the slot off it.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check slot_onto_blind_deck_kind;
const Check slot_onto_blind_deck_kind{"slot_onto_blind_deck",
                                      "a slot that opens onto the deck beneath an overlaid part",
                                      find_slot_onto_blind_deck};

}  // namespace ridgeward::conflicts
