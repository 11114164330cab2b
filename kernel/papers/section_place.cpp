// Where a house is cut for its section, and what the cut meets of the roof.
#include "base/polygon.hpp"
#include "papers/section_drawing.hpp"

#include <glm/geometric.hpp>

#include <algorithm>

namespace ridgeward::papers {

namespace {

/// Live bays of a slot: those under a vent at their head, else those up to a ridge, else all.
std::vector<BayId> best_bays(const Assessment& a, const vents::Slot& slot) {
  std::vector<BayId> best;
  int most = 0;
  for (const vents::SlotBay& one : slot.bays) {
    const framing::Bay& bay = a.framing.bays[one.bay];
    int worth = one.live ? 1 : 0;
    if (one.live && !bay.head.is_none() &&
        a.surface.lines[bay.head].kind == surface::LineKind::ridge) {
      worth = 2;
      const surface::Frame& frame = a.surface.planes[bay.plane].frame;
      for (const vents::Exhaust& vent : a.vents.exhausts) {
        const double from = frame.uv(vent.from).x;
        const double to = frame.uv(vent.to).x;
        const double middle = (bay.from_u_m + bay.to_u_m) / 2;
        const bool is_over = std::min(from, to) < middle && middle < std::max(from, to);
        worth = vent.line == bay.head && is_over ? 3 : worth;
      }
    }
    if (worth > most) {
      best.clear();
      most = worth;
    }
    if (worth > 0 && worth == most) {
      best.push_back(one.bay);
    }
  }
  return best;
}

}  // namespace

std::optional<SectionPlace> place_of_section(const Assessment& assessment) {
  std::optional<SectionPlace> best;
  double largest = -1.0;
  for (const SlotId id : assessment.vents.slots.ids()) {
    const vents::Slot& slot = assessment.vents.slots[id];
    if (slot.compartment.is_none()) {
      continue;
    }
    const attic::Compartment& space = assessment.attic.compartments[slot.compartment];
    const double weight = space.is_rafter_space ? 0.0 : space.floor_area_m2;
    if (weight <= largest) {
      continue;
    }
    const std::vector<BayId> bays = best_bays(assessment, slot);
    if (bays.empty()) {
      continue;
    }
    largest = weight;
    SectionPlace place;
    place.bay = bays[bays.size() / 2];
    place.slot = id;
    const framing::Bay& bay = assessment.framing.bays[place.bay];
    const surface::Frame& frame = assessment.surface.planes[bay.plane].frame;
    place.at = glm::dvec2(frame.at({(bay.from_u_m + bay.to_u_m) / 2, slot.drip_v_m}));
    place.up = glm::normalize(glm::dvec2(frame.up));
    best = place;
  }
  return best;
}

std::vector<std::vector<glm::dvec2>> beside_cut(const SectionPlace& place,
                                                const std::vector<std::vector<glm::dvec2>>& plan) {
  const glm::dvec2 side{-place.up.y, place.up.x};
  std::vector<std::vector<glm::dvec2>> turned = plan;
  for (auto& loop : turned) {
    for (glm::dvec2& p : loop) {
      p = {glm::dot(p - place.at, place.up), glm::dot(p - place.at, side)};
    }
  }
  return turned;
}

std::vector<RoofPiece> roof_in_section(const Assessment& assessment, const SectionPlace& place) {
  std::vector<RoofPiece> pieces;
  for (const PlaneId id : assessment.surface.planes.ids()) {
    const surface::Plane& plane = assessment.surface.planes[id];
    std::vector<std::vector<glm::dvec2>> loops;
    for (const surface::Loop& loop : plane.loops) {
      loops.emplace_back();
      for (const glm::dvec3& corner : surface::corners(assessment.surface, loop)) {
        loops.back().emplace_back(corner);
      }
    }
    const auto height = [&](double s) {
      const glm::dvec2 p = place.at + s * place.up;
      const glm::dvec3 n = plane.frame.normal;
      const glm::dvec3 o = plane.frame.origin;
      return o.z - (n.x * (p.x - o.x) + n.y * (p.y - o.y)) / n.z;
    };
    for (const polygon::Chord& chord : polygon::chords_at(beside_cut(place, loops), 0.0)) {
      if (chord.to - chord.from > 1e-6) {
        pieces.push_back({id, {chord.from, height(chord.from)}, {chord.to, height(chord.to)}});
      }
    }
  }
  std::sort(pieces.begin(), pieces.end(),
            [](const RoofPiece& a, const RoofPiece& b) { return a.from.x < b.from.x; });
  return pieces;
}

}  // namespace ridgeward::papers
