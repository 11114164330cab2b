// What openings change on a plane: headers, doubled rafters, cut rafters.
#include "base/polygon.hpp"
#include "framing/plane_framer.hpp"

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
  if (wanted.empty()) {
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
  polygon::Loops loops;
  for (const surface::Loop& loop : plane.loops) {
    loops.push_back(surface::corners_uv(surface_, plane.frame, loop));
  }
  return plan_openings(wanted, loops, whole, thickness_m);
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
