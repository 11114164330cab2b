#include "framing/dormers.hpp"

#include "base/polygon.hpp"
#include "framing/headers.hpp"
#include "framing/seats.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace ridgeward::framing {

namespace {

/// The part whose wall a line has on the other side of `plane`; the plane's own where there is
/// none.
std::size_t wall_part(const surface::Surface& surface, const surface::Line& line, PlaneId plane) {
  const bool is_left = line.left_plane() == plane;
  const surface::Side& other = is_left ? line.right : line.left;
  return other.of == surface::Side::Of::wall ? surface.walls[other.index].part
                                             : surface.planes[plane].part;
}

bool stands_within(const surface::Surface& surface, std::size_t inner, std::size_t outer) {
  for (const std::vector<glm::dvec2>& loop : surface.wall_outlines[inner]) {
    for (const glm::dvec2 corner : loop) {
      if (!polygon::contains(surface.wall_outlines[outer], corner)) {
        return false;
      }
    }
  }
  return !surface.wall_outlines[inner].empty();
}

/// How far up the plane its lines with planes of `part` reach.
double roof_top(const surface::Surface& surface, PlaneId id, std::size_t part) {
  const surface::Plane& plane = surface.planes[id];
  double top = -HUGE_VAL;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface.lines[step.line];
      const PlaneId other = line.left_plane() == id ? line.right_plane() : line.left_plane();
      if (!other.is_none() && surface.planes[other].part == part) {
        top = std::max({top, plane.frame.uv(surface.nodes[line.from]).y,
                        plane.frame.uv(surface.nodes[line.to]).y});
      }
    }
  }
  return top;
}

DormerHole hole_of(const surface::Surface& surface, std::size_t part, PlaneId id) {
  const surface::Frame& frame = surface.planes[id].frame;
  const double up_per_run = 1.0 / std::hypot(frame.up.x, frame.up.y);
  const glm::dvec2 up = glm::dvec2{frame.up} * up_per_run;  // level, of length 1
  DormerHole hole{part, id, HUGE_VAL, -HUGE_VAL, HUGE_VAL, roof_top(surface, id, part)};
  for (const glm::dvec2 corner : surface.wall_outlines[part].front()) {
    const glm::dvec2 d = corner - glm::dvec2{frame.origin};
    const double u = d.x * frame.along.x + d.y * frame.along.y;
    hole.from_u_m = std::min(hole.from_u_m, u);
    hole.to_u_m = std::max(hole.to_u_m, u);
    hole.front_v_m = std::min(hole.front_v_m, (d.x * up.x + d.y * up.y) * up_per_run);
  }
  return hole;
}

/// Whether a point lies where the dormer's roof runs out on the plane.
bool is_at_top(const surface::Surface& surface, const DormerHole& hole, glm::dvec3 p) {
  const surface::Frame& frame = surface.planes[hole.plane].frame;
  const glm::dvec2 uv = frame.uv(p);
  return std::abs(uv.y - hole.top_v_m) < 1e-4 && uv.x > hole.from_u_m && uv.x < hole.to_u_m &&
         glm::length(p - frame.at(uv)) < 1e-4;
}

/// Takes a length off the end of a level board that lies nearer to a point.
void shorten(Member& board, glm::dvec3 end, double by_m) {
  const glm::dvec3 along = (board.to - board.from) / board.length_m;
  if (glm::length(board.to - end) < glm::length(board.from - end)) {
    board.to -= by_m * along;
    board.head_shortening_m += by_m;
  } else {
    board.from += by_m * along;
    board.foot_shortening_m += by_m;
  }
  board.length_m -= by_m;
  set_points(board);
}

}  // namespace

std::vector<DormerHole> dormer_holes(const Building& building) {
  const surface::Surface& surface = building.surface;
  std::map<std::pair<std::size_t, PlaneId>, bool> found;
  for (const surface::Line& line : surface.lines) {
    if (line.kind != surface::LineKind::headwall) {
      continue;
    }
    const PlaneId plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    if (plane.is_none()) {
      continue;
    }
    const std::size_t earlier = surface.planes[plane].part;
    const std::size_t part = wall_part(surface, line, plane);
    const bool is_dormer =
        part > earlier && !building.stock[part].is_overlaid && !building.stock[earlier].is_truss &&
        part < surface.wall_outlines.size() && stands_within(surface, part, earlier);
    if (is_dormer) {
      found[{part, plane}] = true;
    }
  }
  std::vector<DormerHole> holes;
  for (const auto& [key, is_found] : found) {
    const DormerHole hole = hole_of(surface, key.first, key.second);
    const double thickness_m = building.stock[surface.planes[key.second].part].rafter_m;
    if (hole.to_u_m - hole.from_u_m > 8.0 * thickness_m) {
      holes.push_back(hole);
    }
  }
  return holes;
}

std::vector<double> trimmers_of(const DormerHole& hole, double thickness_m) {
  return {hole.from_u_m + 0.5 * thickness_m, hole.from_u_m + 1.5 * thickness_m,
          hole.to_u_m - 1.5 * thickness_m, hole.to_u_m - 0.5 * thickness_m};
}

void add_front_headers(const Building& building, const std::vector<DormerHole>& holes,
                       Framing& framing) {
  for (const DormerHole& hole : holes) {
    const surface::Plane& plane = building.surface.planes[hole.plane];
    const PartStock& timber = building.stock[plane.part];
    const double from = hole.from_u_m + 2.0 * timber.rafter_m;
    const double to = hole.to_u_m - 2.0 * timber.rafter_m;
    Member header;
    header.kind = MemberKind::header;
    header.part = plane.part;
    header.plane = hole.plane;
    header.plies = header_plies(to - from);
    header.thickness_m = header.plies * timber.rafter_m;
    const double v = hole.front_v_m + 0.5 * header.thickness_m;
    header.from = plane.frame.at({from, v});
    header.to = plane.frame.at({to, v});
    header.at_m = 0.5 * (from + to);
    header.layout_m = header.at_m - plane.wall_start_u_m;
    header.line_length_m = header.length_m = to - from;
    header.depth_m = timber.rafter_depth_m;
    header.stock = building.model.parts[plane.part].framing.rafter;
    header.plumb_cut_rad = 0.5 * std::numbers::pi;
    header.opening = building.model.parts[hole.part].id;
    header.id = plane.id + "/" + header.opening + "/front";
    set_points(header);
    framing.assumptions.push_back(
        "Dormer " + header.opening + " is taken as open below: the rafters of " + plane.id +
        " are doubled under its side walls and cut between headers under its front wall and where "
        "its roof runs out. Give its valleys as overlaid if they go on beneath it.");
    framing.members.push_back(std::move(header));
  }
}

namespace {

void fit_ridge(const surface::Surface& surface, const DormerHole& hole, double half_m,
               Member& ridge) {
  const surface::Line& line = surface.lines[ridge.line];
  for (const NodeId node : {line.from, line.to}) {
    if (is_at_top(surface, hole, surface.nodes[node])) {
      shorten(ridge, surface.nodes[node], half_m);
    }
  }
}

}  // namespace

void fit_ridges(const Building& building, const std::vector<DormerHole>& holes, Framing& framing) {
  const surface::Surface& surface = building.surface;
  for (const DormerHole& hole : holes) {
    const double half_m = 0.5 * building.stock[surface.planes[hole.plane].part].rafter_m;
    for (Member& ridge : framing.members) {
      if (ridge.kind == MemberKind::ridge_board && ridge.part == hole.part) {
        fit_ridge(surface, hole, half_m, ridge);
      }
    }
  }
}

}  // namespace ridgeward::framing
