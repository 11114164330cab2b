#include "papers/marks.hpp"

#include "vents/band.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::papers {

namespace {

using surface::LineKind;

constexpr double same_place_m = 1e-4;

/// From the kinds of the lines that meet at a place; `corner` follows hip and valley.
std::string hook_words(const std::vector<LineKind>& kinds, const char* corner,
                       const char* otherwise) {
  const auto has = [&](LineKind kind) {
    return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
  };
  if (has(LineKind::rake)) {
    return "rake edge";
  }
  if (has(LineKind::valley)) {
    return std::string("valley") + corner;
  }
  if (has(LineKind::hip)) {
    return std::string("hip") + corner;
  }
  if (has(LineKind::sidewall) || has(LineKind::headwall) || has(LineKind::step_wall)) {
    return "wall";
  }
  return otherwise;
}

/// Kinds of the plane's lines at a place of it.
std::vector<LineKind> kinds_at(const Assessment& a, const surface::Plane& plane, glm::dvec2 uv) {
  std::vector<LineKind> kinds;
  const auto is_here = [&](NodeId node) {
    return glm::length(plane.frame.uv(a.surface.nodes[node]) - uv) < same_place_m;
  };
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = a.surface.lines[step.line];
      if (is_here(line.from) || is_here(line.to)) {
        kinds.push_back(line.kind);
      }
    }
  }
  return kinds;
}

/// The eave (or pitch break) below a slot, end to end, in one with those that go on in its line.
vents::EaveLine eave_below(const Assessment& a, const vents::Slot& slot) {
  const double middle = (slot.start_m + slot.end_m) / 2;
  vents::EaveLine whole{slot.drip_v_m, slot.start_m, slot.end_m};
  bool is_found = false;
  std::vector<vents::EaveLine> eaves = vents::feet_of(a.surface, a.surface.planes[slot.plane]);
  std::erase_if(eaves, [&](const vents::EaveLine& eave) {
    return std::abs(eave.v_m - slot.drip_v_m) > same_place_m;
  });
  for (const vents::EaveLine& eave : eaves) {
    if (eave.from_u_m <= middle && middle <= eave.to_u_m) {
      whole = eave;
      is_found = true;
    }
  }
  for (std::size_t round = 0; is_found && round < eaves.size(); ++round) {
    for (const vents::EaveLine& eave : eaves) {
      if (std::abs(eave.to_u_m - whole.from_u_m) < same_place_m) {
        whole.from_u_m = eave.from_u_m;
      }
      if (std::abs(eave.from_u_m - whole.to_u_m) < same_place_m) {
        whole.to_u_m = eave.to_u_m;
      }
    }
  }
  return whole;
}

std::vector<LineKind> kinds_at_node(const Assessment& a, LineId own, NodeId node) {
  std::vector<LineKind> kinds;
  for (const LineId id : a.surface.lines.ids()) {
    const surface::Line& line = a.surface.lines[id];
    if (id != own && (line.from == node || line.to == node)) {
      kinds.push_back(line.kind);
    }
  }
  return kinds;
}

/// Thickness of the timber under a line; 0 where none is known, under trusses for instance.
double board_m(const Assessment& a, LineId line) {
  for (const framing::Member& member : a.framing.members) {
    if (member.line == line && (member.kind == framing::MemberKind::ridge_board ||
                                member.kind == framing::MemberKind::hip)) {
      return member.thickness_m;
    }
  }
  return 0.0;
}

ChalkedSide side_of(const Assessment& a, const vents::Exhaust& exhaust, PlaneId id) {
  const surface::Line& line = a.surface.lines[exhaust.line];
  const glm::dvec3 along = glm::normalize(a.surface.nodes[line.to] - a.surface.nodes[line.from]);
  const glm::dvec3 across = glm::cross(a.surface.planes[id].frame.normal, along);
  const glm::dvec2 level = glm::normalize(glm::dvec2{-along.y, along.x});
  // The board's faces are plumb: half its thickness, level, is more along the plane.
  const double spread = std::abs(glm::dot(glm::dvec2(across), level));
  const model::Product* product = a.product(exhaust.product);
  ChalkedSide side;
  side.plane = id;
  side.near_m = spread > 0.0 ? board_m(a, exhaust.line) / 2 / spread : 0.0;
  side.far_m = side.near_m + (product != nullptr ? product->slot.width_m : 0.0);
  return side;
}

}  // namespace

std::string short_name(const std::string& id) { return id.substr(id.rfind('/') + 1); }

SlotMarks marks_of(const Assessment& assessment, const vents::Slot& slot) {
  const surface::Plane& plane = assessment.surface.planes[slot.plane];
  const vents::EaveLine eave = eave_below(assessment, slot);
  const model::Product* product = assessment.product(slot.product);
  SlotMarks marks;
  marks.left_hook = hook_words(kinds_at(assessment, plane, {eave.from_u_m, eave.v_m}), " corner",
                               "end of the eave");
  marks.right_hook = hook_words(kinds_at(assessment, plane, {eave.to_u_m, eave.v_m}), " corner",
                                "end of the eave");
  marks.hook_u_m = eave.from_u_m;
  marks.eave_m = eave.to_u_m - eave.from_u_m;
  marks.start_from_left_m = slot.start_m - eave.from_u_m;
  marks.start_from_right_m = eave.to_u_m - slot.start_m;
  marks.end_from_left_m = slot.end_m - eave.from_u_m;
  marks.end_from_right_m = eave.to_u_m - slot.end_m;
  marks.vent_from_left_m = slot.vent_from_m - eave.from_u_m;
  marks.vent_end_from_left_m = slot.vent_to_m - eave.from_u_m;
  marks.vent_high_m = slot.vent_low_m + (product != nullptr ? product->depth_m : 0.0);
  marks.length_m = slot.end_m - slot.start_m;
  marks.deck_m = assessment.model.parts[plane.part].deck_m;
  for (const vents::Crossing& crossing : slot.crossings) {
    const double from_left = marks.start_from_left_m + crossing.at_m;
    marks.rafters.push_back({crossing.member, from_left, marks.eave_m - from_left});
  }
  return marks;
}

PlaceMarks place_of(const Assessment& assessment, const vents::Exhaust& exhaust) {
  const surface::Plane& plane = assessment.surface.planes[exhaust.plane];
  PlaceMarks marks;
  for (const surface::Loop& loop : plane.loops) {
    for (const glm::dvec2 uv : surface::corners_uv(assessment.surface, plane.frame, loop)) {
      marks.from_left_m = std::max(marks.from_left_m, exhaust.at_uv.x - uv.x);
      marks.down_m = std::max(marks.down_m, uv.y - exhaust.at_uv.y);
    }
  }
  return marks;
}

RidgeMarks marks_of(const Assessment& assessment, const vents::Exhaust& exhaust) {
  const surface::Line& line = assessment.surface.lines[exhaust.line];
  NodeId first = line.from;
  NodeId last = line.to;
  const auto misses = [&](NodeId node) {
    return std::abs(glm::length(exhaust.from - assessment.surface.nodes[node]) - exhaust.from_m);
  };
  if (misses(last) < misses(first)) {
    std::swap(first, last);
  }
  RidgeMarks marks;
  const char* end = line.kind == LineKind::hip ? "end of the hip" : "end of the ridge";
  marks.first_hook = hook_words(kinds_at_node(assessment, exhaust.line, first), "", end);
  marks.last_hook = hook_words(kinds_at_node(assessment, exhaust.line, last), "", end);
  marks.line_m = line.length_m;
  marks.start_from_first_m = exhaust.from_m;
  marks.end_from_first_m = exhaust.to_m;
  marks.end_from_last_m = line.length_m - exhaust.to_m;
  for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
    if (!plane.is_none()) {
      const double deck = assessment.model.parts[assessment.surface.planes[plane].part].deck_m;
      marks.deck_m = marks.sides.empty() ? deck : std::min(marks.deck_m, deck);
      marks.sides.push_back(side_of(assessment, exhaust, plane));
    }
  }
  return marks;
}

}  // namespace ridgeward::papers
