#include "surface/crickets.hpp"

#include "base/polygon.hpp"
#include "base/regions.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::surface {

namespace {

constexpr double needs_over_m = 30 * units::inch_m;
constexpr double tolerance_m = 1e-9;
constexpr double least_m2 = 1e-6;

/// Behind the chimney, in coordinates of its plane: left and right foot, and the far end.
struct Foot {
  glm::dvec2 left{0.0};
  glm::dvec2 right{0.0};
  glm::dvec2 top{0.0};
  polygon::Loop loop() const { return {left, right, top}; }
};

Foot foot_behind(const Region& region, const Plane& plane) {
  const polygon::Box box = polygon::box_of(region.outline_uv);
  const double half = (box.high.x - box.low.x) / 2;
  // The ridge is level: it reaches the deck as far up, in plan, as it is wide to one side.
  const double up = half * plane.pitch.slope_factor();
  return {{box.low.x, box.high.y}, box.high, {box.low.x + half, box.high.y + up}};
}

/// Why no cricket fits there; empty when one does.
std::string in_the_way(const Surface& surface, const Region& region, const Foot& foot) {
  const Plane& plane = surface.planes[region.plane];
  polygon::Loops border;
  for (const Loop& loop : plane.loops) {
    border.push_back(corners_uv(surface, plane.frame, loop));
  }
  if (polygon::area(regions::without({foot.loop()}, border)) > least_m2) {
    return "there is no room for one below the top of plane " + plane.id;
  }
  for (const Region& other : surface.regions) {
    if (other.plane == region.plane && other.obstacle != region.obstacle &&
        polygon::overlap_area({foot.loop()}, {other.outline_uv}) > least_m2) {
      return "\"" + other.id + "\" is in the way";
    }
  }
  return {};
}

/// The only region of the obstacle; none where it stands on several planes.
const Region* region_of(const Surface& surface, std::size_t obstacle) {
  const Region* found = nullptr;
  for (const Region& region : surface.regions) {
    if (region.obstacle == obstacle) {
      if (found != nullptr) {
        return nullptr;
      }
      found = &region;
    }
  }
  return found;
}

double width_of(const Surface& surface, std::size_t obstacle) {
  double width = 0.0;
  for (const Region& region : surface.regions) {
    if (region.obstacle == obstacle) {
      const polygon::Box box = polygon::box_of(region.outline_uv);
      width = std::max(width, box.high.x - box.low.x);
    }
  }
  return width;
}

Mesh mesh_of(const Plane& plane, const Foot& foot, std::size_t obstacle) {
  Mesh mesh;
  const glm::dvec3 left = plane.frame.at(foot.left);
  const glm::dvec3 right = plane.frame.at(foot.right);
  const glm::dvec3 top = plane.frame.at(foot.top);
  const glm::dvec3 middle{(left.x + right.x) / 2, (left.y + right.y) / 2, top.z};
  mesh.nodes = {left, right, top, middle};
  MeshFace face;
  face.part = plane.part;
  face.edge = plane.edge;
  face.cricket = static_cast<std::int32_t>(obstacle);
  face.run_per_rise = 1.0 / plane.pitch.tangent();
  const glm::dvec2 along(plane.frame.along);
  face.phase = first_cricket_phase + 2 * obstacle;
  face.normal = along;
  face.anchor = left;
  mesh.faces.push_back(face);
  face.phase += 1;
  face.normal = -along;
  face.anchor = right;
  mesh.faces.push_back(face);
  face.kind = MeshFace::Kind::step;
  face.normal = {-along.y, along.x};
  face.anchor = left;
  mesh.faces.push_back(face);
  face.kind = MeshFace::Kind::underside;
  face.normal = {0.0, 0.0};
  mesh.faces.push_back(face);
  constexpr std::uint32_t l = 0, r = 1, t = 2, m = 3;               // nodes
  constexpr std::uint32_t west = 0, east = 1, wall = 2, under = 3;  // faces
  mesh.arcs = {{l, m, west, wall},  {m, r, east, wall},  {m, t, west, east},
               {t, l, west, under}, {r, t, east, under}, {l, r, wall, under}};
  return mesh;
}

}  // namespace

std::vector<CricketRoof> raise_crickets(const model::RoofModel& model, Surface& surface) {
  std::vector<CricketRoof> crickets;
  for (std::size_t i = 0; i < model.obstacles.size(); ++i) {
    const model::Obstacle& obstacle = model.obstacles[i];
    const bool may_have =
        obstacle.kind == model::ObstacleKind::chimney && obstacle.cricket != model::Cricket::none;
    if (!may_have || (obstacle.cricket == model::Cricket::where_needed &&
                      width_of(surface, i) <= needs_over_m + tolerance_m)) {
      continue;
    }
    const Region* region = region_of(surface, i);
    if (region == nullptr) {
      surface.assumptions.push_back(fmt::format(
          "Chimney {} stands on several planes: no cricket is worked out for it.", obstacle.id));
      continue;
    }
    const Plane& plane = surface.planes[region->plane];
    const Foot foot = foot_behind(*region, plane);
    const std::string why = plane.pitch.tangent() > 0 ? in_the_way(surface, *region, foot)
                                                      : std::string("its plane is flat");
    if (!why.empty()) {
      surface.assumptions.push_back(
          fmt::format("No cricket is drawn behind chimney {}: {}.", obstacle.id, why));
      continue;
    }
    crickets.push_back({i, region->plane, mesh_of(plane, foot, i)});
  }
  return crickets;
}

void lay_out_cricket_decks(const std::vector<CricketRoof>& crickets, const model::RoofModel& model,
                           Surface& surface) {
  for (const CricketRoof& cricket : crickets) {
    BlindDeck deck;
    deck.plane = cricket.plane;
    deck.frame = surface.planes[deck.plane].frame;
    deck.part = surface.planes[deck.plane].part;
    deck.cricket = model.obstacles[cricket.obstacle].id;
    polygon::Loop loop;
    for (std::size_t i = 0; i < 3; ++i) {
      loop.push_back(deck.frame.uv(cricket.mesh.nodes[i]));
    }
    deck.area_m2 = polygon::area(loop);
    deck.outline_uv.push_back(std::move(loop));
    surface.blind_decks.push_back(std::move(deck));
  }
}

}  // namespace ridgeward::surface
