#include "surface/regions.hpp"

#include "base/polygon.hpp"
#include "base/regions.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>

namespace ridgeward::surface {

namespace {

/// Less than a square millimetre of overlap is two things that touch.
constexpr double least_m2 = 1e-6;

glm::dvec2 square_to(glm::dvec2 d) { return {-d.y, d.x}; }

/// Whether all corners turn left by less than 120 degrees, so that mitres stay short.
bool is_convex_and_blunt(const polygon::Loop& loop) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 a = loop[(i + 1) % loop.size()] - loop[i];
    const glm::dvec2 b = loop[(i + 2) % loop.size()] - loop[(i + 1) % loop.size()];
    const bool is_left = glm::dot(square_to(a), b) > 0.0;
    if (!is_left || glm::dot(a, b) < -0.5 * glm::length(a) * glm::length(b)) {
      return false;
    }
  }
  return true;
}

/// Sides moved outward, corners mitred.
polygon::Loop moved_out(const polygon::Loop& convex, double by_m) {
  polygon::Loop grown;
  grown.reserve(convex.size());
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const glm::dvec2 here = convex[i];
    const glm::dvec2 in = glm::normalize(here - convex[(i + convex.size() - 1) % convex.size()]);
    const glm::dvec2 out = glm::normalize(convex[(i + 1) % convex.size()] - here);
    const glm::dvec2 both = square_to(in) + square_to(out);
    grown.push_back(here - 2.0 * by_m / glm::dot(both, both) * both);
  }
  return grown;
}

/// An outline with an inside or a sharp corner: itself and a strip about each of its sides.
polygon::Loops with_strips(const polygon::Loop& loop, double by_m) {
  std::vector<polygon::Loops> all{{loop}};
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 a = loop[i];
    const glm::dvec2 b = loop[(i + 1) % loop.size()];
    if (glm::length(b - a) <= polygon::tolerance) {
      continue;
    }
    const glm::dvec2 d = by_m * glm::normalize(b - a);
    const glm::dvec2 n = square_to(d);
    all.push_back({{a - d - n, b + d - n, b + d + n, a - d + n}});
  }
  return regions::united(all);
}

polygon::Loops grown(const polygon::Loop& outline, double by_m) {
  if (by_m <= 0.0) {
    return {outline};
  }
  const polygon::Loop loop = polygon::without_idle_points(outline);
  return is_convex_and_blunt(loop) ? polygon::Loops{moved_out(loop, by_m)}
                                   : with_strips(loop, by_m);
}

/// The outer loop with the most area.
polygon::Loop largest(const polygon::Loops& loops) {
  const auto most = std::max_element(
      loops.begin(), loops.end(),
      [](const auto& one, const auto& other) { return polygon::area(one) < polygon::area(other); });
  return most == loops.end() ? polygon::Loop{} : *most;
}

/// A plane's border, in its own coordinates and in plan.
struct Ground {
  polygon::Loops uv;
  polygon::Loops plan;
  polygon::Box plan_box;
};

Ground ground_of(const Surface& surface, const Plane& plane) {
  Ground ground;
  for (const Loop& loop : plane.loops) {
    ground.uv.push_back(corners_uv(surface, plane.frame, loop));
    polygon::Loop flat;
    for (const glm::dvec3& p : corners(surface, loop)) {
      flat.emplace_back(p);
      ground.plan_box.add(flat.back());
    }
    ground.plan.push_back(std::move(flat));
  }
  return ground;
}

class RegionMaker {
 public:
  RegionMaker(const model::RoofModel& model, Surface& surface) : model_(model), surface_(surface) {
    for (const Plane& plane : surface.planes) {
      grounds_.push_back(ground_of(surface, plane));
    }
  }

  void add(std::size_t index);
  Faults check_overlaps() const;
  Faults faults;

 private:
  void add_on_plane(const model::Obstacle& obstacle, std::size_t index);
  void add_from_plan(const model::Obstacle& obstacle, std::size_t index);
  void add_region(std::size_t index, PlaneId plane, polygon::Loop outline_uv);

  const model::RoofModel& model_;
  Surface& surface_;
  std::vector<Ground> grounds_;
};

std::string place_of(std::size_t index) { return "/obstacles/" + std::to_string(index); }

void RegionMaker::add_region(std::size_t index, PlaneId plane, polygon::Loop outline_uv) {
  const model::Obstacle& obstacle = model_.obstacles[index];
  Region region;
  region.id = obstacle.id;
  region.kind = obstacle.kind;
  region.obstacle = index;
  region.plane = plane;
  region.clear_uv =
      largest(regions::common(grown(outline_uv, obstacle.clearance_m), grounds_[plane.value].uv));
  region.outline_uv = std::move(outline_uv);
  region.is_opening = obstacle.kind != model::ObstacleKind::solar;
  surface_.regions.push_back(std::move(region));
}

void RegionMaker::add_on_plane(const model::Obstacle& obstacle, std::size_t index) {
  const PlaneId plane = surface_.plane_named(obstacle.plane);
  if (plane.is_none()) {
    faults.push_back({"obstacle.plane_unknown", place_of(index) + "/plane",
                      fmt::format("\"{}\" lies on plane \"{}\", which is not there", obstacle.id,
                                  obstacle.plane),
                      "name a plane as part/edge, for example " +
                          (surface_.planes.empty() ? "main/0" : surface_.planes.begin()->id)});
    return;
  }
  const glm::dvec2 a = obstacle.at;
  const glm::dvec2 b = obstacle.at + obstacle.size;
  polygon::Loop rectangle{a, {b.x, a.y}, b, {a.x, b.y}};
  const polygon::Loops beyond = regions::without({rectangle}, grounds_[plane.value].uv);
  if (polygon::area(beyond) > least_m2) {
    faults.push_back(
        {"obstacle.off_roof", place_of(index) + "/at",
         fmt::format("\"{}\" reaches beyond the border of plane {}", obstacle.id, obstacle.plane),
         "give \"at\" (along the eave, up the slope) and \"size\" so that all of it "
         "lies on the plane, or give an outline in plan"});
    return;
  }
  add_region(index, plane, std::move(rectangle));
}

void RegionMaker::add_from_plan(const model::Obstacle& obstacle, std::size_t index) {
  polygon::Loop outline = obstacle.outline;
  if (polygon::area(outline) < 0.0) {
    std::reverse(outline.begin(), outline.end());
  }
  const polygon::Box box = polygon::box_of(outline);
  const std::size_t before = surface_.regions.size();
  for (const PlaneId id : surface_.planes.ids()) {
    const Ground& ground = grounds_[id.value];
    if (!box.touches(ground.plan_box)) {
      continue;
    }
    const Frame& frame = surface_.planes[id].frame;
    for (const polygon::Loop& loop : regions::common({outline}, ground.plan)) {
      if (polygon::area(loop) <= least_m2) {
        continue;
      }
      polygon::Loop uv;
      for (const glm::dvec2 p : loop) {
        const glm::dvec2 from = p - glm::dvec2(frame.origin);
        const double rise = -glm::dot(glm::dvec2(frame.normal), from) / frame.normal.z;
        uv.push_back(frame.uv({p, frame.origin.z + rise}));
      }
      add_region(index, id, std::move(uv));
    }
  }
  if (surface_.regions.size() == before) {
    faults.push_back({"obstacle.off_roof", place_of(index) + "/outline",
                      fmt::format("\"{}\" stands over no plane of the roof", obstacle.id),
                      "move it over the roof, or leave it out"});
  }
}

void RegionMaker::add(std::size_t index) {
  const model::Obstacle& obstacle = model_.obstacles[index];
  if (obstacle.outline.empty()) {
    add_on_plane(obstacle, index);
  } else {
    add_from_plan(obstacle, index);
  }
}

Faults RegionMaker::check_overlaps() const {
  Faults found;
  std::vector<const Region*> openings;
  std::vector<polygon::Box> boxes;
  for (const Region& region : surface_.regions) {
    if (region.is_opening) {
      openings.push_back(&region);
      boxes.push_back(polygon::box_of(region.outline_uv));
    }
  }
  for (std::size_t j = 1; j < openings.size(); ++j) {
    for (std::size_t i = 0; i < j; ++i) {
      const Region& one = *openings[i];
      const Region& other = *openings[j];
      if (one.plane != other.plane || one.obstacle == other.obstacle ||
          !boxes[i].touches(boxes[j]) ||
          polygon::overlap_area({one.outline_uv}, {other.outline_uv}) <= least_m2) {
        continue;
      }
      found.push_back({"obstacle.overlaps", place_of(other.obstacle),
                       fmt::format("\"{}\" overlaps \"{}\" on plane {}", other.id, one.id,
                                   surface_.planes[one.plane].id),
                       "move one of them, or give both as one"});
      break;
    }
  }
  return found;
}

}  // namespace

Faults lay_out_regions(const model::RoofModel& model, Surface& surface) {
  if (model.obstacles.empty()) {
    return {};
  }
  RegionMaker maker(model, surface);
  for (std::size_t i = 0; i < model.obstacles.size(); ++i) {
    maker.add(i);
  }
  if (!maker.faults.empty()) {
    return maker.faults;
  }
  return maker.check_overlaps();
}

}  // namespace ridgeward::surface
