#include "base/segment.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "units/length.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::conflicts {

namespace {

/// From the face of the timber, for a nailing edge beside the slot: common practice, no source.
constexpr double least_m = 1.5 * units::inch_m;

/// Clear distance between a slot and the timber under a line of its plane; negative where the slot
/// lies over the timber.
double clear_m(const Roof& roof, const vents::Slot& slot, const framing::Member& member) {
  const surface::Line& line = roof.surface.lines[member.line];
  const surface::Frame& frame = roof.surface.planes[slot.plane].frame;
  const glm::dvec2 a = frame.uv(roof.surface.nodes[line.from]);
  const glm::dvec2 b = frame.uv(roof.surface.nodes[line.to]);
  double nearest_m = HUGE_VAL;
  for (const glm::dvec2 corner : band_of(slot)) {
    nearest_m = std::min(nearest_m, segment::distance(a, b, corner));
  }
  return nearest_m - 0.5 * member.thickness_m;
}

Finding finding_for(const Roof& roof, SlotId id, MemberId member, double clear_m) {
  const vents::Slot& slot = roof.vents.slots[id];
  const framing::Member& timber = roof.framing.members[member];
  Finding finding = about_slot(roof, id, "slot_near_hip_or_valley",
                               clear_m < 0.0 ? Severity::error : Severity::warning);
  finding.member = member;
  finding.measured = clear_m < 0.0 ? length_words(roof, -clear_m) + " over the timber"
                                   : length_words(roof, clear_m) + " from its face";
  finding.needed = "at least " + length_words(roof, least_m) + " clear of its face";
  finding.message = "Slot " + slot.id +
                    (clear_m < 0.0 ? " cuts over the " : " comes too near the ") +
                    framing::word(timber.kind) + " rafter under " + timber.id + ".";
  finding.remedy = "End the slot " + length_words(roof, least_m - clear_m) +
                   " or more further from it: change from or to of run " + slot.run +
                   ", or the hold-back at hips of " + slot.product + ".";
  return finding;
}

std::vector<Finding> find_slot_near_hip_or_valley(const Roof& roof) {
  std::vector<Finding> found;
  for (const SlotId id : roof.vents.slots.ids()) {
    const vents::Slot& slot = roof.vents.slots[id];
    if (model::is_in_soffit(slot.kind)) {
      continue;
    }
    for (const MemberId m : roof.framing.members.ids()) {
      const framing::Member& member = roof.framing.members[m];
      const bool is_wanted =
          member.kind == framing::MemberKind::hip || member.kind == framing::MemberKind::valley;
      if (!is_wanted || member.line.is_none()) {
        continue;
      }
      const surface::Line& line = roof.surface.lines[member.line];
      if (line.left_plane() != slot.plane && line.right_plane() != slot.plane) {
        continue;
      }
      const double clear = clear_m(roof, slot, member);
      if (clear < least_m - tolerance_m) {
        found.push_back(finding_for(roof, id, m, clear));
      }
    }
  }
  return found;
}

}  // namespace

extern const Check slot_near_hip_or_valley_kind;
const Check slot_near_hip_or_valley_kind{
    "slot_near_hip_or_valley",
    "a slot that crosses or comes too near the timber of a hip or valley",
    find_slot_near_hip_or_valley};

}  // namespace ridgeward::conflicts
