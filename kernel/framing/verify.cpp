#include "base/polygon.hpp"
#include "framing/stage.hpp"
#include "surface/sheltered.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-7;
/// A plane and its blind decks are found apart and joined where they are within ten micrometres.
constexpr double joined_m = 4e-5;
// Heights up a plane at which its width is summed, as shares; none of them a round figure.
constexpr std::array<double, 7> heights{0.0131, 0.1173, 0.2917, 0.4619, 0.6337, 0.8171, 0.9713};

void check_cover(const surface::Surface& surface, const Framing& framing, PlaneId id,
                 std::vector<std::string>& broken) {
  const surface::Plane& plane = surface.planes[id];
  const PlaneFraming& own = framing.planes[id];
  polygon::Loops whole;
  polygon::Box box;
  for (const surface::Loop& loop : plane.loops) {
    whole.push_back(surface::corners_uv(surface, plane.frame, loop));
  }
  for (const surface::BlindDeck& deck : surface.blind_decks) {
    if (deck.plane == id) {
      whole.insert(whole.end(), deck.outline_uv.begin(), deck.outline_uv.end());
    }
  }
  for (const polygon::Loops& beneath : surface::sheltered_uv(surface, id)) {
    whole.insert(whole.end(), beneath.begin(), beneath.end());
  }
  for (const polygon::Loop& loop : whole) {
    for (const glm::dvec2 p : loop) {
      box.add(p);
    }
  }
  const double margin_m = whole.size() > plane.loops.size() ? joined_m : near_m;
  double widths = 0.0;
  for (const double share : heights) {
    const double v = box.low.y + share * (box.high.y - box.low.y);
    widths = 0.0;
    for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
      widths += polygon::width_at({framing.members[MemberId(i)].outline}, v);
    }
    for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
      widths += polygon::width_at({framing.bays[BayId(i)].outline}, v);
    }
    for (const Opening& opening : framing.openings) {
      widths += opening.plane == id ? polygon::width_at({opening.outline}, v) : 0.0;
    }
    if (std::abs(widths - polygon::width_at(whole, v)) > margin_m * (1.0 + widths)) {
      broken.push_back("members, bays and openings do not cover plane " + plane.id +
                       " once at height " + std::to_string(v) + " m");
      return;
    }
  }
}

void check_order(const surface::Surface& surface, const Framing& framing, PlaneId id,
                 std::vector<std::string>& broken) {
  const PlaneFraming& own = framing.planes[id];
  for (std::uint32_t i = own.first_member + 1; i < own.end_member; ++i) {
    if (framing.members[MemberId(i)].kind != MemberKind::header &&
        framing.members[MemberId(i)].at_m < framing.members[MemberId(i - 1)].at_m) {
      broken.push_back("members out of order on plane " + surface.planes[id].id);
    }
  }
  for (std::uint32_t i = own.first_bay + 1; i < own.end_bay; ++i) {
    if (framing.bays[BayId(i)].from_u_m < framing.bays[BayId(i - 1)].from_u_m) {
      broken.push_back("bays out of order on plane " + surface.planes[id].id);
    }
  }
}

void check_members(const surface::Surface& surface, const Framing& framing,
                   std::vector<std::string>& broken) {
  for (const Member& member : framing.members) {
    const double length = glm::length(member.to - member.from);
    if (std::abs(length - member.length_m) > near_m || member.length_m <= 0.0) {
      broken.push_back("length of " + member.id + " is not the distance of its ends");
    }
    if (member.long_point_m < member.length_m - near_m ||
        member.short_point_m > member.length_m + near_m) {
      broken.push_back("long and short point of " + member.id + " do not enclose its length");
    }
    if (is_truss(member.kind) == member.truss.empty()) {
      broken.push_back(member.id + " is a top chord without a truss, or the other way round");
    }
    if (!member.part_of.is_none() && !framing.members[member.part_of].part_of.is_none()) {
      broken.push_back(member.id + " is part of a part");
    }
    if (member.plane.is_none()) {
      continue;
    }
    const surface::Frame& frame = surface.planes[member.plane].frame;
    for (const glm::dvec3 end : {member.from, member.to}) {
      if (std::abs(glm::dot(frame.normal, end - frame.origin)) > near_m) {
        broken.push_back(member.id + " leaves its plane");
      }
    }
  }
}

}  // namespace

std::vector<std::string> verify(const surface::Surface& surface, const Framing& framing) {
  std::vector<std::string> broken;
  for (const PlaneId id : surface.planes.ids()) {
    if (!surface.planes[id].cricket.empty()) {
      continue;  // stands on the deck, unframed
    }
    check_cover(surface, framing, id, broken);
    check_order(surface, framing, id, broken);
  }
  check_members(surface, framing, broken);
  for (const Bay& bay : framing.bays) {
    if (polygon::area(bay.outline) <= 0.0 || bay.clear_width_m <= 0.0) {
      broken.push_back("bay " + bay.id + " has no area");
    }
  }
  return broken;
}

}  // namespace ridgeward::framing
