#include "scene/pick.hpp"

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace ridgeward::scene {
namespace {

/// Distance along the ray to a triangle (Moeller and Trumbore 1997), from either side.
std::optional<double> distance_to(const Ray& ray, const Triangle& t) {
  const glm::dvec3 ab = t[1] - t[0];
  const glm::dvec3 ac = t[2] - t[0];
  const glm::dvec3 p = glm::cross(ray.direction, ac);
  const double det = glm::dot(ab, p);
  if (det == 0.0) {
    return std::nullopt;
  }
  const glm::dvec3 from_a = ray.from - t[0];
  const double u = glm::dot(from_a, p) / det;
  const glm::dvec3 q = glm::cross(from_a, ab);
  const double v = glm::dot(ray.direction, q) / det;
  const double distance = glm::dot(ac, q) / det;
  if (u < 0 || v < 0 || u + v > 1 || distance <= 0) {
    return std::nullopt;
  }
  return distance;
}

bool stops_sight(const Face& face) {
  switch (face.role) {
    case FaceRole::roof:
    case FaceRole::wall:
    case FaceRole::trim:
    case FaceRole::obstacle:
      return true;
    default:
      return false;
  }
}

struct NearLine {
  LineId line;
  glm::dvec3 at{0.0};
  double distance_px = std::numeric_limits<double>::infinity();
};

/// The point of a stroke that appears nearest to the pixel.
NearLine nearest_on(const Stroke& stroke, const Lens& lens, glm::dvec2 pixel) {
  NearLine near{stroke.line, {}, std::numeric_limits<double>::infinity()};
  const auto a = lens.pixel(stroke.from);
  const auto b = lens.pixel(stroke.to);
  if (!a || !b) {
    return near;
  }
  const glm::dvec2 way = *b - *a;
  const double squared = glm::dot(way, way);
  const double share =
      squared > 0 ? std::clamp(glm::dot(pixel - *a, way) / squared, 0.0, 1.0) : 0.0;
  near.distance_px = glm::length(*a + share * way - pixel);
  // On the way in space depth enters: the share is perspective-correct.
  const bool is_flat = lens.camera.is_flat;
  const double wa = is_flat ? 1.0 : 1 / lens.depth(stroke.from);
  const double wb = is_flat ? 1.0 : 1 / lens.depth(stroke.to);
  const double in_space = share * wb / ((1 - share) * wa + share * wb);
  near.at = stroke.from + in_space * (stroke.to - stroke.from);
  return near;
}

double worth(const Stroke& stroke) {
  switch (stroke.role) {
    case StrokeRole::slot:
      return 3.0;
    case StrokeRole::valley:
      return 6.0;  // inside corners are where roofs get hard
    case StrokeRole::eave:
    case StrokeRole::ridge:
      return 1.0;
    case StrokeRole::outline:
    case StrokeRole::member:
      return 0.0;
    default:
      return 0.5;
  }
}

/// Pixels of what is worth seeing, weighted.
double worth_of_view(const Scene& scene, const Lens& lens) {
  double sum = 0.0;
  for (const Stroke& stroke : scene.strokes) {
    const auto a = lens.pixel(stroke.from);
    const auto b = lens.pixel(stroke.to);
    if (worth(stroke) <= 0 || !a || !b) {
      continue;
    }
    constexpr int samples = 5;
    for (int i = 0; i < samples; ++i) {
      const double share = (i + 0.5) / samples;
      if (is_in_sight(scene, lens, stroke.from + share * (stroke.to - stroke.from))) {
        sum += worth(stroke) * glm::length(*b - *a) / samples;
      }
    }
  }
  return sum;
}

}  // namespace

std::optional<Hit> first_hit(const Scene& scene, const Ray& ray,
                             const std::optional<HalfSpace>& keeps) {
  std::optional<Hit> nearest;
  for (std::size_t i = 0; i < scene.faces.size(); ++i) {
    const Face& face = scene.faces[i];
    if (!stops_sight(face)) {
      continue;
    }
    for (const Triangle& triangle : face.triangles) {
      const auto distance = distance_to(ray, triangle);
      const bool is_nearer = distance && (!nearest || *distance < nearest->distance_m);
      if (is_nearer && (!keeps || keeps->holds(ray.from + *distance * ray.direction))) {
        nearest = Hit{*distance, i};
      }
    }
  }
  return nearest;
}

bool is_in_sight(const Scene& scene, const Lens& lens, glm::dvec3 point) {
  const double ahead = lens.depth(point);
  const auto pixel = lens.pixel(point);
  if (!pixel || !lens.shows(point)) {
    return false;
  }
  const Ray ray = lens.ray(*pixel);
  const double distance = lens.camera.is_flat ? ahead : glm::length(point - lens.camera.eye());
  const double slack = 0.02 + 1e-3 * (lens.camera.is_flat ? lens.camera.distance_m : distance);
  const auto hit = first_hit(scene, ray, lens.keeps);
  return !hit || hit->distance_m > distance - slack;
}

Picked pick(const Scene& scene, const Lens& lens, glm::dvec2 pixel, double reach_px) {
  NearLine best;
  for (const Stroke& stroke : scene.strokes) {
    if (stroke.line.is_none()) {
      continue;
    }
    const NearLine near = nearest_on(stroke, lens, pixel);
    if (near.distance_px <= reach_px && near.distance_px < best.distance_px &&
        is_in_sight(scene, lens, near.at)) {
      best = near;
    }
  }
  Picked picked;
  if (!best.line.is_none()) {
    picked.line = best.line;
    picked.at = best.at;
    return picked;
  }
  const Ray ray = lens.ray(pixel);
  if (const auto hit = first_hit(scene, ray, lens.keeps)) {
    picked.plane = scene.faces[hit->face].plane;
    picked.at = ray.from + hit->distance_m * ray.direction;
  }
  return picked;
}

Camera best_view(const Scene& scene) {
  const Viewport viewport{0.0, 0.0, 1000.0, 800.0};  // any: the window's size changes no choice
  glm::dvec2 low(std::numeric_limits<double>::infinity());
  glm::dvec2 high(-std::numeric_limits<double>::infinity());
  for (const glm::dvec3& p : scene.corners) {
    low = glm::min(low, glm::dvec2(p));
    high = glm::max(high, glm::dvec2(p));
  }
  const bool is_wide = high.x - low.x >= high.y - low.y;
  Camera best;
  double best_worth = -1.0;
  // Off the corners of the plan, so that no two sides look alike; from -y first.
  for (const double degrees :
       {180.0 + 28.0, 180.0 - 28.0, 180.0 + 52.0, 180.0 - 52.0, 28.0, -28.0, 52.0, -52.0}) {
    Camera camera;
    camera.azimuth_rad = glm::radians(is_wide ? degrees : degrees + 90.0);
    camera.elevation_rad = glm::radians(34.0);
    camera = fitted(camera, scene.corners, viewport, 0.06);
    const double seen = worth_of_view(scene, {camera, viewport});
    if (seen > best_worth * 1.02) {
      best_worth = seen;
      best = camera;
    }
  }
  return best;
}

}  // namespace ridgeward::scene
