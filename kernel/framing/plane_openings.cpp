// What openings change on a plane: headers, doubled rafters, cut rafters.
#include "base/polygon.hpp"
#include "framing/plane_framer.hpp"
#include "framing/seats.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

namespace ridgeward::framing {

std::vector<double> centres_of(const std::vector<Mark>& marks,
                               const std::vector<Trimmer>& trimmers) {
  std::vector<double> centres;
  centres.reserve(marks.size() + trimmers.size());
  for (const Mark& mark : marks) {
    centres.push_back(mark.at_m);
  }
  for (const Trimmer& trimmer : trimmers) {
    centres.push_back(trimmer.mark.at_m);
  }
  return centres;
}

/// Turns what is kept from the name of a line into the header that lies there.
void PlaneFramer::resolve(LineId& line, MemberId& header) const {
  if (is_kept(line)) {
    header = header_of_[index_of_kept(line)];
    line = LineId();
  }
}

/// What the plane's openings ask for, from the rafters as they would stand without them.
OpeningPlan PlaneFramer::openings_of(PlaneId id, const std::vector<BorderEdge>& border,
                                     const Layout& layout) const {
  std::vector<Wanted> wanted;
  for (const surface::Region& region : surface_.regions) {
    if (region.plane == id && region.is_opening && !region.clear_uv.empty()) {
      wanted.push_back(
          {region.id, polygon::box_of(region.clear_uv), region.kind == model::ObstacleKind::pipe});
    }
  }
  const std::vector<DormerHole> holes = holes_in(id);
  if (wanted.empty() && holes.empty()) {
    return {};
  }
  const surface::Plane& plane = surface_.planes[id];
  const double thickness_m = stock_[plane.part].rafter_m;
  Cells cells(border, centres_of(layout.marks(), {}), thickness_m);
  std::vector<WholeRafter> whole;
  for (Standing& one : standing(id, layout.marks(), {}, layout, cells)) {
    // A jack's tip reaches further up on one face than at its centre.
    const std::size_t owner = cells.take(std::move(one.pieces));
    const polygon::Box strip = polygon::box_of(cells.outline(owner));
    whole.push_back({one.member.at_m, strip.low.y, strip.high.y});
  }
  OpeningPlan plan = plan_openings(wanted, loops_, whole, thickness_m);
  for (const DormerHole& hole : holes) {
    add_top_header(hole, plan);
  }
  plan.whole = plan.whole.empty() ? whole : plan.whole;
  return plan;
}

std::vector<DormerHole> PlaneFramer::holes_in(PlaneId id) const {
  std::vector<DormerHole> here;
  std::copy_if(holes_.begin(), holes_.end(), std::back_inserter(here),
               [&](const DormerHole& hole) { return hole.plane == id; });
  return here;
}

/// The header on which a dormer's ridge and valleys hang, or its rafters when it is a shed.
void PlaneFramer::add_top_header(const DormerHole& hole, OpeningPlan& plan) const {
  const double thickness_m = stock_[surface_.planes[hole.plane].part].rafter_m;
  const double from = hole.from_u_m + 2.0 * thickness_m;
  const double to = hole.to_u_m - 2.0 * thickness_m;
  const int plies = header_plies(to - from);
  const double low = hole.top_v_m - 0.5 * thickness_m;  // its inner ply takes the ridge's end
  const double high = low + plies * thickness_m;
  const double middle = 0.5 * (from + to);
  const bool has_room = hole.top_v_m > hole.front_v_m && polygon::contains(loops_, {middle, high});
  if (has_room) {
    plan.kept.push_back({from, to, low, high});
    plan.roles.push_back({true, model_.parts[hole.part].id, plies});
  }
}

/// The strips that are seen of a ply under a dormer's side wall, below its front and over its
/// valleys, are one piece, told by the highest.
void PlaneFramer::join_trimmers(PlaneId id, const DormerHole& hole) {
  const PlaneFraming& own = framing_.planes[id];
  const surface::Plane& plane = surface_.planes[id];
  for (const double at_m : trimmers_of(hole, stock_[plane.part].rafter_m)) {
    std::vector<MemberId> strips;
    for (std::size_t i = own.first_member; i < framing_.members.size(); ++i) {
      if (framing_.members[MemberId(i)].at_m == at_m) {
        strips.emplace_back(i);
      }
    }
    if (strips.empty()) {
      continue;
    }
    std::sort(strips.begin(), strips.end(), [&](MemberId l, MemberId r) {
      return framing_.members[l].from.z < framing_.members[r].from.z;
    });
    Member& whole = framing_.members[strips.back()];
    const Member& low = framing_.members[strips.front()];
    whole.from = low.from;
    whole.foot_line = low.foot_line;
    whole.foot_shortening_m = low.foot_shortening_m;
    whole.foot_side_cut_rad = low.foot_side_cut_rad;
    whole.tail_m = low.tail_m;
    whole.overhang_m = low.overhang_m;
    whole.heel_cut_m = low.heel_cut_m;
    whole.seat_cut_m = low.seat_cut_m;
    whole.over_plate_m = low.over_plate_m;
    whole.length_m = glm::length(whole.to - whole.from);
    whole.line_length_m = whole.length_m + (whole.foot_shortening_m + whole.head_shortening_m) /
                                               std::cos(plane.pitch.radians());
    set_points(whole);
    for (const MemberId strip : strips) {
      Member& member = framing_.members[strip];
      member.kind = MemberKind::trimmer;
      member.opening = model_.parts[hole.part].id;
      member.part_of = strip == strips.back() ? MemberId() : strips.back();
    }
  }
}

Member PlaneFramer::header(PlaneId id, const OpeningPlan& plan, std::size_t kept,
                           std::vector<glm::dvec2> outline) const {
  const surface::Plane& plane = surface_.planes[id];
  const OpeningPlan::Role& role = plan.roles[kept];
  const polygon::Box box = polygon::box_of(outline);
  const double middle = 0.5 * (box.low.y + box.high.y);
  double from = box.low.x;
  double to = box.high.x;
  for (const polygon::Chord& chord : polygon::chords_at({outline}, middle)) {
    from = chord.from;
    to = chord.to;
  }
  Member member;
  member.kind = MemberKind::header;
  member.plane = id;
  member.opening = role.opening;
  member.plies = role.plies;
  member.from = plane.frame.at({from, middle});
  member.to = plane.frame.at({to, middle});
  member.at_m = 0.5 * (from + to);
  member.line_length_m = member.length_m = to - from;
  member.long_point_m = member.short_point_m = member.length_m;
  member.part = plane.part;
  member.layout_m = member.at_m - plane.wall_start_u_m;
  member.thickness_m = role.plies * stock_[plane.part].rafter_m;
  member.depth_m = stock_[plane.part].rafter_depth_m;
  member.stock = model_.parts[plane.part].framing.rafter;
  member.plumb_cut_rad = 0.5 * std::numbers::pi;  // its ends are square
  member.outline = std::move(outline);
  return member;
}

/// Headers and openings; then rafters learn which header they are cut at.
void PlaneFramer::add_kept(PlaneId id, const OpeningPlan& plan, Cells& cells) {
  const PlaneFraming& own = framing_.planes[id];
  const std::size_t rafters = framing_.members.size();
  const std::size_t first = cells.owners();
  const std::vector<std::size_t> taken = cells.take_kept();
  header_of_.assign(plan.kept.size(), {});
  for (std::size_t i = 0; i < taken.size(); ++i) {
    const OpeningPlan::Role& role = plan.roles[taken[i]];
    if (!role.is_header) {
      framing_.openings.push_back({role.opening, id, cells.outline(first + i)});
      continue;
    }
    Member member = header(id, plan, taken[i], cells.outline(first + i));
    member.id =
        surface_.planes[id].id + "/h" + std::to_string(framing_.members.size() - rafters + 1);
    const MemberId added = framing_.members.push_back(std::move(member));
    if (header_of_[taken[i]].is_none()) {
      header_of_[taken[i]] = added;
    }
  }
  for (std::size_t i = own.first_member; i < rafters; ++i) {
    Member& member = framing_.members[MemberId(i)];
    resolve(member.foot_line, member.foot_header);
    resolve(member.head_line, member.head_header);
  }
}

}  // namespace ridgeward::framing
