#include "scene/pick.hpp"

#include "base/segment.hpp"

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
  const double share = segment::nearest_share(*a, *b, pixel);
  near.distance_px = segment::distance(*a, *b, pixel);
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
  const Seen seen(scene, lens);
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
      if (seen.is_in_sight(stroke.from + share * (stroke.to - stroke.from))) {
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

namespace {

constexpr double cell_px = 24.0;

/// Whether a hit, if any, does not stand before the point that appears at the pixel.
bool lets_see(const std::optional<Hit>& hit, const Lens& lens, glm::dvec3 point) {
  const bool is_flat = lens.camera.is_flat;
  const double distance = is_flat ? lens.depth(point) : glm::length(point - lens.camera.eye());
  const double slack = 0.02 + 1e-3 * (is_flat ? lens.camera.distance_m : distance);
  return !hit || hit->distance_m > distance - slack;
}

}  // namespace

bool is_in_sight(const Scene& scene, const Lens& lens, glm::dvec3 point) {
  const auto pixel = lens.pixel(point);
  return pixel && lens.shows(point) &&
         lets_see(first_hit(scene, lens.ray(*pixel), lens.keeps), lens, point);
}

Seen::Seen(const Scene& scene, const Lens& lens)
    : lens_(lens),
      columns_(static_cast<std::size_t>(std::max(1.0, lens.viewport.width / cell_px)) + 1),
      rows_(static_cast<std::size_t>(std::max(1.0, lens.viewport.height / cell_px)) + 1),
      cells_(columns_ * rows_) {
  for (std::size_t i = 0; i < scene.faces.size(); ++i) {
    if (!stops_sight(scene.faces[i])) {
      continue;
    }
    for (const Triangle& triangle : scene.faces[i].triangles) {
      add(i, triangle);
    }
  }
}

void Seen::add(std::size_t face, const Triangle& triangle) {
  Piece piece{face, &triangle, lens_.viewport_low(), lens_.viewport_high()};
  const auto a = lens_.pixel(triangle[0]);
  const auto b = lens_.pixel(triangle[1]);
  const auto c = lens_.pixel(triangle[2]);
  if (a && b && c) {  // else it reaches behind the eye and may be anywhere
    piece.low = glm::min(*a, glm::min(*b, *c)) - 1.0;
    piece.high = glm::max(*a, glm::max(*b, *c)) + 1.0;
  }
  for (std::size_t y = row(piece.low.y); y <= row(piece.high.y); ++y) {
    for (std::size_t x = column(piece.low.x); x <= column(piece.high.x); ++x) {
      cells_[y * columns_ + x].push_back(pieces_.size());
    }
  }
  pieces_.push_back(piece);
}

std::size_t Seen::column(double x) const {
  const double cell = (x - lens_.viewport.x) / cell_px;
  return static_cast<std::size_t>(std::clamp(cell, 0.0, static_cast<double>(columns_ - 1)));
}

std::size_t Seen::row(double y) const {
  const double cell = (y - lens_.viewport.y) / cell_px;
  return static_cast<std::size_t>(std::clamp(cell, 0.0, static_cast<double>(rows_ - 1)));
}

const std::vector<std::size_t>& Seen::near(glm::dvec2 pixel) const {
  return cells_[row(pixel.y) * columns_ + column(pixel.x)];
}

std::optional<Hit> Seen::at(glm::dvec2 pixel) const {
  const Ray ray = lens_.ray(pixel);
  std::optional<Hit> nearest;
  for (const std::size_t index : near(pixel)) {
    const Piece& piece = pieces_[index];
    if (pixel.x < piece.low.x || pixel.x > piece.high.x || pixel.y < piece.low.y ||
        pixel.y > piece.high.y) {
      continue;
    }
    const auto distance = distance_to(ray, *piece.triangle);
    const bool is_nearer = distance && (!nearest || *distance < nearest->distance_m);
    if (is_nearer && (!lens_.keeps || lens_.keeps->holds(ray.from + *distance * ray.direction))) {
      nearest = Hit{*distance, piece.face};
    }
  }
  return nearest;
}

bool Seen::is_in_sight(glm::dvec3 point) const {
  const auto pixel = lens_.pixel(point);
  return pixel && lens_.shows(point) && lets_see(at(*pixel), lens_, point);
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
