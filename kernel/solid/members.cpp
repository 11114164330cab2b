// Rafters, hips, valleys, ridge boards and headers as solids.
#include "base/polygon.hpp"
#include "solid/bodies.hpp"
#include "solid/convex.hpp"
#include "solid/laid_over.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace ridgeward::solid {

namespace {

constexpr double near_m = 1e-6;
const glm::dvec3 upright{0.0, 0.0, 1.0};

/// An upright cut through `point` along `way`; what lies on the side of `inside` is kept.
Cut plumb(const glm::dvec3& point, const glm::dvec3& way, const glm::dvec3& inside) {
  const glm::dvec3 across = glm::normalize(glm::dvec3{way.y, -way.x, 0.0});
  return cut_at(point, glm::dot(inside - point, across) > 0.0 ? -across : across);
}

double plan_length(const glm::dvec3& way) { return std::hypot(way.x, way.y); }

class MemberMaker {
 public:
  MemberMaker(const model::RoofModel& model, const surface::Surface& surface,
              const framing::Framing& framing);

  Result<Bodies> run() const;

 private:
  /// What the end of a rafter meets.
  struct End {
    glm::dvec3 at{0.0};
    LineId line;
    MemberId header;
    double shortening_m = 0.0;
    double side_cut_rad = 0.0;
  };

  double deck_m(PlaneId id) const { return model_.parts[surface_.planes[id].part].deck_m; }
  glm::dvec3 way_of(const surface::Line& line) const {
    return surface_.nodes[line.to] - surface_.nodes[line.from];
  }
  PlaneId beside(LineId line, PlaneId own) const;
  glm::dvec3 to_undersides(PlaneId own, PlaneId other) const;
  Convex rafter(const framing::Member& member) const;
  void cut_end(const framing::Member& member, const End& end, Convex& body) const;
  void cut_along_border(const framing::Member& member, Convex& body) const;
  Convex header(const framing::Member& member) const;
  Convex board(const framing::Member& member) const;
  double top_of_board(const framing::Member& member, const glm::dvec3& side,
                      const glm::dvec3& up) const;
  void cut_board_end(const framing::Member& member, bool is_head, Convex& body) const;
  void cut_tail(const framing::Member& member, NodeId node, Convex& body) const;
  void cut_tip(const framing::Member& member, NodeId node, Convex& body) const;
  Convex plain(const framing::Member& member) const;
  Convex body_of(const framing::Member& member) const;
  bool runs_up(const framing::Member& member) const;

  const model::RoofModel& model_;
  const surface::Surface& surface_;
  const framing::Framing& framing_;
  IndexedVector<LineId, double> thickness_under_;  ///< of the member under each line
  IndexedVector<NodeId, std::vector<LineId>> lines_at_;
};

MemberMaker::MemberMaker(const model::RoofModel& model, const surface::Surface& surface,
                         const framing::Framing& framing)
    : model_(model),
      surface_(surface),
      framing_(framing),
      thickness_under_(surface.lines.size(), 0.0),
      lines_at_(surface.nodes.size()) {
  for (const framing::Member& member : framing.members) {
    if (!member.line.is_none()) {
      thickness_under_[member.line] = member.thickness_m;
    }
  }
  for (const LineId id : surface.lines.ids()) {
    lines_at_[surface.lines[id].from].push_back(id);
    lines_at_[surface.lines[id].to].push_back(id);
  }
}

/// The plane on the other side of a line.
PlaneId MemberMaker::beside(LineId line, PlaneId own) const {
  const PlaneId left = surface_.lines[line].left_plane();
  return left == own ? surface_.lines[line].right_plane() : left;
}

/// From a line between two planes, square to it, to the line in which the undersides of their decks
/// meet; nowhere for planes that all but lie in one.
glm::dvec3 MemberMaker::to_undersides(PlaneId own, PlaneId other) const {
  const glm::dvec3& n = surface_.planes[own].frame.normal;
  const glm::dvec3& m = surface_.planes[other].frame.normal;
  const double cosine = glm::dot(n, m);
  const double sine2 = 1.0 - cosine * cosine;
  if (sine2 < 1e-6) {
    return glm::dvec3{0.0};
  }
  return ((cosine * deck_m(other) - deck_m(own)) * n + (cosine * deck_m(own) - deck_m(other)) * m) /
         sine2;
}

void MemberMaker::cut_end(const framing::Member& member, const End& end, Convex& body) const {
  const surface::Frame& frame = surface_.planes[member.plane].frame;
  const glm::dvec3 middle = 0.5 * (member.from + member.to);
  if (!end.header.is_none()) {
    const double way = glm::dot(end.at - middle, frame.up) > 0.0 ? 1.0 : -1.0;
    body.keep(cut_at(end.at, way * frame.up));
    return;
  }
  glm::dvec3 way = frame.along;
  if (!end.line.is_none()) {
    const PlaneId other = beside(end.line, member.plane);
    if (surface_.lines[end.line].kind == surface::LineKind::valley &&
        is_laid_on(model_, surface_, member.plane, other)) {
      body.keep(cut_at(end.at, -surface_.planes[other].frame.normal));
      return;
    }
    if (surface_.lines[end.line].kind == surface::LineKind::pitch_break && !other.is_none()) {
      body.keep(plumb(end.at + to_undersides(member.plane, other), frame.along, middle));
      return;
    }
    // Against the end of a ridge board the cut is square, whatever line is there.
    const bool is_square = end.shortening_m > 0.0 && end.side_cut_rad == 0.0;
    const glm::dvec3 along = way_of(surface_.lines[end.line]);
    const bool is_across = std::abs(glm::dot(along, frame.along)) > 1e-6 * glm::length(along);
    way = is_square || !is_across ? way : along;
  }
  body.keep(plumb(end.at, way, middle));
}

/// Where a corner of the plane lies within the strip, lines beside the one at its centre cut too.
void MemberMaker::cut_along_border(const framing::Member& member, Convex& body) const {
  const surface::Plane& plane = surface_.planes[member.plane];
  const glm::dvec3 middle = 0.5 * (member.from + member.to);
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface_.lines[step.line];
      const glm::dvec2 a = plane.frame.uv(surface_.nodes[step.forward ? line.from : line.to]);
      const glm::dvec2 b = plane.frame.uv(surface_.nodes[step.forward ? line.to : line.from]);
      const glm::dvec2 along = (b - a) / glm::length(b - a);
      const glm::dvec2 inward{-along.y, along.x};
      const bool is_up = std::abs(along.x) < 1e-6;
      const auto touches = [&](glm::dvec2 p) {
        const double at = glm::dot(p - a, along);
        return std::abs(glm::dot(p - a, inward)) < near_m && at > -near_m &&
               at < glm::length(b - a) + near_m;
      };
      const bool is_inside =
          std::all_of(member.outline.begin(), member.outline.end(),
                      [&](glm::dvec2 p) { return glm::dot(p - a, inward) > -near_m; });
      if (step.line == member.foot_line || step.line == member.head_line || is_up || !is_inside ||
          std::count_if(member.outline.begin(), member.outline.end(), touches) < 2) {
        continue;
      }
      const PlaneId other = beside(step.line, member.plane);
      if (line.kind == surface::LineKind::valley &&
          is_laid_on(model_, surface_, member.plane, other)) {
        body.keep(cut_at(surface_.nodes[line.from], -surface_.planes[other].frame.normal));
        continue;
      }
      Cut cut = plumb(surface_.nodes[line.from], way_of(line), middle);
      cut.offset -= 0.5 * thickness_under_[step.line];
      body.keep(cut);
    }
  }
}

Convex MemberMaker::rafter(const framing::Member& member) const {
  const surface::Frame& frame = surface_.planes[member.plane].frame;
  const double spare_m = 2.0 * member.depth_m / frame.normal.z + 10.0 * member.thickness_m;
  const double foot = frame.uv(member.from).y - spare_m;
  const double head = frame.uv(member.to).y + spare_m;
  const double low = deck_m(member.plane) + member.depth_m;
  Convex body(
      frame.at({member.at_m - 0.5 * member.thickness_m, foot}) - low * frame.normal,
      {member.thickness_m * frame.along, (head - foot) * frame.up, member.depth_m * frame.normal});
  cut_end(member,
          {member.from, member.foot_line, member.foot_header, member.foot_shortening_m,
           member.foot_side_cut_rad},
          body);
  cut_end(member,
          {member.to, member.head_line, member.head_header, member.head_shortening_m,
           member.side_cut_rad},
          body);
  cut_along_border(member, body);
  return body;
}

Convex MemberMaker::header(const framing::Member& member) const {
  const surface::Frame& frame = surface_.planes[member.plane].frame;
  const polygon::Box box = polygon::box_of(member.outline);
  const double low = deck_m(member.plane) + member.depth_m;
  Convex body(frame.at(box.low) - low * frame.normal,
              {(box.high.x - box.low.x) * frame.along, (box.high.y - box.low.y) * frame.up,
               member.depth_m * frame.normal});
  for (std::size_t i = 0; i < member.outline.size(); ++i) {
    const glm::dvec2 a = member.outline[i];
    const glm::dvec2 way = member.outline[(i + 1) % member.outline.size()] - a;
    const glm::dvec2 outward{way.y, -way.x};
    const bool is_inside = std::all_of(
        member.outline.begin(), member.outline.end(),
        [&](glm::dvec2 p) { return glm::dot(p - a, outward) < near_m * glm::length(way); });
    if (is_inside && glm::length(way) > near_m) {
      const glm::dvec2 n = outward / glm::length(outward);
      body.keep(cut_at(frame.at(a), n.x * frame.along + n.y * frame.up));
    }
  }
  cut_along_border(member, body);
  return body;
}

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
void MemberMaker::cut_tail(const framing::Member& member, NodeId node, Convex& body) const {
  const glm::dvec3 middle = 0.5 * (member.from + member.to);
  for (const LineId id : lines_at_[node]) {
    if (surface_.lines[id].kind == surface::LineKind::eave) {
      body.keep(plumb(surface_.nodes[node], way_of(surface_.lines[id]), middle));
    }
  }
}

/// Where hips meet without a ridge, the tip stays under the decks of all planes around it. A peak
/// may be several nodes a hair apart.
void MemberMaker::cut_tip(const framing::Member& member, NodeId node, Convex& body) const {
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

void MemberMaker::cut_board_end(const framing::Member& member, bool is_head, Convex& body) const {
  const glm::dvec3 at = is_head ? member.to : member.from;
  const glm::dvec3 axis = member.to - member.from;
  const surface::Line& line = surface_.lines[member.line];
  const auto far_m = [&](NodeId node) { return glm::length(surface_.nodes[node] - at); };
  const NodeId node = far_m(line.from) < far_m(line.to) ? line.from : line.to;
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

Convex MemberMaker::board(const framing::Member& member) const {
  const glm::dvec3 axis = glm::normalize(member.to - member.from);
  const glm::dvec3 side = glm::normalize(glm::cross(upright, axis));
  const glm::dvec3 up = glm::cross(axis, side);
  const double top = top_of_board(member, side, up);
  const double spare_m = 2.0 * member.depth_m / up.z + 10.0 * member.thickness_m;
  Convex body(
      member.from - spare_m * axis - 0.5 * member.thickness_m * side + (top - member.depth_m) * up,
      {(glm::length(member.to - member.from) + 2.0 * spare_m) * axis, member.thickness_m * side,
       member.depth_m * up});
  cut_board_end(member, false, body);
  cut_board_end(member, true, body);
  return body;
}

/// Square at both ends.
Convex MemberMaker::plain(const framing::Member& member) const {
  const glm::dvec3 axis = glm::normalize(member.to - member.from);
  const glm::dvec3 level =
      plan_length(axis) > near_m ? glm::cross(upright, axis) : glm::dvec3{1.0, 0.0, 0.0};
  const glm::dvec3 side = glm::normalize(level);
  const glm::dvec3 up = glm::cross(axis, side);
  const double deck = member.plane.is_none() ? 0.0 : deck_m(member.plane);
  return {member.from - 0.5 * member.thickness_m * side - (deck + member.depth_m) * up,
          {member.to - member.from, member.thickness_m * side, member.depth_m * up}};
}

bool MemberMaker::runs_up(const framing::Member& member) const {
  if (member.plane.is_none() || member.outline.empty()) {
    return false;
  }
  const glm::dvec3 axis = member.to - member.from;
  return glm::dot(axis, surface_.planes[member.plane].frame.up) > (1.0 - 1e-9) * glm::length(axis);
}

Convex MemberMaker::body_of(const framing::Member& member) const {
  if (!member.line.is_none()) {
    return board(member);
  }
  if (member.kind == framing::MemberKind::header && !member.outline.empty()) {
    return header(member);
  }
  return runs_up(member) ? rafter(member) : plain(member);
}

Result<Bodies> MemberMaker::run() const {
  Bodies bodies;
  for (const framing::Member& member : framing_.members) {
    if (member.thickness_m <= near_m || member.depth_m <= near_m ||
        glm::length(member.to - member.from) <= near_m) {
      bodies.notes.push_back("Member " + member.id + " has no size and is left out.");
      continue;
    }
    const Convex body = body_of(member);
    if (body.is_empty()) {
      bodies.notes.push_back("Nothing is left of member " + member.id + " between its cuts.");
      continue;
    }
    Result<Shape> shape = built(body.facets(), "member " + member.id);
    if (!shape) {
      return shape.faults();
    }
    bodies.all.push_back({"members/" + member.id, std::move(shape).value()});
  }
  return bodies;
}

}  // namespace

Result<Bodies> member_bodies(const model::RoofModel& model, const surface::Surface& surface,
                             const framing::Framing& framing) {
  return MemberMaker(model, surface, framing).run();
}

}  // namespace ridgeward::solid
