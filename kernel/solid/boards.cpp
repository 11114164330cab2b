// Hips, valleys and ridge boards as solids.
#include "solid/member_maker.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::solid {

namespace {

constexpr double near_m = member_near_m;

}  // namespace

/// How high above the line the flat top may lie so that it stays under both decks from face to
/// face: mostly below it, so negative.
double MemberMaker::top_of_board(const framing::Member& member, const glm::dvec3& side,
                                 const glm::dvec3& up) const {
  const surface::Line& line = surface_.lines[member.line];
  double top = HUGE_VAL;
  for (const bool is_left : {true, false}) {
    const PlaneId id = is_left ? line.left_plane() : line.right_plane();
    if (id.is_none()) {
      continue;
    }
    const glm::dvec3& normal = surface_.planes[id].frame.normal;
    const glm::dvec3 inward = glm::cross(normal, is_left ? way_of(line) : -way_of(line));
    const double reach = (glm::dot(inward, side) > 0.0 ? 0.5 : -0.5) * member.thickness_m;
    for (const double at : {0.0, reach}) {
      top = std::min(top, (-deck_m(id) - at * glm::dot(normal, side)) / glm::dot(normal, up));
    }
  }
  return top == HUGE_VAL ? 0.0 : top;
}

/// The tail of a hip stays in line with both eaves.
void MemberMaker::cut_tail(const framing::Member& member, NodeId node, Timber& body) const {
  const glm::dvec3 middle = 0.5 * (member.from + member.to);
  for (const LineId id : lines_at_[node]) {
    if (surface_.lines[id].kind == surface::LineKind::eave) {
      body.keep(plumb(surface_.nodes[node], way_of(surface_.lines[id]), middle));
    }
  }
}

/// Where hips meet without a ridge, the tip stays under the decks of all planes around it. A peak
/// may be several nodes a hair apart.
void MemberMaker::cut_tip(const framing::Member& member, NodeId node, Timber& body) const {
  std::vector<LineId> lines;
  for (const NodeId other : surface_.nodes.ids()) {
    if (glm::length(surface_.nodes[other] - surface_.nodes[node]) < 0.5 * member.thickness_m) {
      lines.insert(lines.end(), lines_at_[other].begin(), lines_at_[other].end());
    }
  }
  if (std::any_of(lines.begin(), lines.end(), [this](LineId id) {
        return surface_.lines[id].kind != surface::LineKind::hip;
      })) {
    return;
  }
  for (const LineId id : lines) {
    const surface::Line& line = surface_.lines[id];
    for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
      const glm::dvec3& normal = surface_.planes[plane].frame.normal;
      body.keep(cut_at(surface_.nodes[line.from] - deck_m(plane) * normal, normal));
    }
  }
}

/// The node of the roof in line with a board that lies next to its end.
NodeId MemberMaker::node_at(const framing::Member& member, const glm::dvec3& end) const {
  const glm::dvec3 axis = glm::normalize(member.to - member.from);
  NodeId nearest = surface_.lines[member.line].from;
  double least = HUGE_VAL;
  for (const NodeId node : surface_.nodes.ids()) {
    const glm::dvec3 d = surface_.nodes[node] - end;
    const bool is_in_line = glm::length(glm::cross(d, axis)) < 1e-3;
    if (is_in_line && glm::length(d) < least) {
      least = glm::length(d);
      nearest = node;
    }
  }
  return nearest;
}

void MemberMaker::cut_board_end(const framing::Member& member, bool is_head, Timber& body) const {
  const glm::dvec3 at = is_head ? member.to : member.from;
  const glm::dvec3 axis = member.to - member.from;
  const NodeId node = node_at(member, at);
  const double shortening_m = is_head ? member.head_shortening_m : member.foot_shortening_m;
  glm::dvec3 way{axis.y, -axis.x, 0.0};
  double least = near_m;
  for (const LineId other : lines_at_[node]) {
    const glm::dvec3 theirs = way_of(surface_.lines[other]);
    const double sine = std::abs(theirs.x * axis.y - theirs.y * axis.x) /
                        std::max(1e-12, plan_length(theirs) * plan_length(axis));
    const double off =
        std::abs(0.5 * thickness_under_[other] / std::max(1e-9, sine) - shortening_m);
    if (shortening_m > 0.0 && other != member.line && thickness_under_[other] > 0.0 &&
        off < least) {
      least = off;
      way = theirs;
    }
  }
  body.keep(plumb(at, way, 0.5 * (member.from + member.to)));
  if (member.kind == framing::MemberKind::hip) {
    is_head ? cut_tip(member, node, body) : cut_tail(member, node, body);
  }
}

Timber MemberMaker::board(const framing::Member& member) const {
  const glm::dvec3 axis = glm::normalize(member.to - member.from);
  const glm::dvec3 side = glm::normalize(glm::cross(upright, axis));
  const glm::dvec3 up = glm::cross(axis, side);
  const double top = top_of_board(member, side, up);
  const double spare_m = 2.0 * member.depth_m / up.z + 10.0 * member.thickness_m;
  Timber body(
      member.from - spare_m * axis - 0.5 * member.thickness_m * side + (top - member.depth_m) * up,
      {(glm::length(member.to - member.from) + 2.0 * spare_m) * axis, member.thickness_m * side,
       member.depth_m * up});
  cut_board_end(member, false, body);
  cut_board_end(member, true, body);
  return body;
}

}  // namespace ridgeward::solid
