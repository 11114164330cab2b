// What can be taken hold of on the drawing.
#include "base/polygon.hpp"
#include "base/segment.hpp"

#include "panels/hand.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::panels {
namespace {

constexpr double end_reach_px = 9.0;
constexpr double body_reach_px = 6.0;

void add_both_ends(std::vector<Grip>& all, Grip like, glm::dvec3 from, glm::dvec3 to) {
  like.end = Grip::End::from;
  like.at = like.until = from;
  all.push_back(like);
  like.end = Grip::End::to;
  like.at = like.until = to;
  all.push_back(like);
}

void add_whole(std::vector<Grip>& all, Grip like, glm::dvec3 from, glm::dvec3 to) {
  like.end = Grip::End::all;
  like.at = from;
  like.until = to;
  all.push_back(like);
}

/// First and last slot of each run, as the run's two ends.
void add_runs(const Assessment& a, bool wholes, std::vector<Grip>& all) {
  for (const model::IntakeRun& run : a.model.intake) {
    const vents::Slot* first = nullptr;
    const vents::Slot* last = nullptr;
    for (const vents::Slot& slot : a.vents.slots) {
      if (slot.run != run.id) {
        continue;
      }
      const Grip grip{Grip::What::intake, Grip::End::all, run.id, {}, {}};
      if (wholes) {
        add_whole(all, grip, slot.from, slot.to);
      }
      first = first == nullptr || slot.start_m < first->start_m ? &slot : first;
      last = last == nullptr || slot.end_m > last->end_m ? &slot : last;
    }
    if (!wholes && first != nullptr) {
      add_both_ends(all, {Grip::What::intake, Grip::End::all, run.id, {}, {}}, first->from,
                    last->to);
    }
  }
}

void add_exhausts(const Assessment& a, bool wholes, std::vector<Grip>& all) {
  for (const vents::Exhaust& exhaust : a.vents.exhausts) {
    const Grip grip{Grip::What::exhaust, Grip::End::all, exhaust.vent, {}, {}};
    if (wholes) {
      add_whole(all, grip, exhaust.from, exhaust.to);
    } else if (!exhaust.line.is_none()) {
      add_both_ends(all, grip, exhaust.from, exhaust.to);
    }
  }
}

/// Height of the roof over a place in plan; the plate's where there is none.
double roof_over(const Assessment& a, glm::dvec2 at) {
  double highest = a.model.parts.empty() ? 0.0 : a.model.parts.front().plate_m;
  for (const surface::Plane& plane : a.surface.planes) {
    if (std::abs(plane.frame.normal.z) > 1e-6 &&
        polygon::contains(surface::plan_of(a.surface, plane), at)) {
      const glm::dvec2 off = at - glm::dvec2(plane.frame.origin);
      const double fall = glm::dot(off, glm::dvec2(plane.frame.normal)) / plane.frame.normal.z;
      highest = std::max(highest, plane.frame.origin.z - fall);
    }
  }
  return highest;
}

double distance_px(const scene::Lens& lens, const Grip& grip, glm::dvec2 pixel) {
  const auto a = lens.pixel(grip.at);
  const auto b = lens.pixel(grip.until);
  return a && b ? segment::distance(*a, *b, pixel) : 1e9;
}

/// The gables of one loop of walls, whose first edge has this number in its part.
void add_gables(const model::Part& part, const std::vector<glm::dvec2>& loop, std::size_t first,
                std::vector<GableWall>& walls) {
  for (std::size_t k = 0; k < loop.size() && first + k < part.edge_count(); ++k) {
    const glm::dvec2 way = loop[(k + 1) % loop.size()] - loop[k];
    const double length_m = glm::length(way);
    if (part.edge(first + k).kind != model::EdgeKind::gable || length_m <= 0.0) {
      continue;
    }
    const glm::dvec2 along = way / length_m;
    walls.push_back({part.id + "/" + std::to_string(first + k),
                     {loop[k], part.plate_m},
                     {along, 0.0},
                     {along.y, -along.x, 0.0},
                     length_m});
  }
}

}  // namespace

std::vector<GableWall> gable_walls(const Assessment& assessment) {
  std::vector<GableWall> walls;
  const auto& outlines = assessment.surface.wall_outlines;
  for (std::size_t i = 0; i < std::min(outlines.size(), assessment.model.parts.size()); ++i) {
    std::size_t first = 0;
    for (const std::vector<glm::dvec2>& loop : outlines[i]) {
      add_gables(assessment.model.parts[i], loop, first, walls);
      first += loop.size();
    }
  }
  return walls;
}

std::optional<glm::dvec2> GableWall::under(const scene::Ray& ray) const {
  const double facing = glm::dot(outward, ray.direction);
  const double distance = facing < -1e-6 ? glm::dot(outward, start - ray.from) / facing : -1.0;
  if (distance <= 0.0) {
    return std::nullopt;
  }
  const glm::dvec3 at = ray.from + distance * ray.direction - start;
  const glm::dvec2 uv{glm::dot(at, along), at.z};
  return uv.x >= 0.0 && uv.x <= length_m ? std::optional(uv) : std::nullopt;
}

std::optional<glm::dvec2> under_wall(const Look& look, const std::string& name,
                                     const scene::Ray& ray) {
  for (const GableWall& wall : gable_walls(look.assessment)) {
    if (wall.name == name) {
      return wall.under(ray);
    }
  }
  return std::nullopt;
}

std::optional<glm::dvec2> plan_under(double height_m, const scene::Ray& ray) {
  if (std::abs(ray.direction.z) < 1e-6) {
    return std::nullopt;
  }
  const double distance = (height_m - ray.from.z) / ray.direction.z;
  return distance > 0.0 ? std::optional(glm::dvec2(ray.from + distance * ray.direction))
                        : std::nullopt;
}

std::optional<std::pair<std::string, glm::dvec2>> gable_under(const Look& look,
                                                              const scene::Lens& lens,
                                                              glm::dvec2 pixel) {
  for (const GableWall& wall : gable_walls(look.assessment)) {
    const auto uv = wall.under(lens.ray(pixel));
    if (uv && uv->y >= 0.0) {
      const glm::dvec3 at = wall.start + uv->x * wall.along + glm::dvec3(0.0, 0.0, uv->y);
      if (scene::is_in_sight(look.scene, lens, at)) {
        return std::pair(wall.name, *uv);
      }
    }
  }
  return std::nullopt;
}

std::vector<Grip> grips(const Assessment& assessment) {
  std::vector<Grip> all;
  add_runs(assessment, false, all);
  add_exhausts(assessment, false, all);
  add_runs(assessment, true, all);
  add_exhausts(assessment, true, all);
  for (const model::Obstacle& obstacle : assessment.model.obstacles) {
    const PlaneId plane = assessment.surface.plane_named(obstacle.plane);
    if (!obstacle.outline.empty()) {
      const glm::dvec2 at = polygon::centroid(obstacle.outline);
      const glm::dvec3 middle(at, roof_over(assessment, at));
      add_whole(all, {Grip::What::obstacle, Grip::End::all, obstacle.id, {}, {}}, middle, middle);
    } else if (!obstacle.plane.empty() && !plane.is_none()) {
      const glm::dvec3 middle =
          assessment.surface.planes[plane].frame.at(obstacle.at + obstacle.size / 2.0);
      add_whole(all, {Grip::What::obstacle, Grip::End::all, obstacle.id, {}, {}}, middle, middle);
    }
  }
  return all;
}

bool is_in_sight(const Look& look, const scene::Lens& lens, const Grip& grip) {
  if (scene::is_in_sight(look.scene, lens, grip.at) ||
      scene::is_in_sight(look.scene, lens, (grip.at + grip.until) / 2.0)) {
    return true;
  }
  const auto pixel = lens.pixel(grip.at);
  const auto hit = grip.what == Grip::What::obstacle && pixel
                       ? scene::first_hit(look.scene, lens.ray(*pixel), lens.keeps)
                       : std::nullopt;
  return hit && look.scene.faces[hit->face].role == scene::FaceRole::obstacle;
}

std::optional<Grip> grip_under(const Look& look, const scene::Lens& lens, glm::dvec2 pixel) {
  for (const Grip& grip : grips(look.assessment)) {
    const double reach = grip.at != grip.until ? body_reach_px : end_reach_px;
    if (distance_px(lens, grip, pixel) <= reach && is_in_sight(look, lens, grip)) {
      return grip;
    }
  }
  return std::nullopt;
}

}  // namespace ridgeward::panels
