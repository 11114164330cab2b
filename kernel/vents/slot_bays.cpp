#include "attic/stage.hpp"
#include "base/polygon.hpp"
#include "framing/rafter_centres.hpp"
#include "vents/pieces.hpp"
#include "vents/shared_bays.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-9;
/// At the slot itself an inch (R806.3) lets through what the slot gives.
constexpr double full_throat_m = units::inch_m;

/// A stretch along the eave.
struct Span {
  double from_m = 0.0;
  double to_m = 0.0;
  double length() const { return to_m - from_m; }
};

Span common(const Slot& slot, double from_m, double to_m) {
  return {std::max(slot.start_m, from_m), std::min(slot.end_m, to_m)};
}

/// How much of the slot lies over an outline, at the slot's middle line. The band is whole on the
/// plane there, and rafters stand upright across it, so one line tells all of it. A bay that
/// reaches around the end of a rafter lies under the slot twice.
double under_slot_m(const std::vector<glm::dvec2>& outline, const Slot& slot) {
  double sum = 0.0;
  for (const polygon::Chord& chord :
       polygon::chords_at({outline}, slot.lower_v_m() + 0.5 * slot.width_m)) {
    sum += std::max(0.0, common(slot, chord.from, chord.to).length());
  }
  return sum;
}

/// Cheap: whether the extents along the eave meet at all.
bool may_meet(const Slot& slot, const std::vector<glm::dvec2>& outline) {
  const polygon::Box box = polygon::box_of(outline);
  return box.low.x < slot.end_m && box.high.x > slot.start_m;
}

/// From the middle of the rafter on the left to the middle of the one on the right.
Span share_of(const framing::Framing& framing, const framing::Bay& bay, const Slot& slot) {
  const framing::Centres rafters = framing::centres_beside(framing, bay);
  return common(slot, rafters.left_m, rafters.right_m);
}

/// The wall that carries a bay; the slot's own where the bay starts from no eave.
surface::WallLine wall_under(const Site& site, const Slot& slot, const framing::Bay& bay) {
  const bool is_from_eave =
      !bay.foot.is_none() && site.surface.lines[bay.foot].kind == surface::LineKind::eave;
  return is_from_eave ? bay.wall
                      : surface::WallLine{slot.drip_v_m + slot.wall_line_m, slot.wall_part};
}

/// Clear between insulation and deck, square to the deck, where the air of the slot comes into the
/// bay.
std::optional<double> space_over_insulation(const Site& site, const Slot& slot, BayId id) {
  const framing::Bay& bay = site.framing.bays[id];
  const surface::WallLine wall = wall_under(site, slot, bay);
  const double inner_v = slot.is_over_break
                             ? slot.lower_v_m()
                             : wall.v_m + site.model.parts[wall.part].wall_thickness_m *
                                              site.surface.planes[slot.plane].pitch.slope_factor();
  const double v = std::max(slot.lower_v_m(), inner_v);
  const SpaceId space = site.attic.bays[id].space;
  if (space.is_none()) {
    return std::nullopt;
  }
  const Span over = common(slot, bay.from_u_m, bay.to_u_m);
  return attic::clear_over_insulation_m(site.model, site.surface.planes[slot.plane],
                                        site.attic.spaces[space],
                                        {0.5 * (over.from_m + over.to_m), v});
}

/// Heel x cos(slope) - deck, of the part whose wall it is.
std::optional<double> over_plate(const Site& site, const Slot& slot, const framing::Bay& bay) {
  const model::Part& part = site.model.parts[wall_under(site, slot, bay).part];
  if (!slot.is_over_overhang || part.heel_m <= 0.0) {
    return std::nullopt;
  }
  const double cosine = std::cos(site.surface.planes[slot.plane].pitch.radians());
  return std::max(0.0, part.heel_m * cosine - part.deck_m);
}

/// What counts of a bay after the throat: of a slot over the overhang no more than the bay lets
/// through over the plate, throat x clear width. None where that is shut.
void narrow_to_throat(const Site& site, const Slot& slot, SlotBay& part) {
  const framing::Bay& bay = site.framing.bays[part.bay];
  const std::optional<double>& throat_m = site.attic.bays[part.bay].throat_m;
  part.space_over_insulation_m = space_over_insulation(site, slot, part.bay);
  if (!part.space_over_insulation_m) {
    return;
  }
  part.over_plate_m = over_plate(site, slot, bay);
  if (slot.is_over_overhang && throat_m) {
    part.free_area_m2 = std::min(part.free_area_m2, *throat_m * bay.clear_width_m);
  }
  const double open_m = *part.least_open_m();
  if (open_m < full_throat_m - near_m) {
    part.free_area_m2 = std::min(part.free_area_m2, std::max(0.0, open_m) * part.open_length_m);
  }
  if (open_m <= near_m && slot.is_over_overhang && part.live) {
    part.block = *part.space_over_insulation_m <= near_m ? Block::insulation : Block::plate;
    part.live = false;
  }
}

/// What keeps a bay's air out before insulation or plate could.
Block block_before(const Site& site, const Slot& slot, const framing::Bay& bay) {
  const bool is_solid =
      site.model.parts[wall_under(site, slot, bay).part].framing.blocking == model::Blocking::solid;
  return slot.block == Block::none && slot.is_over_overhang && is_solid ? Block::blocking
                                                                        : slot.block;
}

void keep_least(const std::optional<double>& value, std::optional<double>& least) {
  least = value && least ? std::min(*value, *least) : (value ? value : least);
}

/// What the slot is as a whole, from its bays.
void sum_up(const Site& site, const Vents& vents, Slot& slot) {
  const bool leads_out = std::any_of(slot.bays.begin(), slot.bays.end(), [&](const SlotBay& part) {
    return vents.bays[part.bay].live;
  });
  bool is_any_open = false;
  Block first_block = Block::none;
  const SlotBay* first = nullptr;
  for (const SlotBay& part : slot.bays) {
    slot.free_area_m2 += part.live ? part.free_area_m2 : 0.0;
    const bool is_asked = vents.bays[part.bay].live || !leads_out;
    is_any_open = is_any_open || (is_asked && part.block == Block::none);
    first_block = is_asked && first_block == Block::none ? part.block : first_block;
    if (part.is_judged()) {
      keep_least(part.space_over_insulation_m, slot.space_over_insulation_m);
      keep_least(part.over_plate_m, slot.over_plate_m);
      first = first == nullptr || (part.live && !first->live) ? &part : first;
    }
  }
  if (first != nullptr) {
    slot.compartment = site.attic.bays[first->bay].compartment;
  }
  if (!slot.bays.empty()) {
    slot.block = is_any_open ? Block::none : first_block;
    slot.is_blocked = slot.block != Block::none;
  }
}

std::optional<double> lesser(const std::optional<double>& over_plate_m,
                             const std::optional<double>& over_insulation_m) {
  return over_plate_m && over_insulation_m ? std::min(*over_plate_m, *over_insulation_m)
                                           : over_insulation_m;
}

}  // namespace

std::optional<double> SlotBay::least_open_m() const {
  return lesser(over_plate_m, space_over_insulation_m);
}

bool SlotBay::is_judged() const {
  return live || block == Block::insulation || block == Block::plate;
}

std::optional<double> Slot::least_open_m() const {
  return lesser(over_plate_m, space_over_insulation_m);
}

double free_area_per_length_m(const model::Product& product) {
  return product.kind == model::VentKind::soffit_piece
             ? product.free_area_each_m2 / product.length_m
             : product.free_area_per_length_m;
}

void open_slot(const Site& site, const model::Product& product, const Vents& vents, Slot& slot) {
  const framing::PlaneFraming& own = site.framing.planes[slot.plane];
  for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
    const framing::Bay& bay = site.framing.bays[BayId(i)];
    const double open_m = may_meet(slot, bay.outline) ? under_slot_m(bay.outline, slot) : 0.0;
    if (open_m <= near_m) {
      continue;
    }
    SlotBay part;
    part.bay = BayId(i);
    part.open_length_m = open_m;
    part.share_m = std::max(share_of(site.framing, bay, slot).length(), part.open_length_m);
    part.block = block_before(site, slot, bay);
    part.live = vents.bays[part.bay].live && part.block == Block::none;
    part.free_area_m2 = free_area_per_length_m(product) * part.share_m;
    if (!model::is_in_soffit(slot.kind)) {
      part.free_area_m2 = std::min(part.free_area_m2, slot.width_m * part.open_length_m);
    }
    narrow_to_throat(site, slot, part);
    slot.bays.push_back(part);
  }
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const framing::Member& member = site.framing.members[MemberId(i)];
    const double under_m =
        may_meet(slot, member.outline) ? under_slot_m(member.outline, slot) : 0.0;
    if (under_m > near_m) {
      slot.crossings.push_back({MemberId(i), member.at_m - slot.start_m, under_m});
    }
  }
  sum_up(site, vents, slot);
}

IndexedVector<BayId, double> over_overhang_m2(const framing::Framing& framing, const Vents& vents) {
  IndexedVector<BayId, double> sums(framing.bays.size());
  for (const Slot& slot : vents.slots) {
    for (const SlotBay& part : slot.bays) {
      sums[part.bay] += slot.is_over_overhang && part.live ? part.free_area_m2 : 0.0;
    }
  }
  return sums;
}

IndexedVector<BayId, double> held_back_m2(const framing::Framing& framing,
                                          const attic::Attic& attic, const Vents& vents) {
  constexpr double least_m2 = 1e-9;
  IndexedVector<BayId, double> held = over_overhang_m2(framing, vents);
  for (const BayId id : held.ids()) {
    if (held[id] <= 0.0) {
      continue;
    }
    const std::optional<double>& throat_m = attic.bays[id].throat_m;
    const double more_m2 = throat_m ? held[id] - *throat_m * framing.bays[id].clear_width_m : 0.0;
    held[id] = more_m2 > least_m2 ? more_m2 : 0.0;
  }
  return held;
}

}  // namespace ridgeward::vents
