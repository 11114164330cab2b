#include "attic/stage.hpp"

#include "attic/joins.hpp"
#include "attic/throats.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

namespace {

/// Attics for the flat floors.
Faults add_attics(const std::vector<Floor>& floors, Plan& plan, Attic& attic) {
  Faults faults;
  for (const Floor& floor : floors) {
    plan.pieces.emplace_back(floor.space.outline);
    plan.ceilings.emplace_back();
    plan.attics.emplace_back();
    if (floor.kind != model::CeilingKind::flat) {
      if (floor.kind != model::CeilingKind::sloped) {
        attic.sealed.push_back({floor.space.ceiling, floor.kind, floor.space.outline});
      }
      continue;
    }
    if (floor.over_deck_of.has_value()) {
      Space space = floor.space;
      space.is_over_deck = true;
      space.overlaid_part = *floor.over_deck_of;
      measure_over_decks(plan.surface, plan.decks, *floor.over_deck_of, space);
      plan.attics.back() = attic.spaces.push_back(std::move(space));
      continue;
    }
    const Ceilings& ceilings = plan.ceilings.back().emplace(floor.space, plan.model.parts.size());
    const Enclosed inside = enclosed(plan.roof, ceilings);
    if (!inside.is_any) {
      faults.push_back({"ceiling.above_roof", floor.where,
                        "Compartment " + floor.space.id +
                            " has no space: the roof is nowhere above its ceiling.",
                        "Lower the ceiling, or move its outline under the roof."});
    }
    Space space = floor.space;
    if (!space.levels.empty()) {
      space.bottom_m = ceilings.lowest_m();
    }
    space.volume_m3 = inside.volume_m3;
    space.top_m = inside.top_m;
    plan.attics.back() = attic.spaces.push_back(std::move(space));
  }
  return faults;
}

/// Sloped ceilings over which no bay lies.
Faults bare_ceilings(const std::vector<Floor>& floors,
                     const IndexedVector<SpaceId, std::size_t>& floor_of) {
  std::vector<std::uint8_t> is_used(floors.size(), 0);
  for (const std::size_t floor : floor_of) {
    is_used[floor] = 1;
  }
  Faults faults;
  for (std::size_t i = 0; i < floors.size(); ++i) {
    if (floors[i].kind == model::CeilingKind::sloped && is_used[i] == 0) {
      faults.push_back({"ceiling.above_roof", floors[i].where,
                        "No rafter bay lies over the sloped ceiling " + floors[i].space.id + ".",
                        "Move its outline under the roof."});
    }
  }
  return faults;
}

void tell(const Attic& attic, std::vector<std::string>& assumptions) {
  std::size_t rafter_spaces = 0;
  for (const Space& space : attic.spaces) {
    rafter_spaces += space.kind == SpaceKind::rafter_space ? 1 : 0;
  }
  for (const Join& join : attic.joins) {
    if (join.kind == JoinKind::side_by_side && !attic.spaces[join.one].is_over_deck &&
        !attic.spaces[join.other].is_over_deck) {
      assumptions.push_back("Ceilings " + attic.spaces[join.one].id + " and " +
                            attic.spaces[join.other].id +
                            " border each other under the roof with no divider between them: they "
                            "are one attic.");
    }
  }
  if (rafter_spaces > 0) {
    assumptions.emplace_back(
        "Under a sloped ceiling each rafter bay is a space by itself, as deep as the rafter less "
        "the insulation. It opens into the attics that it runs out into, over knee walls and over "
        "collar ties, and goes on past pitch breaks; at hips, valleys, headers and walls it ends "
        "unless the model says otherwise.");
  }
  for (const Sealed& sealed : attic.sealed) {
    assumptions.push_back(sealed.kind == model::CeilingKind::unvented
                              ? "Over the unvented ceiling " + sealed.id +
                                    " no vent is wanted, and its floor asks for no free area."
                              : "The room under the open ceiling " + sealed.id +
                                    " reaches up to the deck: there is no attic to vent over it.");
  }
}

}  // namespace

Result<Attic> divide(const model::RoofModel& model, const surface::Surface& surface,
                     const framing::Framing& framing) {
  Attic attic;
  Result<std::vector<Floor>> whole = floors_of(model, surface, attic.assumptions);
  if (!whole) {
    return whole.faults();
  }
  std::vector<Deck> decks = decks_of(surface);
  for (Floor& floor : floors_over_decks(model, decks)) {
    if (!floor.over_deck_of.has_value()) {
      continue;
    }
    Space probe = floor.space;
    measure_over_decks(surface, decks, *floor.over_deck_of, probe);
    if (probe.volume_m3 > 0.0) {  // else another part stands over all of it
      whole.value().push_back(std::move(floor));
    }
  }
  const Result<std::vector<Floor>> result =
      divided(model, std::move(whole).value(), attic.assumptions);
  if (!result) {
    return result.faults();
  }
  const std::vector<Floor>& floors = result.value();
  Plan plan{model, surface, framing, floors, {}, {}, {}, {}, std::move(decks), {}};
  plan.roof = roof_over_ceilings(surface, plan.decks);
  Faults faults = add_attics(floors, plan, attic);
  for (const polygon::Loops& outline : surface.wall_outlines) {
    plan.walls.emplace_back(outline);
  }
  const IndexedVector<SpaceId, std::size_t> floor_of = place_bays(plan, attic);
  for (Fault& fault : bare_ceilings(floors, floor_of)) {
    faults.push_back(std::move(fault));
  }
  if (!faults.empty()) {
    return faults;
  }
  join_spaces(plan, borders_between(model, surface, floors), floor_of, attic);
  open_plates(plan, attic);
  make_compartments(attic);
  tell(attic, attic.assumptions);
  return attic;
}

std::vector<std::string> verify(const framing::Framing& framing, const Attic& attic) {
  std::vector<std::string> broken;
  if (attic.bays.size() != framing.bays.size()) {
    broken.emplace_back("not every bay has its place");
    return broken;
  }
  for (const Join& join : attic.joins) {
    const Space& one = attic.spaces[join.one];
    const Space& other = attic.spaces[join.other];
    if (join.kind != JoinKind::over_plate && join.is_open && one.compartment != other.compartment) {
      broken.push_back("an open join leads from " + one.id + " out of its compartment");
    }
  }
  for (const CompartmentId id : attic.compartments.ids()) {
    const Compartment& whole = attic.compartments[id];
    double floor_m2 = 0.0;
    for (const SpaceId space : whole.spaces) {
      floor_m2 += attic.spaces[space].floor_area_m2;
      if (attic.spaces[space].compartment != id) {
        broken.push_back("space " + attic.spaces[space].id + " does not know its compartment");
      }
    }
    if (std::abs(floor_m2 - whole.floor_area_m2) > 1e-9 * (1.0 + floor_m2)) {
      broken.push_back("the floors of " + whole.id + " do not sum to its own");
    }
  }
  for (const BayId id : framing.bays.ids()) {
    const BayPlace& place = attic.bays[id];
    if (place.space.is_none() != (place.under != Under::space) || place.why.empty()) {
      broken.push_back("bay " + framing.bays[id].id + " does not say what lies under it");
    }
  }
  return broken;
}

}  // namespace ridgeward::attic
