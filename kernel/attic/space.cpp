#include "attic/space.hpp"

#include <glm/geometric.hpp>

#include <algorithm>

namespace ridgeward::attic {

double Rise::at(glm::dvec2 plan) const { return base + glm::dot(gradient, plan); }

Rise rise_of(const surface::Plane& plane) {
  const glm::dvec3 n = plane.frame.normal;
  const glm::dvec2 gradient{-n.x / n.z, -n.y / n.z};
  const glm::dvec3 o = plane.frame.origin;
  return {gradient, o.z - glm::dot(gradient, glm::dvec2{o.x, o.y})};
}

Pieces::Pieces(const polygon::Loops& outline) {
  for (polygon::Loop& corners : polygon::convex_pieces(outline)) {
    const polygon::Box own = polygon::box_of(corners);
    box.add(own.low);
    box.add(own.high);
    all.push_back({std::move(corners), own});
  }
}

namespace {

void add_piece(const polygon::Loop& common, const Rise& rise, double ceiling_m, Enclosed& sum) {
  const polygon::Loop under = polygon::clip(common, rise.above(ceiling_m));
  if (under.empty()) {
    return;
  }
  const double area = polygon::area(under);
  sum.volume_m3 += area * (rise.at(polygon::centroid(under)) - ceiling_m);
  for (const glm::dvec2 corner : under) {
    sum.top_m = std::max(sum.top_m, rise.at(corner));
  }
  sum.is_any = true;
}

polygon::Loops plan_of(const surface::Surface& surface, const surface::Plane& plane) {
  polygon::Loops loops;
  for (const surface::Loop& loop : plane.loops) {
    loops.emplace_back();
    for (const glm::dvec3 corner : surface::corners(surface, loop)) {
      loops.back().emplace_back(corner.x, corner.y);
    }
  }
  return loops;
}

void add_plane(const Pieces& roof, const Rise& rise, const Pieces& ceiling, double ceiling_m,
               Enclosed& sum) {
  for (const Pieces::One& r : roof.all) {
    for (const Pieces::One& c : ceiling.all) {
      const polygon::Loop common =
          r.box.touches(c.box) ? polygon::overlap(r.corners, c.corners) : polygon::Loop{};
      if (!common.empty()) {
        add_piece(common, rise, ceiling_m, sum);
      }
    }
  }
}

}  // namespace

Enclosed enclosed(const surface::Surface& surface, const Pieces& ceiling, double ceiling_m) {
  Enclosed sum;
  sum.top_m = ceiling_m;
  for (const surface::Plane& plane : surface.planes) {
    const Pieces roof(plan_of(surface, plane));
    if (roof.box.touches(ceiling.box)) {
      add_plane(roof, rise_of(plane), ceiling, ceiling_m, sum);
    }
  }
  return sum;
}

}  // namespace ridgeward::attic
