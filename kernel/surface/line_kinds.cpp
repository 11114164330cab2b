// What the trade calls each line, from the faces beside it alone.
#include "surface/assemble.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace ridgeward::surface {

namespace {

// A ridge that is not quite level stays a ridge while it is this much flatter than its planes.
constexpr double ridge_flatness = 1.0 / 8;
constexpr double level_slope = 1e-6;
constexpr double same_normal = 1e-7;

struct Beside {
  const Surface& surface;
  const Line& line;
  glm::dvec3 d;  // from -> to

  double slope() const {
    const double run = std::hypot(d.x, d.y);
    return run > 0 ? std::abs(d.z) / run : HUGE_VAL;
  }
  bool is_level() const { return slope() < level_slope; }

  /// How fast the plane on that side rises going away from the line, square to it in plan.
  double rise_away(const Plane& plane, bool on_left) const {
    const glm::dvec2 away = on_left ? glm::dvec2{-d.y, d.x} : glm::dvec2{d.y, -d.x};
    const glm::dvec2 up{plane.frame.up.x, plane.frame.up.y};
    const double size = std::hypot(d.x, d.y) * glm::length(up);
    return plane.pitch.tangent() * glm::dot(away, up) / size;
  }
};

LineKind between_planes(const Beside& b, const Plane& left, const Plane& right) {
  const double l = b.rise_away(left, true);
  const double r = b.rise_away(right, false);
  // Two edges in one line with one pitch bear planes that lie in one: their seam is no valley.
  if (glm::length(left.frame.normal - right.frame.normal) < same_normal) {
    return LineKind::pitch_break;
  }
  const bool is_outside = l + r < 0;  // an outside corner; else an inside one
  const double flat = ridge_flatness * std::min(left.pitch.tangent(), right.pitch.tangent());
  if (b.is_level() && (l < 0) != (r < 0)) {
    return LineKind::pitch_break;
  }
  if (is_outside) {
    return l < 0 && r < 0 && b.slope() < flat ? LineKind::ridge : LineKind::hip;
  }
  return LineKind::valley;
}

/// The part whose plane ends on top of the wall right above the line's middle. Walls of several
/// parts that stand in one are one face, so the face itself can't tell.
std::size_t part_above(const Surface& surface, const Line& line, std::uint32_t wall_index) {
  const glm::dvec3 middle = (surface.nodes[line.from] + surface.nodes[line.to]) / 2.0;
  const WallFace& wall = surface.walls[wall_index];
  std::size_t part = wall.part;
  double lowest = HUGE_VAL;
  for (const Loop& loop : wall.loops) {
    for (const LoopStep& step : loop) {
      const Line& other = surface.lines[step.line];
      const PlaneId plane = other.left_plane().is_none() ? other.right_plane() : other.left_plane();
      if (plane.is_none() || &other == &line) {
        continue;
      }
      const glm::dvec3 a = surface.nodes[other.from];
      const glm::dvec3 d = surface.nodes[other.to] - a;
      const double run2 = d.x * d.x + d.y * d.y;
      const double at = ((middle.x - a.x) * d.x + (middle.y - a.y) * d.y) / run2;
      const double z = a.z + at * d.z;
      if (run2 > 0 && at >= 0 && at <= 1 && z > middle.z && z < lowest) {
        lowest = z;
        part = surface.planes[plane].part;
      }
    }
  }
  return part;
}

/// A plane and a standing wall: above the line the wall stops the plane, below it carries its edge,
/// unless the model says that a taller wall stands there.
LineKind at_wall(const model::RoofModel& model, const Beside& b, const Plane& plane,
                 bool plane_on_left) {
  const std::uint32_t index = plane_on_left ? b.line.right.index : b.line.left.index;
  const WallFace& wall = b.surface.walls[index];
  if (wall.kind == WallFace::Kind::underside) {
    return LineKind::eave;
  }
  const glm::dvec3 wall_along{-wall.normal.y, wall.normal.x, 0.0};
  const glm::dvec3 with_wall_on_left = plane_on_left ? -b.d : b.d;
  const bool wall_goes_on = wall.kind == WallFace::Kind::gable &&
                            model.parts[wall.part].edge(wall.edge).kind == model::EdgeKind::wall;
  const bool wall_is_above = glm::dot(with_wall_on_left, wall_along) > 0;
  if (wall.is_at_chimney) {
    return b.is_level() ? LineKind::headwall : LineKind::sidewall;
  }
  if (wall_is_above && wall.kind == WallFace::Kind::step &&
      part_above(b.surface, b.line, index) == plane.part) {
    return LineKind::step_wall;
  }
  if (wall_is_above || wall_goes_on) {
    return b.is_level() ? LineKind::headwall : LineKind::sidewall;
  }
  if (!b.is_level()) {
    return LineKind::rake;
  }
  return b.rise_away(plane, plane_on_left) > 0 ? LineKind::eave : LineKind::shed_top;
}

LineKind kind_of(const model::RoofModel& model, const Surface& surface, const Line& line) {
  const Beside b{surface, line, surface.nodes[line.to] - surface.nodes[line.from]};
  const PlaneId left = line.left_plane();
  const PlaneId right = line.right_plane();
  if (!left.is_none() && !right.is_none()) {
    return between_planes(b, surface.planes[left], surface.planes[right]);
  }
  if (!left.is_none()) {
    return at_wall(model, b, surface.planes[left], true);
  }
  if (!right.is_none()) {
    return at_wall(model, b, surface.planes[right], false);
  }
  return LineKind::wall_edge;
}

}  // namespace

void classify_lines(const model::RoofModel& model, Surface& surface) {
  for (Line& line : surface.lines) {
    line.kind = kind_of(model, surface, line);
  }
}

void name_lines(Surface& surface) {
  struct Named {
    std::string name;
    double along;
    double z;
    LineId line;
  };
  std::vector<Named> all;
  for (const LineId id : surface.lines.ids()) {
    const Line& line = surface.lines[id];
    if (line.kind == LineKind::wall_edge) {
      continue;
    }
    PlaneId a = line.left_plane();
    PlaneId b = line.right_plane();
    if (a.is_none() || (!b.is_none() && b < a)) {
      std::swap(a, b);
    }
    const Plane& plane = surface.planes[a];
    const glm::dvec3 middle = (surface.nodes[line.from] + surface.nodes[line.to]) / 2.0;
    const std::string other = b.is_none() ? word(line.kind) : surface.planes[b].id;
    all.push_back({plane.id + "|" + other, plane.frame.uv(middle).x, middle.z, id});
  }
  std::sort(all.begin(), all.end(), [](const Named& a, const Named& b) {
    return std::tie(a.name, a.along, a.z) < std::tie(b.name, b.along, b.z);
  });
  for (std::size_t i = 0, count = 1; i < all.size(); ++i) {
    count = i > 0 && all[i].name == all[i - 1].name ? count + 1 : 1;
    surface.lines[all[i].line].id =
        count > 1 ? all[i].name + "#" + std::to_string(count) : all[i].name;
  }
}

}  // namespace ridgeward::surface
