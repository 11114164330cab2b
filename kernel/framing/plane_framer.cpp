#include "framing/plane_framer.hpp"

#include "base/fault.hpp"
#include "base/polygon.hpp"
#include "framing/plane_border.hpp"
#include "framing/seats.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-9;

/// Which of two lines met at a corner a rafter is said to stand on or reach: level ones first.
int rank(surface::LineKind kind) {
  switch (kind) {
    case surface::LineKind::eave:
    case surface::LineKind::ridge:
    case surface::LineKind::shed_top:
    case surface::LineKind::headwall:
      return 0;
    case surface::LineKind::pitch_break:
      return 1;
    case surface::LineKind::hip:
      return 2;
    case surface::LineKind::valley:
      return 3;
    default:
      return 4;
  }
}

MemberKind kind_between(surface::LineKind foot, surface::LineKind head) {
  const bool is_from_valley = foot == surface::LineKind::valley;
  if (head == surface::LineKind::hip) {
    return is_from_valley ? MemberKind::cripple_jack : MemberKind::hip_jack;
  }
  if (is_from_valley || head == surface::LineKind::valley) {
    return MemberKind::valley_jack;
  }
  return foot == surface::LineKind::hip ? MemberKind::hip_jack : MemberKind::common;
}

}  // namespace

LineId PlaneFramer::chosen(const std::array<LineId, 2>& lines) const {
  if (is_kept(lines[0]) || is_kept(lines[1])) {
    return is_kept(lines[0]) ? lines[0] : lines[1];
  }
  if (lines[0].is_none() || lines[1].is_none()) {
    return lines[0].is_none() ? lines[1] : lines[0];
  }
  const int left = rank(surface_.lines[lines[0]].kind);
  const int right = rank(surface_.lines[lines[1]].kind);
  return right < left ? lines[1] : lines[0];
}

/// A rafter starts from a header as from an eave, and ends at one as at a ridge; so it does where a
/// blind deck ends.
surface::LineKind PlaneFramer::kind_at(LineId line, bool is_head) const {
  if (is_kept(line) || line.is_none()) {
    return is_head ? surface::LineKind::ridge : surface::LineKind::eave;
  }
  return surface_.lines[line].kind;
}

/// Whether a rafter reaches the very corner in which two hips meet.
bool PlaneFramer::is_peak(const std::array<LineId, 2>& heads) const {
  return heads[0] != heads[1] && !is_kept(heads[0]) && !is_kept(heads[1]) && !heads[0].is_none() &&
         !heads[1].is_none() && surface_.lines[heads[0]].kind == surface::LineKind::hip &&
         surface_.lines[heads[1]].kind == surface::LineKind::hip;
}

PlaneFramer::Cut PlaneFramer::cut_at(const surface::Plane& plane,
                                     const std::array<LineId, 2>& lines) const {
  const LineId id = chosen(lines);
  if (is_kept(id) || id.is_none()) {
    return {};
  }
  const surface::Line& line = surface_.lines[id];
  if (is_peak(lines)) {
    const surface::Line& other = surface_.lines[lines[1]];
    const NodeId node = line.from == other.from || line.from == other.to ? line.from : line.to;
    if (joints_.has_ridge(node)) {
      return {0.5 * stock_[plane.part].rafter_m, 0.0};  // against the end of the ridge board
    }
  }
  const double thickness_m = thickness_under(surface_, stock_, id);
  if (thickness_m == 0.0) {
    return {};
  }
  const glm::dvec2 eave{plane.frame.along.x, plane.frame.along.y};
  const glm::dvec2 direction = plan_direction(surface_, line);
  // Run and eave are square in plan: the sine to the run is the cosine to the eave.
  const double sine = std::min(1.0, std::abs(glm::dot(eave, direction)));
  const double across = sine_between(eave, direction);
  const double side_rad = std::atan2(across / std::cos(plane.pitch.radians()), sine);
  return {level_shortening_m(thickness_m, sine), is_peak(lines) ? 0.0 : side_rad};
}

Member PlaneFramer::rafter(PlaneId id, const CentreLine& line) const {
  const surface::Plane& plane = surface_.planes[id];
  const double cosine = std::cos(plane.pitch.radians());
  Member member;
  member.plane = id;
  member.foot_line = chosen(line.feet);
  member.head_line = chosen(line.heads);
  member.kind =
      is_peak(line.heads)
          ? kind_between(kind_at(member.foot_line, false), surface::LineKind::ridge)
          : kind_between(kind_at(member.foot_line, false), kind_at(member.head_line, true));
  const Cut foot = cut_at(plane, line.feet);
  const Cut head = cut_at(plane, line.heads);
  member.at_m = line.at_m;
  member.line_length_m = line.head_v_m - line.foot_v_m;
  member.foot_shortening_m = foot.level_m;
  member.head_shortening_m = head.level_m;
  member.foot_side_cut_rad = foot.side_rad;
  member.side_cut_rad = head.side_rad;
  member.length_m = member.line_length_m - (foot.level_m + head.level_m) / cosine;
  member.from = plane.frame.at({line.at_m, line.foot_v_m + foot.level_m / cosine});
  member.to = plane.frame.at({line.at_m, line.head_v_m - head.level_m / cosine});
  member.thickness_m = stock_[plane.part].rafter_m;
  member.depth_m = stock_[plane.part].rafter_depth_m;
  member.stock = model_.parts[plane.part].framing.rafter;
  member.plumb_cut_rad = 0.5 * std::numbers::pi - plane.pitch.radians();
  member.part = plane.part;
  member.layout_m = line.at_m - plane.wall_start_u_m;
  seat(plane, line, member);
  set_points(member);
  return member;
}

/// Where a rafter from an eave passes over the plate of the wall that carries it.
void PlaneFramer::seat(const surface::Plane& plane, const CentreLine& line, Member& member) const {
  const LineId foot = chosen(line.feet);
  if (is_kept(foot) || (!foot.is_none() && surface_.lines[foot].kind != surface::LineKind::eave)) {
    return;
  }
  const surface::WallLine wall =
      foot.is_none() ? surface::WallLine{plane.wall_line_v_m, plane.part}
                     : surface::wall_line_at(surface_, plane, {line.at_m, line.foot_v_m});
  const double cut_head_v_m = plane.frame.uv(member.to).y;
  if (line.foot_v_m > wall.v_m + near_m || cut_head_v_m <= wall.v_m + near_m) {
    return;
  }
  const model::Part& part = model_.parts[wall.part];
  set_seat(member, {plane.pitch.radians(), wall.v_m - line.foot_v_m,
                    plane.frame.at({line.at_m, wall.v_m}).z - part.plate_m,
                    part.deck_m / std::cos(plane.pitch.radians()), part.wall_thickness_m});
}

Bay PlaneFramer::bay(PlaneId id, const Cells& cells, std::size_t owner) const {
  Bay bay;
  bay.plane = id;
  const std::vector<std::size_t> pieces = cells.pieces_of(owner);
  bay.from_u_m = cells.piece(pieces.front()).u0;
  bay.to_u_m = bay.from_u_m;
  for (const std::size_t piece : pieces) {
    bay.from_u_m = std::min(bay.from_u_m, cells.piece(piece).u0);
    bay.to_u_m = std::max(bay.to_u_m, cells.piece(piece).u1);
  }
  bay.clear_width_m = bay.to_u_m - bay.from_u_m;
  const double middle = 0.5 * (bay.from_u_m + bay.to_u_m);
  bay.foot = LineId(cells.piece(pieces.front()).low_tag);  // a bay too thin to have a middle
  bay.head = LineId(cells.piece(pieces.front()).high_tag);
  for (const std::size_t index : pieces) {
    const slabs::Piece& piece = cells.piece(index);
    const double length = piece.high_at(middle) - piece.low_at(middle);
    if (piece.u0 <= middle && middle <= piece.u1 && length > bay.length_m + near_m) {
      bay.length_m = length;
      bay.foot = LineId(piece.low_tag);
      bay.head = LineId(piece.high_tag);
    }
  }
  for (const std::size_t index : pieces) {
    const slabs::Piece& piece = cells.piece(index);
    const double width = piece.u1 - piece.u0;
    bay.foot_width_m +=
        LineId(piece.low_tag) == bay.foot ? std::hypot(width, piece.low1 - piece.low0) : 0.0;
    bay.head_width_m +=
        LineId(piece.high_tag) == bay.head ? std::hypot(width, piece.high1 - piece.high0) : 0.0;
  }
  bay.kind = kind_between(kind_at(bay.foot, false), kind_at(bay.head, true));
  resolve(bay.foot, bay.foot_header);
  resolve(bay.head, bay.head_header);
  bay.outline = cells.outline(owner);
  return bay;
}

/// Where the plane's border leans back over the end of a rafter, the bay reaches over it; its clear
/// width is still that between the rafters.
void PlaneFramer::clear_of_members(Bay& bay) const {
  double from = bay.from_u_m;
  double to = bay.to_u_m;
  if (!bay.left.is_none()) {
    const Member& left = framing_.members[bay.left];
    from = std::max(from, left.at_m + 0.5 * left.thickness_m);
  }
  if (!bay.right.is_none()) {
    const Member& right = framing_.members[bay.right];
    to = std::min(to, right.at_m - 0.5 * right.thickness_m);
  }
  if (to > from) {
    bay.from_u_m = from;
    bay.to_u_m = to;
    bay.clear_width_m = to - from;
  }
}

/// Takes the rafter in unless it overlaps one before it, or would be shorter than it is thick.
void PlaneFramer::stand(Standing one, std::vector<std::uint8_t>& taken,
                        std::vector<Standing>& all) {
  const bool is_taken = std::any_of(one.pieces.begin(), one.pieces.end(),
                                    [&](std::size_t piece) { return taken[piece] != 0; });
  if (is_taken || one.pieces.empty() || one.member.length_m <= one.member.thickness_m) {
    return;
  }
  for (const std::size_t piece : one.pieces) {
    taken[piece] = 1;
  }
  all.push_back(std::move(one));
}

/// The rafters of a plane, along the eave. Those at its borders come first; a layout mark gives way
/// where it would overlap one of them. Beside openings, what is left of those that would stand.
std::vector<PlaneFramer::Standing> PlaneFramer::standing(PlaneId id, std::vector<Mark> marks,
                                                         const OpeningPlan& plan,
                                                         const Layout& layout,
                                                         const Cells& cells) const {
  std::stable_partition(marks.begin(), marks.end(), [](const Mark& mark) { return mark.is_end; });
  const double thickness_m = stock_[surface_.planes[id].part].rafter_m;
  std::vector<Standing> all;
  std::vector<std::uint8_t> taken(cells.piece_count(), 0);
  const auto may_stand = [&](const Mark& mark, const CentreLine& line) {
    // A piece that an opening leaves may reach less far than what keeps its whole rafter away.
    const bool stands = plan.kept.empty() ? layout.stands(mark, line.foot_v_m, line.head_v_m)
                                          : plan.has_piece(line.at_m, line.foot_v_m, line.head_v_m);
    return stands && cells.is_free(line) &&
           !plan.blocks(line.at_m, line.foot_v_m, line.head_v_m, thickness_m);
  };
  for (const Mark& mark : marks) {
    for (const CentreLine& line : cells.centre_lines(mark.at_m)) {
      if (may_stand(mark, line)) {
        stand({rafter(id, line), cells.strip(line, thickness_m)}, taken, all);
      }
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const Standing& l, const Standing& r) {
    return l.member.at_m < r.member.at_m;
  });
  return all;
}

/// Rafters and second plies beside openings.
void PlaneFramer::add_rafters(PlaneId id, const Layout& layout, const OpeningPlan& plan,
                              Cells& cells) {
  std::vector<Mark> marks = layout.marks();
  for (const Trimmer& ply : plan.trimmers) {
    marks.push_back(ply.mark);
  }
  for (Standing& one : standing(id, marks, plan, layout, cells)) {
    const auto ply =
        std::find_if(plan.trimmers.begin(), plan.trimmers.end(),
                     [&](const Trimmer& trimmer) { return trimmer.mark.at_m == one.member.at_m; });
    if (ply != plan.trimmers.end()) {
      one.member.kind = MemberKind::trimmer;
      one.member.opening = ply->opening;
    }
    const std::size_t owner = cells.take(std::move(one.pieces));
    one.member.id = surface_.planes[id].id + "/r" + std::to_string(owner + 1);
    one.member.outline = cells.outline(owner);
    framing_.members.push_back(std::move(one.member));
  }
}

void PlaneFramer::add_bays(PlaneId id, std::size_t rafters, const Cells& cells) {
  const PlaneFraming& own = framing_.planes[id];
  const auto member_of = [&](std::size_t owner) {
    return owner < rafters ? MemberId(own.first_member + owner) : MemberId();
  };
  std::vector<Bay> bays;
  for (std::size_t owner = cells.first_bay(); owner < cells.owners(); ++owner) {
    bays.push_back(bay(id, cells, owner));
    bays.back().left = member_of(cells.neighbour(owner, false));
    bays.back().right = member_of(cells.neighbour(owner, true));
    clear_of_members(bays.back());
  }
  std::stable_sort(bays.begin(), bays.end(),
                   [](const Bay& l, const Bay& r) { return l.from_u_m < r.from_u_m; });
  for (std::size_t i = 0; i < bays.size(); ++i) {
    bays[i].id = surface_.planes[id].id + "/b" + std::to_string(i + 1);
    framing_.bays.push_back(std::move(bays[i]));
  }
}

void PlaneFramer::frame(PlaneId id) {
  const surface::Plane& plane = surface_.planes[id];
  PlaneBorder whole = border_of(surface_, id);
  const std::vector<BorderEdge> border = std::move(whole.edges);
  loops_ = std::move(whole.loops);
  PlaneFraming& own = framing_.planes[id];
  own.first_member = own.end_member = static_cast<std::uint32_t>(framing_.members.size());
  own.first_bay = own.end_bay = static_cast<std::uint32_t>(framing_.bays.size());
  if (border.size() < 3) {
    return;
  }
  const double thickness_m = stock_[plane.part].rafter_m;
  const std::vector<DormerHole> holes = holes_in(id);
  std::vector<std::size_t> dormers;
  dormers.reserve(holes.size());
  for (const DormerHole& hole : holes) {
    dormers.push_back(hole.part);
  }
  Layout layout(model_, surface_, plane, border, thickness_m, dormers);
  for (const DormerHole& hole : holes) {
    layout.add(trimmers_of(hole, thickness_m));
  }
  const OpeningPlan plan = openings_of(id, border, layout);
  Cells cells(border, centres_of(layout.marks(), plan.trimmers), thickness_m, plan.kept);
  add_rafters(id, layout, plan, cells);
  const std::size_t rafters = cells.owners();
  for (const DormerHole& hole : holes) {
    join_trimmers(id, hole);
  }
  add_kept(id, plan, cells);
  cells.take_bays();
  add_bays(id, rafters, cells);
  own.end_member = static_cast<std::uint32_t>(framing_.members.size());
  own.end_bay = static_cast<std::uint32_t>(framing_.bays.size());
}

}  // namespace ridgeward::framing
