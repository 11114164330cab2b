#include "base/polygon.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/length.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

constexpr double near_m = 1e-6;
/// Blocking of ordinary stock, flush with the outer face of the wall: common practice, no source.
constexpr double blocking_m = 1.5 * units::inch_m;

/// How far two stretches overlap.
double common(double from, double to, double other_from, double other_to) {
  return std::min(to, other_to) - std::max(from, other_from);
}

void add_headers(const Roof& roof, SlotId id, std::vector<Finding>& found) {
  const vents::Slot& slot = roof.vents.slots[id];
  const framing::PlaneFraming& own = roof.framing.planes[slot.plane];
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const framing::Member& member = roof.framing.members[MemberId(i)];
    if (member.kind != framing::MemberKind::header || member.outline.empty()) {
      continue;
    }
    const polygon::Box box = polygon::box_of(member.outline);
    const double along = common(slot.start_m, slot.end_m, box.low.x, box.high.x);
    const double over =
        common(slot.lower_v_m(), slot.lower_v_m() + slot.width_m, box.low.y, box.high.y);
    if (along <= near_m || over <= near_m) {
      continue;
    }
    Finding finding = about_slot(roof, id, "slot_over_timber", Severity::error);
    finding.member = MemberId(i);
    finding.measured = length_words(roof, along) + " of it over header " + member.id;
    finding.needed = "no header along the slot";
    finding.message = "Slot " + slot.id + " lies along the header at " + member.opening + ".";
    finding.remedy = "End the slot at the header, or move it " + length_words(roof, over) +
                     " or more along the slope.";
    found.push_back(std::move(finding));
  }
}

void add_blocking(const Roof& roof, SlotId id, std::vector<Finding>& found) {
  const vents::Slot& slot = roof.vents.slots[id];
  const model::Part& part = roof.model.parts[slot.wall_part];
  const double over =
      common(slot.lower_line_m, slot.upper_line_m(), slot.wall_line_m,
             slot.wall_line_m + blocking_m * roof.surface.planes[slot.plane].pitch.slope_factor());
  if (part.framing.blocking == model::Blocking::none || over <= near_m) {
    return;
  }
  Finding finding = about_slot(roof, id, "slot_over_timber", Severity::error);
  finding.measured = length_words(roof, over) + " of its width over the blocking";
  finding.needed = "no blocking along the slot";
  finding.message =
      "Slot " + slot.id + " lies over the wall line, along the blocking between the rafters.";
  finding.remedy = slot.position == model::Position::eave
                       ? "Use the upslope position, or another lower line than " +
                             length_words(roof, slot.lower_line_m) + "."
                       : "Move the slot one row of shingles up.";
  found.push_back(std::move(finding));
}

/// A slot that ends over a doubled rafter ends on timber: the saw runs out over twice the width.
void add_doubled(const Roof& roof, SlotId id, std::vector<Finding>& found) {
  const vents::Slot& slot = roof.vents.slots[id];
  for (const vents::Crossing& crossing : slot.crossings) {
    const framing::Member& member = roof.framing.members[crossing.member];
    const double half_m = 0.5 * member.thickness_m;
    const bool is_at_start = member.at_m - half_m < slot.start_m + near_m;
    const bool is_at_end = member.at_m + half_m > slot.end_m - near_m;
    if (member.kind != framing::MemberKind::trimmer || (!is_at_start && !is_at_end)) {
      continue;
    }
    Finding finding = about_slot(roof, id, "slot_over_timber", Severity::warning);
    finding.member = crossing.member;
    finding.measured = "its end " + length_words(roof, crossing.covered_m) + " over the second ply";
    finding.needed = "ends between rafters";
    finding.message =
        "Slot " + slot.id + " ends over the doubled rafter " + member.id + " beside an opening.";
    finding.remedy = "End the slot " + length_words(roof, crossing.covered_m) +
                     " or more before it, or carry it on beyond both plies.";
    found.push_back(std::move(finding));
  }
}

std::vector<Finding> find_slot_over_timber(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    if (roof.vents.slots[id].kind == model::VentKind::over_deck_intake) {
      add_headers(roof, id, found);
      add_blocking(roof, id, found);
      add_doubled(roof, id, found);
    }
  }
  return found;
}

}  // namespace

extern const Check slot_over_timber_kind;
const Check slot_over_timber_kind{"slot_over_timber",
                                  "a slot over a header, over blocking that lies along it, or one "
                                  "that ends over a doubled rafter",
                                  find_slot_over_timber};

}  // namespace ridgeward::conflicts
