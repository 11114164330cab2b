#include "scene/from_assessment.hpp"
#include "scene/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::scene {
namespace {

/// How far the top of a timber lies under its line, plumb for level timbers and square for others.
double deck_over(const Assessment& assessment, const framing::Member& member) {
  if (member.lie == framing::Lie::free) {
    return 0.0;
  }
  const double deck_m = deck_of(assessment, member.part);
  if (member.plane.is_none() || std::abs(member.to.z - member.from.z) > 1e-9) {
    return deck_m;
  }
  // A header, a lookout or a block lies across the slope: plumb, and its lower face under the deck
  // too.
  const double slope_rad = assessment.surface.planes[member.plane].pitch.radians();
  return (deck_m + 0.5 * member.thickness_m * std::sin(slope_rad)) / std::cos(slope_rad);
}

/// A timber with plumb ends whose top follows the underside of the deck.
void add_timber(const framing::Member& member, double deck_m, Scene& scene) {
  const glm::dvec3 axis = member.to - member.from;
  const double length = glm::length(axis);
  const double run = std::hypot(axis.x, axis.y);
  if (length <= 0 || run <= 1e-9 * length || member.thickness_m <= 0) {
    return;
  }
  const double plumb_share = length / run;  // plumb measure over square measure
  const bool is_flat = member.lie == framing::Lie::flat;
  const double width_m = is_flat ? member.depth_m : member.thickness_m;
  const double depth_m = is_flat ? member.thickness_m : member.depth_m;
  const glm::dvec3 side = glm::dvec3(-axis.y, axis.x, 0.0) * (width_m / 2 / run);
  const glm::dvec3 top(0.0, 0.0, -deck_m * plumb_share);
  const glm::dvec3 rise(0.0, 0.0, std::max(0.02, depth_m) * plumb_share);
  const std::vector<glm::dvec3> base{member.from + top - side - rise, member.to + top - side - rise,
                                     member.to + top + side - rise,
                                     member.from + top + side - rise};
  Face like;
  like.role = FaceRole::timber;
  like.layer = Layer::members;
  add_prism(base, rise, like, scene);
}

}  // namespace

FaceRole bay_role(const Assessment& assessment, BayId bay) {
  const vents::Vents& vents = assessment.vents;
  const bool is_live = vents.bays.has(bay) && vents.bays[bay].live;
  const auto feeds = [&](const vents::SlotBay& open) {
    return open.bay == bay && open.open_length_m > 0;
  };
  const bool is_fed =
      std::any_of(vents.slots.begin(), vents.slots.end(), [&](const vents::Slot& slot) {
        return std::any_of(slot.bays.begin(), slot.bays.end(), feeds);
      });
  if (is_live) {
    return is_fed ? FaceRole::bay_fed : FaceRole::bay_idle;
  }
  return is_fed ? FaceRole::bay_wasted : FaceRole::bay_dead;
}

void add_framing(const Assessment& assessment, Scene& scene) {
  const framing::Framing& framing = assessment.framing;
  for (const MemberId id : framing.members.ids()) {
    const framing::Member& member = framing.members[id];
    if (!member.part_of.is_none()) {
      continue;  // drawn with the whole
    }
    add_timber(member, deck_over(assessment, member), scene);
    if (!member.plane.is_none()) {  // the others lie under lines that are drawn anyway
      scene.strokes.push_back({StrokeRole::member,
                               Layer::members,
                               member.from,
                               member.to,
                               LineId(),
                               id,
                               {member.plane, PlaneId()}});
    }
  }
  for (const BayId id : framing.bays.ids()) {
    const framing::Bay& bay = framing.bays[id];
    if (bay.outline.size() < 3 || bay.plane.is_none()) {
      continue;
    }
    const surface::Frame& frame = assessment.surface.planes[bay.plane].frame;
    std::vector<std::array<glm::dvec2, 3>> flat;
    for (const auto& t : triangulate({bay.outline})) {
      flat.push_back({bay.outline[t[0]], bay.outline[t[1]], bay.outline[t[2]]});
    }
    Face face;
    face.role = bay_role(assessment, id);
    face.layer = Layer::bays;
    face.normal = frame.normal;
    face.plane = bay.plane;
    face.triangles = lifted(frame, flat);
    scene.faces.push_back(std::move(face));
  }
}

}  // namespace ridgeward::scene
