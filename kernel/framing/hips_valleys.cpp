#include "framing/cuts.hpp"
#include "framing/seats.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ridgeward::framing {

namespace {

constexpr double least_sine = 1e-6;
/// A nail's width: what is shorter is no piece.
constexpr double least_piece_m = 0.004;

/// One end of a hip, valley or ridge board after cutting.
struct End {
  double shortening_m = 0.0;  ///< level
  double side_cut_rad = 0.0;  ///< off square
};

/// The member that a hip or valley runs into at `node`: the first ridge there, else a hip that
/// comes before it and does not lie in one line with it.
End hip_end(const surface::Surface& surface, const std::vector<PartStock>& stock,
            const Joints& joints, LineId id, NodeId node, double slope_rad) {
  const glm::dvec2 own = plan_direction(surface, surface.lines[id]);
  for (const LineId other : joints.at(node)) {
    if (other == id) {
      break;
    }
    const double sine = sine_between(own, plan_direction(surface, surface.lines[other]));
    if (sine <= least_sine && surface.lines[other].kind == surface.lines[id].kind) {
      return {};  // the two run through as one
    }
    if (sine > least_sine) {
      const double angle = std::asin(sine);
      return {level_shortening_m(thickness_under(surface, stock, other), sine),
              0.5 * std::numbers::pi - std::atan(std::cos(slope_rad) * std::tan(angle))};
    }
  }
  return {};
}

/// A ridge board runs through to the far face of the common rafter that stands at a hipped end.
End ridge_end(const Joints& joints, const PartStock& timber, NodeId node) {
  return {joints.hips(node) >= 2 ? -0.5 * timber.rafter_m : 0.0, 0.0};
}

double backing(const surface::Surface& surface, PlaneId plane, glm::dvec2 direction) {
  if (plane.is_none()) {
    return 0.0;
  }
  const surface::Plane& side = surface.planes[plane];
  const glm::dvec2 eave{side.frame.along.x, side.frame.along.y};
  return std::asin(std::sin(side.pitch.radians()) *
                   std::min(1.0, std::abs(glm::dot(eave, direction))));
}

MemberKind member_kind(surface::LineKind kind) {
  if (kind == surface::LineKind::ridge) {
    return MemberKind::ridge_board;
  }
  return kind == surface::LineKind::hip ? MemberKind::hip : MemberKind::valley;
}

struct Size {
  double thickness_m = 0.0;
  double depth_m = 0.0;
};

Size size_under(MemberKind kind, const PartStock& timber) {
  switch (kind) {
    case MemberKind::ridge_board:
      return {timber.ridge_m, timber.ridge_depth_m};
    case MemberKind::hip:
      return {timber.hip_m, timber.hip_depth_m};
    default:
      return {timber.valley_m, timber.valley_depth_m};
  }
}

void cut_ends(Member& member, const End& foot, const End& head, double slope_rad) {
  const double cosine = std::cos(slope_rad);
  const glm::dvec3 along = (member.to - member.from) / member.line_length_m;
  member.foot_shortening_m = foot.shortening_m;
  member.head_shortening_m = head.shortening_m;
  member.foot_side_cut_rad = foot.side_cut_rad;
  member.side_cut_rad = head.side_cut_rad;
  member.from += foot.shortening_m / cosine * along;
  member.to -= head.shortening_m / cosine * along;
  member.length_m = member.line_length_m - (foot.shortening_m + head.shortening_m) / cosine;
}

/// Where a hip or valley from the eave passes over the corner of the walls: where it has crossed
/// the outer faces under both of its planes.
void seat(const model::RoofModel& model, const surface::Surface& surface, LineId id,
          Member& member) {
  const surface::Line& line = surface.lines[id];
  OverPlate corner;
  double share = -1.0;
  double deck_plumb_m = 0.0;  // the thicker one, measured plumb: the cut has to clear both
  for (const PlaneId side : {line.left_plane(), line.right_plane()}) {
    if (side.is_none()) {
      return;
    }
    const surface::Plane& plane = surface.planes[side];
    const model::Part& part = model.parts[plane.part];
    const double low = plane.frame.uv(member.from).y;
    const double high = plane.frame.uv(member.to).y;
    if (low > plane.wall_line_v_m + 1e-9 || high <= plane.wall_line_v_m) {
      return;
    }
    const double here = (plane.wall_line_v_m - low) / (high - low);
    deck_plumb_m = std::max(deck_plumb_m, part.deck_m / std::cos(plane.pitch.radians()));
    if (here > share) {
      share = here;
      const glm::dvec3 at = member.from + here * (member.to - member.from);
      corner = {0.5 * std::numbers::pi - member.plumb_cut_rad, here * member.line_length_m,
                at.z - part.plate_m, 0.0, part.wall_thickness_m};
    }
  }
  corner.deck_plumb_m = deck_plumb_m;
  set_seat(member, corner);
}

Member board(const model::RoofModel& model, const surface::Surface& surface,
             const std::vector<PartStock>& stock, const Joints& joints, LineId id) {
  const surface::Line& line = surface.lines[id];
  const bool is_rising = surface.nodes[line.to].z >= surface.nodes[line.from].z;
  const NodeId low = is_rising ? line.from : line.to;
  const NodeId high = is_rising ? line.to : line.from;
  const PlaneId any = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
  const PartStock& timber = stock[surface.planes[any].part];

  Member member;
  member.kind = member_kind(line.kind);
  member.line = id;
  member.from = surface.nodes[low];
  member.to = surface.nodes[high];
  member.line_length_m = glm::length(member.to - member.from);
  const Size size = size_under(member.kind, timber);
  member.thickness_m = size.thickness_m;
  member.depth_m = size.depth_m;
  const double rise = (member.to.z - member.from.z) / member.line_length_m;
  const double slope_rad = std::asin(std::clamp(rise, 0.0, 1.0));
  member.plumb_cut_rad = 0.5 * std::numbers::pi - slope_rad;
  member.id = line.id + "/" + word(member.kind);
  member.part = surface.planes[any].part;
  if (member.kind == MemberKind::ridge_board) {
    cut_ends(member, ridge_end(joints, timber, low), ridge_end(joints, timber, high), slope_rad);
    set_points(member);
    return member;
  }
  seat(model, surface, id, member);
  cut_ends(member, hip_end(surface, stock, joints, id, low, slope_rad),
           hip_end(surface, stock, joints, id, high, slope_rad), slope_rad);
  const glm::dvec2 direction = plan_direction(surface, line);
  member.backing_left_rad = backing(surface, line.left_plane(), direction);
  member.backing_right_rad = backing(surface, line.right_plane(), direction);
  member.backing_rad = std::max(member.backing_left_rad, member.backing_right_rad);
  set_points(member);
  if (member.kind == MemberKind::hip) {
    member.drop_m = 0.5 * member.thickness_m * std::tan(member.backing_rad) / std::cos(slope_rad);
  }
  return member;
}

const std::string& stock_name(const model::Framing& framing, MemberKind kind) {
  switch (kind) {
    case MemberKind::ridge_board:
      return framing.ridge;
    case MemberKind::hip:
      return framing.hip;
    default:
      return framing.valley;
  }
}

bool is_of_cricket(const surface::Surface& surface, PlaneId plane) {
  return !plane.is_none() && !surface.planes[plane].cricket.empty();
}

}  // namespace

std::vector<Member> board_members(const model::RoofModel& model, const surface::Surface& surface,
                                  const std::vector<PartStock>& stock, const Joints& joints) {
  std::vector<Member> members;
  for (const LineId id : surface.lines.ids()) {
    const surface::Line& line = surface.lines[id];
    const bool is_board = line.kind == surface::LineKind::ridge ||
                          line.kind == surface::LineKind::hip ||
                          line.kind == surface::LineKind::valley;
    const PlaneId any = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    const bool is_cricket =
        is_of_cricket(surface, line.left_plane()) || is_of_cricket(surface, line.right_plane());
    if (!is_board || any.is_none() || is_cricket || has_no_board(surface, stock, id)) {
      continue;
    }
    Member member = board(model, surface, stock, joints, id);
    member.stock = stock_name(model.parts[surface.planes[any].part].framing, member.kind);
    if (member.length_m >= least_piece_m) {
      members.push_back(std::move(member));
    }
  }
  return members;
}

}  // namespace ridgeward::framing
