#include "framing/stage.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

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
  return {wall_u_m,
          rake.is_on_right() ? std::max(rake.a.x, rake.b.x) : std::min(rake.a.x, rake.b.x),
          std::min(rake.a.y, rake.b.y),
          std::max(rake.a.y, rake.b.y),
          rake.is_on_right(),
          rake.is_upright()};
}

/// Whether a wall of this kind goes up under a rake.
bool is_gable_wall(model::EdgeKind kind) {
  return kind == model::EdgeKind::gable || kind == model::EdgeKind::half_hip;
}

/// Whether a gable of walls from `a` to `b`, in the plane's own u and v, stands under an upright
/// rake.
bool stands_under(const model::Edge& gable, glm::dvec2 a, glm::dvec2 b, const Rake& rake) {
  const double way = rake.is_on_right() ? 1.0 : -1.0;
  // The walls run counter-clockwise: up the slope where the house ends on the right.
  const bool is_beside = way * (b.y - a.y) > 0.0 &&
                         std::min(a.y, b.y) < std::max(rake.a.y, rake.b.y) &&
                         std::min(rake.a.y, rake.b.y) < std::max(a.y, b.y);
  return is_gable_wall(gable.kind) && is_beside && std::abs(b.x - a.x) <= near_m &&
         std::abs(way * (rake.a.x - a.x) - gable.overhang_m) <= near_m;
}

/// The gable of one part over which an upright rake hangs; its u.
std::optional<double> wall_behind(const model::Part& part,
                                  const std::vector<std::vector<glm::dvec2>>& walls,
                                  const surface::Frame& frame, const Rake& rake) {
  const glm::dvec2 along{frame.along};
  const glm::dvec2 up{frame.up};
  const auto uv = [&](glm::dvec2 p) {
    const glm::dvec2 d = p - glm::dvec2{frame.origin};
    return glm::dvec2{glm::dot(d, along), glm::dot(d, up) / glm::dot(up, up)};
  };
  std::size_t edge = 0;
  for (const std::vector<glm::dvec2>& loop : walls) {
    for (std::size_t i = 0; i < loop.size(); ++i, ++edge) {
      const glm::dvec2 a = uv(loop[i]);
      if (stands_under(part.edge(edge), a, uv(loop[(i + 1) % loop.size()]), rake)) {
        return a.x;
      }
    }
  }
  return std::nullopt;
}

/// The same of any part: where planes of two parts lie in one, the face under the rake doesn't
/// tell.
std::optional<double> wall_behind(const model::RoofModel& model, const surface::Surface& surface,
                                  const surface::Plane& plane, const Rake& rake) {
  for (std::size_t part = 0; part < surface.wall_outlines.size(); ++part) {
    const auto found =
        wall_behind(model.parts[part], surface.wall_outlines[part], plane.frame, rake);
    if (found) {
      return found;
    }
  }
  return std::nullopt;
}

}  // namespace

std::vector<GableEnd> gable_ends(const model::RoofModel& model, const surface::Surface& surface,
                                 const surface::Plane& plane) {
  const model::Part& own = model.parts[plane.part];
  const bool is_run = !plane.run_edges.empty();
  const Neighbours beside{neighbours_of(own, is_run ? plane.run_edges.front() : plane.edge).before,
                          neighbours_of(own, is_run ? plane.run_edges.back() : plane.edge).after};
  std::vector<GableEnd> ends;
  for (const Rake& rake : rakes_of(surface, plane)) {
    const model::Edge& neighbour = own.edge(rake.is_on_right() ? beside.after : beside.before);
    const double own_u_m = rake.is_on_right() ? plane.wall_end_u_m : plane.wall_start_u_m;
    const double way = rake.is_on_right() ? 1.0 : -1.0;
    const bool is_own = rake.wall == nullptr || rake.wall->part == plane.part;
    const double beyond_m = way * (rake.a.x - own_u_m);
    if (is_own && is_gable_wall(neighbour.kind) &&
        (!rake.is_upright() ||
         (beyond_m >= -near_m && beyond_m <= neighbour.overhang_m + near_m))) {
      ends.push_back(end_at(rake, own_u_m));
    } else if (is_own && neighbour.kind == model::EdgeKind::gablet && rake.is_upright() &&
               beyond_m < -near_m) {
      ends.push_back(end_at(rake, rake.a.x));  // the small gable stands right under its rake
    } else if (rake.is_upright()) {
      if (const std::optional<double> wall_u_m = wall_behind(model, surface, plane, rake)) {
        ends.push_back(end_at(rake, *wall_u_m));
      }
    }
  }
  return ends;
}

}  // namespace ridgeward::framing
