#include "framing/stage.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::framing {

namespace {

constexpr double upright_m = 1e-6;
constexpr double near_m = 1e-5;  // a united surface moves borders by micrometres

/// A rake of the plane's border, the plane on its left hand.
struct Rake {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  const surface::WallFace* wall = nullptr;  ///< under it; null when the surface has no walls

  bool is_on_right() const { return b.y > a.y; }
  bool is_upright() const { return std::abs(b.x - a.x) <= upright_m; }
};

std::vector<Rake> rakes_of(const surface::Surface& surface, const surface::Plane& plane) {
  std::vector<Rake> rakes;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface.lines[step.line];
      if (line.kind != surface::LineKind::rake) {
        continue;
      }
      const surface::Side& under = step.forward ? line.right : line.left;
      Rake rake;
      rake.a = plane.frame.uv(surface.nodes[step.forward ? line.from : line.to]);
      rake.b = plane.frame.uv(surface.nodes[step.forward ? line.to : line.from]);
      if (under.of == surface::Side::Of::wall) {
        rake.wall = &surface.walls[under.index];
      }
      rakes.push_back(rake);
    }
  }
  return rakes;
}

GableEnd end_at(const Rake& rake, double wall_u_m) {
  return {wall_u_m, rake.is_on_right() ? std::max(rake.a.x, rake.b.x) : std::min(rake.a.x, rake.b.x),
          std::min(rake.a.y, rake.b.y), std::max(rake.a.y, rake.b.y), rake.is_on_right()};
}

}  // namespace

std::vector<GableEnd> gable_ends(const model::RoofModel& model, const surface::Surface& surface,
                                 const surface::Plane& plane) {
  const model::Part& own = model.parts[plane.part];
  const Neighbours beside = neighbours_of(own, plane.edge);
  std::vector<GableEnd> ends;
  for (const Rake& rake : rakes_of(surface, plane)) {
    const model::Edge& neighbour = own.edge(rake.is_on_right() ? beside.after : beside.before);
    const double own_u_m = rake.is_on_right() ? plane.wall_end_u_m : plane.wall_start_u_m;
    const double way = rake.is_on_right() ? 1.0 : -1.0;
    const bool is_own = rake.wall == nullptr || rake.wall->part == plane.part;
    const double beyond_m = way * (rake.a.x - own_u_m);
    if (is_own && neighbour.kind == model::EdgeKind::gable &&
        (!rake.is_upright() ||
         (beyond_m >= -near_m && beyond_m <= neighbour.overhang_m + near_m))) {
      ends.push_back(end_at(rake, own_u_m));
    } else if (rake.wall != nullptr && rake.is_upright() &&
               rake.wall->kind == surface::WallFace::Kind::gable) {
      const model::Edge& edge = model.parts[rake.wall->part].edge(rake.wall->edge);
      if (edge.kind == model::EdgeKind::gable) {
        ends.push_back(end_at(rake, rake.a.x - way * edge.overhang_m));
      }
    }
  }
  return ends;
}

}  // namespace ridgeward::framing
