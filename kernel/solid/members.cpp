// Rafters, headers and pieces between them as solids.
#include "base/polygon.hpp"
#include "solid/laid_over.hpp"
#include "solid/member_maker.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace ridgeward::solid {

namespace {

constexpr double near_m = member_near_m;

/// Hips, valleys and ridge boards.
bool is_board(const framing::Member& member) {
  return !member.line.is_none() && member.plane.is_none() && member.lie == framing::Lie::under_deck;
}

}  // namespace

Cut plumb(const glm::dvec3& point, const glm::dvec3& way, const glm::dvec3& inside) {
  const glm::dvec3 across = glm::normalize(glm::dvec3{way.y, -way.x, 0.0});
  return cut_at(point, glm::dot(inside - point, across) > 0.0 ? -across : across);
}

MemberMaker::MemberMaker(const model::RoofModel& model, const surface::Surface& surface,
                         const framing::Framing& framing)
    : model_(model),
      surface_(surface),
      framing_(framing),
      thickness_under_(surface.lines.size(), 0.0),
      lines_at_(surface.nodes.size()) {
  for (const framing::Member& member : framing.members) {
    if (is_board(member)) {
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

void MemberMaker::cut_end(const framing::Member& member, const End& end, Timber& body) const {
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
void MemberMaker::cut_along_border(const framing::Member& member, Timber& body) const {
  const surface::Plane& plane = surface_.planes[member.plane];
  const glm::dvec3 middle = 0.5 * (member.from + member.to);
  const glm::dvec2 axis = glm::normalize(plane.frame.uv(member.to) - plane.frame.uv(member.from));
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface_.lines[step.line];
      const glm::dvec2 a = plane.frame.uv(surface_.nodes[step.forward ? line.from : line.to]);
      const glm::dvec2 b = plane.frame.uv(surface_.nodes[step.forward ? line.to : line.from]);
      const glm::dvec2 along = (b - a) / glm::length(b - a);
      const glm::dvec2 inward{-along.y, along.x};
      // A line along the piece does not rip it.
      const bool runs_along = std::abs(along.x * axis.y - along.y * axis.x) < 1e-6;
      const auto touches = [&](glm::dvec2 p) {
        const double at = glm::dot(p - a, along);
        return std::abs(glm::dot(p - a, inward)) < near_m && at > -near_m &&
               at < glm::length(b - a) + near_m;
      };
      // A piece seen in several strips goes on beyond the outline of one.
      const auto is_on_inside = [&](glm::dvec2 p) { return glm::dot(p - a, inward) > -near_m; };
      const bool is_inside =
          is_on_inside(plane.frame.uv(member.from)) && is_on_inside(plane.frame.uv(member.to)) &&
          std::all_of(member.outline.begin(), member.outline.end(), is_on_inside);
      if (step.line == member.foot_line || step.line == member.head_line || runs_along ||
          !is_inside || std::count_if(member.outline.begin(), member.outline.end(), touches) < 2) {
        continue;
      }
      const PlaneId other = beside(step.line, member.plane);
      if (line.kind == surface::LineKind::valley &&
          is_laid_on(model_, surface_, other, member.plane)) {
        continue;  // it goes on beneath
      }
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

/// The birdsmouth in the side of a rafter, (up the slope, out of the deck): from the heel at the
/// lower edge round to where the seat ends. Empty: none.
std::vector<glm::dvec2> MemberMaker::birdsmouth(const framing::Member& member) const {
  if (member.heel_cut_m <= near_m || member.seat_cut_m <= near_m || !runs_up(member)) {
    return {};
  }
  const surface::Frame& frame = surface_.planes[member.plane].frame;
  const double low = -deck_m(member.plane) - member.depth_m;
  const glm::dvec2 plumb_up{frame.up.z, frame.normal.z};
  const glm::dvec2 level{frame.normal.z, -frame.up.z};
  const double wall = frame.uv(member.from).y + member.tail_m;
  const glm::dvec2 heel{wall + low * plumb_up.x / plumb_up.y, low};
  const glm::dvec2 inner = heel + member.heel_cut_m * plumb_up;
  const glm::dvec2 seat = inner + member.seat_cut_m * level;
  std::vector<glm::dvec2> notch{heel, inner, seat};
  if (member.tail_m <= near_m) {  // without a tail the seat runs out of the foot
    notch = {inner - spare_m(member) * level, seat};
  }
  if (seat.y - low > near_m) {  // a wall narrower than the whole seat
    notch.push_back(seat - (seat.y - low) / plumb_up.y * plumb_up);
  }
  return notch;
}

/// How far a piece goes beyond its ends before they are cut.
double MemberMaker::spare_m(const framing::Member& member) const {
  const double cosine = member.plane.is_none() ? 1.0 : surface_.planes[member.plane].frame.normal.z;
  return 4.0 * member.depth_m / cosine + 10.0 * member.thickness_m;
}

Timber MemberMaker::across(const framing::Member& member,
                           const std::vector<glm::dvec2>& profile) const {
  const surface::Frame& frame = surface_.planes[member.plane].frame;
  std::vector<glm::dvec3> base;
  base.reserve(profile.size());
  for (const glm::dvec2 p : profile) {
    base.push_back(frame.at({member.at_m - 0.5 * member.thickness_m, p.x}) + p.y * frame.normal);
  }
  return {base, member.thickness_m * frame.along};
}

Timber MemberMaker::rafter(const framing::Member& member,
                           const std::vector<glm::dvec2>& notch) const {
  const surface::Frame& frame = surface_.planes[member.plane].frame;
  const double foot = frame.uv(member.from).y - 2.0 * spare_m(member);
  const double head = frame.uv(member.to).y + spare_m(member);
  const double high = -deck_m(member.plane);
  const double low = high - member.depth_m;
  std::vector<glm::dvec2> profile;
  if (notch.empty() || member.tail_m > near_m) {
    profile.emplace_back(foot, low);
  }
  profile.insert(profile.end(), notch.begin(), notch.end());
  profile.insert(profile.end(), {{head, low}, {head, high}});
  profile.emplace_back(profile.front().x, high);
  Timber body = across(member, profile);
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

/// The strip of a header in its plane, made whole where the plane ends within its thickness: under
/// a dormer's roof half of a ply lies beyond.
std::vector<glm::dvec2> MemberMaker::whole_strip(const framing::Member& member) const {
  const surface::Plane& plane = surface_.planes[member.plane];
  const polygon::Box box = polygon::box_of(member.outline);
  const double missing_m = member.thickness_m - (box.high.y - box.low.y);
  if (missing_m <= near_m) {
    return member.outline;
  }
  const auto ends_at = [&](double v) {
    return std::any_of(plane.loops.begin(), plane.loops.end(), [&](const surface::Loop& loop) {
      const polygon::Loop border = surface::corners_uv(surface_, plane.frame, loop);
      return std::any_of(border.begin(), border.end(),
                         [v](glm::dvec2 p) { return std::abs(p.y - v) < near_m; });
    });
  };
  const bool is_low = ends_at(box.low.y);
  polygon::Loop strip = member.outline;
  for (glm::dvec2& p : strip) {
    if (std::abs(p.y - (is_low ? box.low.y : box.high.y)) < near_m) {
      p.y += is_low ? -missing_m : missing_m;
    }
  }
  return strip;
}

Timber MemberMaker::header(const framing::Member& member) const {
  const surface::Frame& frame = surface_.planes[member.plane].frame;
  const polygon::Loop strip = whole_strip(member);
  const polygon::Box box = polygon::box_of(strip);
  const double low = deck_m(member.plane) + member.depth_m;
  Timber body(frame.at(box.low) - low * frame.normal,
              {(box.high.x - box.low.x) * frame.along, (box.high.y - box.low.y) * frame.up,
               member.depth_m * frame.normal});
  for (std::size_t i = 0; i < strip.size(); ++i) {
    const glm::dvec2 a = strip[i];
    const glm::dvec2 way = strip[(i + 1) % strip.size()] - a;
    const glm::dvec2 outward{way.y, -way.x};
    const bool is_inside = std::all_of(strip.begin(), strip.end(), [&](glm::dvec2 p) {
      return glm::dot(p - a, outward) < near_m * glm::length(way);
    });
    if (is_inside && glm::length(way) > near_m) {
      const glm::dvec2 n = outward / glm::length(outward);
      body.keep(cut_at(frame.at(a), n.x * frame.along + n.y * frame.up));
    }
  }
  cut_along_border(member, body);
  return body;
}

/// Square at both ends. On edge: a level piece in a plane stands plumb, as high as the deck's
/// underside allows over its thickness; any other one lies under its line.
Timber MemberMaker::plain(const framing::Member& member) const {
  const glm::dvec3 axis = glm::normalize(member.to - member.from);
  const glm::dvec3 level =
      plan_length(axis) > near_m ? glm::cross(upright, axis) : glm::dvec3{1.0, 0.0, 0.0};
  const glm::dvec3 side = glm::normalize(level);
  const glm::dvec3 up = glm::cross(axis, side);
  double under = 0.0;
  if (member.lie != framing::Lie::free && !member.plane.is_none()) {
    const glm::dvec3& normal = surface_.planes[member.plane].frame.normal;
    under = (deck_m(member.plane) + 0.5 * member.thickness_m * std::abs(glm::dot(normal, side))) /
            glm::dot(normal, up);
  }
  return {member.from - 0.5 * member.thickness_m * side - (under + member.depth_m) * up,
          {member.to - member.from, member.thickness_m * side, member.depth_m * up}};
}

/// Its wide face against the deck: from below, a sleeper from above.
Timber MemberMaker::flat(const framing::Member& member) const {
  const glm::dvec3 axis = glm::normalize(member.to - member.from);
  const glm::dvec3& up = surface_.planes[member.plane].frame.normal;
  const glm::dvec3 side = glm::cross(up, axis);
  const double low = member.kind == framing::MemberKind::valley_sleeper
                         ? 0.0
                         : -deck_m(member.plane) - member.thickness_m;
  return {member.from - 0.5 * member.depth_m * side + low * up,
          {member.to - member.from, member.depth_m * side, member.thickness_m * up}};
}

/// Whether it runs straight up its plane.
bool MemberMaker::runs_up(const framing::Member& member) const {
  if (member.plane.is_none() || member.lie != framing::Lie::under_deck) {
    return false;
  }
  const glm::dvec3 axis = member.to - member.from;
  return glm::dot(axis, surface_.planes[member.plane].frame.up) > (1.0 - 1e-9) * glm::length(axis);
}

Timber MemberMaker::body_of(const framing::Member& member) const {
  if (is_board(member)) {
    return board(member);
  }
  if (member.kind == framing::MemberKind::header && !member.outline.empty()) {
    return header(member);
  }
  if (member.lie == framing::Lie::flat && !member.plane.is_none()) {
    return flat(member);
  }
  return runs_up(member) ? rafter(member, {}) : plain(member);
}

/// With its birdsmouth. Where an end is cut through it, the modelling kernel takes it out.
Result<Shape> MemberMaker::shape_of(const framing::Member& member, Bodies& bodies) const {
  const std::string what = "member " + member.id;
  std::vector<glm::dvec2> notch = birdsmouth(member);
  if (!notch.empty()) {
    Result<Shape> seated = built(rafter(member, notch).facets(), what);
    if (seated) {
      return seated;
    }
  }
  Result<Shape> whole = built(body_of(member).facets(), what);
  if (notch.empty() || !whole) {
    return whole;
  }
  const surface::Frame& frame = surface_.planes[member.plane].frame;
  const glm::dvec2 down = -spare_m(member) * glm::dvec2{frame.up.z, frame.normal.z};
  const std::size_t inner = member.tail_m > near_m ? 1 : 0;
  const glm::dvec2 a = notch[inner];
  const glm::dvec2 b = notch[inner + 1];
  const Result<Shape> wedge = built(across(member, {a, a + down, b + down, b}).facets(), what);
  if (wedge) {
    Result<Shape> rest = difference(whole.value(), wedge.value(), what);
    if (rest) {
      return rest;
    }
  }
  bodies.notes.push_back("Member " + member.id + " is left without its birdsmouth.");
  return whole;
}

Result<Bodies> MemberMaker::run(const Tell& tell) const {
  Bodies bodies;
  std::size_t done = 0;
  for (const framing::Member& member : framing_.members) {
    if (tell) {
      tell(done++, framing_.members.size());
    }
    if (!member.part_of.is_none()) {
      continue;  // a strip of another one
    }
    if (member.thickness_m <= near_m || member.depth_m <= near_m ||
        glm::length(member.to - member.from) <= near_m) {
      bodies.notes.push_back("Member " + member.id + " has no size and is left out.");
      continue;
    }
    if (body_of(member).is_empty()) {
      bodies.notes.push_back("Nothing is left of member " + member.id + " between its cuts.");
      continue;
    }
    Result<Shape> shape = shape_of(member, bodies);
    if (!shape) {
      return shape.faults();
    }
    bodies.all.push_back({"members/" + member.id, std::move(shape).value()});
  }
  return bodies;
}

Result<Bodies> member_bodies(const model::RoofModel& model, const surface::Surface& surface,
                             const framing::Framing& framing, const Tell& tell) {
  return MemberMaker(model, surface, framing).run(tell);
}

}  // namespace ridgeward::solid
