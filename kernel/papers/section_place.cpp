// Where a house is cut for its section, and what the cut meets of the roof.
#include "base/polygon.hpp"
#include "papers/section_drawing.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::papers {

namespace {

/// Live bays of a slot over one compartment: those under a vent at their head, else those up to a
/// ridge, else all.
std::vector<BayId> best_bays(const Assessment& a, const vents::Slot& slot, CompartmentId within) {
  std::vector<BayId> best;
  int most = 0;
  for (const vents::SlotBay& one : slot.bays) {
    if (a.attic.bays[one.bay].compartment != within) {
      continue;
    }
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

/// What a slot's live bays lead to, from the left: a slot may open onto attics and rafter spaces.
std::vector<CompartmentId> compartments_of(const Assessment& a, const vents::Slot& slot) {
  std::vector<CompartmentId> all;
  for (const vents::SlotBay& one : slot.bays) {
    const CompartmentId id = a.attic.bays[one.bay].compartment;
    if (one.live && !id.is_none() && std::find(all.begin(), all.end(), id) == all.end()) {
      all.push_back(id);
    }
  }
  return all;
}

/// The middle one of a slot's best bays, cut plumb up its slope.
SectionPlace place_in(const Assessment& a, SlotId slot, const std::vector<BayId>& bays) {
  SectionPlace place;
  place.bay = bays[bays.size() / 2];
  place.slot = slot;
  const framing::Bay& bay = a.framing.bays[place.bay];
  const surface::Frame& frame = a.surface.planes[bay.plane].frame;
  place.at = glm::dvec2(frame.at({(bay.from_u_m + bay.to_u_m) / 2, a.vents.slots[slot].drip_v_m}));
  place.up = glm::normalize(glm::dvec2(frame.up));
  return place;
}

}  // namespace

std::optional<double> open_in_section_m(const Assessment& assessment, const SectionPlace& place) {
  const vents::Slot& slot = assessment.vents.slots[place.slot];
  const auto under =
      std::find_if(slot.bays.begin(), slot.bays.end(),
                   [&](const vents::SlotBay& part) { return part.bay == place.bay; });
  return under == slot.bays.end() ? std::nullopt : under->least_open_m();
}

std::optional<SectionPlace> place_of_section(const Assessment& assessment) {
  std::optional<SectionPlace> best;
  double largest = -1.0;
  for (const SlotId id : assessment.vents.slots.ids()) {
    const vents::Slot& slot = assessment.vents.slots[id];
    for (const CompartmentId within : compartments_of(assessment, slot)) {
      const attic::Compartment& space = assessment.attic.compartments[within];
      const double weight = space.is_rafter_space ? 0.0 : space.floor_area_m2;
      const std::vector<BayId> bays = best_bays(assessment, slot, within);
      if (weight > largest && !bays.empty()) {
        largest = weight;
        best = place_in(assessment, id, bays);
      }
    }
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

double rafter_in_section_m(const Assessment& assessment, const SectionPlace& place) {
  const framing::Bay& bay = assessment.framing.bays[place.bay];
  const MemberId beside = bay.left.is_none() ? bay.right : bay.left;
  return beside.is_none() ? 0.0 : assessment.framing.members[beside].depth_m;
}

namespace {

/// From `from` to `to` under a piece of roof: its lower face so deep square beneath the roof, its
/// insulation's top so deep.
SlopedPiece under(const RoofPiece& piece, double from, double to, double down_m, double top_m) {
  const double rise = (piece.to.y - piece.from.y) / (piece.to.x - piece.from.x);
  const auto at = [&](double s, double depth_m) {
    return glm::dvec2{s,
                      piece.from.y + (s - piece.from.x) * rise - depth_m * std::hypot(1.0, rise)};
  };
  return {at(from, down_m), at(to, down_m), at(from, top_m), at(to, top_m)};
}

}  // namespace

std::vector<SlopedPiece> sloped_ceilings_in_section(const Assessment& assessment,
                                                    const SectionPlace& place) {
  const PlaneId own = assessment.framing.bays[place.bay].plane;
  const double deck_m = assessment.model.parts[assessment.surface.planes[own].part].deck_m;
  const double down_m = deck_m + rafter_in_section_m(assessment, place);
  const std::vector<RoofPiece> roof = roof_in_section(assessment, place);
  std::vector<SlopedPiece> all;
  for (const model::Ceiling& ceiling : assessment.model.ceilings) {
    if (ceiling.kind != model::CeilingKind::sloped) {
      continue;
    }
    const double under_m = deck_m + (ceiling.baffles ? units::inch_m : 0.0);
    const double top_m = std::min(down_m, std::max(under_m, down_m - ceiling.insulation_m));
    for (const polygon::Chord& chord :
         polygon::chords_at(beside_cut(place, {ceiling.outline}), 0.0)) {
      for (const RoofPiece& piece : roof) {
        const double from = std::max(piece.from.x, chord.from);
        const double to = std::min(piece.to.x, chord.to);
        all.push_back(under(piece, from, to, down_m, top_m));
      }
    }
  }
  std::erase_if(all, [](const SlopedPiece& one) {
    return !(one.to.x - one.from.x > 1e-6);  // the chord and the piece do not meet
  });
  return all;
}

}  // namespace ridgeward::papers
