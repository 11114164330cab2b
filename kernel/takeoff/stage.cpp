#include "takeoff/courses.hpp"
#include "takeoff/order.hpp"
#include "takeoff/sections.hpp"
#include "takeoff/takeoff.hpp"

namespace ridgeward::takeoff {

namespace {

void add_line(Lengths& lengths, const surface::Line& line) {
  switch (line.kind) {
    case surface::LineKind::eave:
      lengths.eave_m += line.length_m;
      break;
    case surface::LineKind::rake:
      lengths.rake_m += line.length_m;
      break;
    case surface::LineKind::ridge:
      lengths.ridge_m += line.length_m;
      break;
    case surface::LineKind::hip:
      lengths.hip_m += line.length_m;
      break;
    case surface::LineKind::valley:
      lengths.valley_m += line.length_m;
      break;
    case surface::LineKind::headwall:
    case surface::LineKind::sidewall:
    case surface::LineKind::step_wall:
      lengths.wall_m += line.length_m;
      break;
    default:
      break;
  }
}

}  // namespace

Takeoff count(const model::RoofModel& model, const model::Catalogue& catalogue,
              const surface::Surface& surface, const vents::Vents& vents) {
  Takeoff takeoff;
  takeoff.planes.resize(surface.planes.size());
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    takeoff.planes[id].area_m2 = plane.area_m2;
    takeoff.planes[id].plan_area_m2 = plane.plan_area_m2;
    takeoff.totals.area_m2 += plane.area_m2;
    takeoff.totals.plan_area_m2 += plane.plan_area_m2;
  }
  for (const surface::Line& line : surface.lines) {
    const PlaneId left = line.left_plane();
    const PlaneId right = line.right_plane();
    if (!left.is_none()) {
      add_line(takeoff.planes[left], line);
    }
    if (!right.is_none() && right != left) {
      add_line(takeoff.planes[right], line);
    }
    if (!left.is_none() || !right.is_none()) {
      add_line(takeoff.totals, line);
    }
  }
  plan_sections(catalogue, surface, vents, takeoff);
  takeoff.shingles = lay_shingles(model, surface);
  write_order(model, catalogue, surface, vents, takeoff);
  return takeoff;
}

}  // namespace ridgeward::takeoff
