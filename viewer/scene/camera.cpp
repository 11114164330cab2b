#include "scene/camera.hpp"

#include <glm/ext/matrix_clip_space.hpp>
#include <glm/ext/matrix_transform.hpp>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace ridgeward::scene {
namespace {

constexpr double nearest_m = 0.2;
constexpr double farthest_m = 5000.0;
constexpr double plan_angle = 0.04;
constexpr double quarter_turn = std::numbers::pi / 2;
constexpr double flat_back_m = 2000.0;  // of a flat camera's eye: behind any house

double half_height(const Camera& camera) { return std::tan(camera.view_angle_rad / 2); }

/// Where, relative to the camera's target, the eye must stand so that all points lie within slopes
/// of +-`slope` along one axis (x right or up): the two tight bounds of a wedge.
struct Wedge {
  double centre = 0.0;
  double distance = 0.0;
};

Wedge tight_wedge(const std::vector<glm::dvec2>& across_and_back, double slope) {
  double high = -std::numeric_limits<double>::infinity();
  double low = -std::numeric_limits<double>::infinity();
  for (const glm::dvec2 p : across_and_back) {
    // |p.x - c| <= slope * (d - p.y) for both signs
    high = std::max(high, p.x + slope * p.y);
    low = std::max(low, -p.x + slope * p.y);
  }
  return {(high - low) / 2, (high + low) / (2 * slope)};
}

}  // namespace

Axes Camera::axes() const {
  const double sin_a = std::sin(azimuth_rad);
  const double cos_a = std::cos(azimuth_rad);
  const double sin_e = std::sin(elevation_rad);
  const double cos_e = std::cos(elevation_rad);
  const glm::dvec3 out(sin_a, cos_a, 0.0);
  Axes axes;
  axes.back = {out.x * cos_e, out.y * cos_e, sin_e};
  axes.right = {-cos_a, sin_a, 0.0};
  axes.up = {-out.x * sin_e, -out.y * sin_e, cos_e};
  return axes;
}

glm::dvec3 Camera::eye() const {
  return target + axes().back * (is_flat ? flat_back_m : distance_m);
}

double Camera::height_m() const { return 2 * half_height(*this) * distance_m; }

double HalfSpace::beyond_m(glm::dvec3 p) const { return glm::dot(normal, p) - reach_m; }

Camera orbited(Camera camera, double azimuth_rad, double elevation_rad) {
  camera.azimuth_rad = std::remainder(camera.azimuth_rad + azimuth_rad, 4 * quarter_turn);
  camera.elevation_rad =
      std::clamp(camera.elevation_rad + elevation_rad, -quarter_turn, quarter_turn);
  return camera;
}

Camera panned(Camera camera, glm::dvec2 by_px, double viewport_height_px) {
  const double metres_per_px = camera.height_m() / std::max(1.0, viewport_height_px);
  const Axes axes = camera.axes();
  camera.target += metres_per_px * (-by_px.x * axes.right + by_px.y * axes.up);
  return camera;
}

Camera zoomed(Camera camera, double factor) {
  camera.distance_m = std::clamp(camera.distance_m * factor, nearest_m, farthest_m);
  return camera;
}

namespace {

/// Half of what a flat picture must hold, and its middle, along one axis.
Wedge tight_band(const std::vector<glm::dvec2>& across_and_back) {
  double high = -std::numeric_limits<double>::infinity();
  double low = std::numeric_limits<double>::infinity();
  for (const glm::dvec2 p : across_and_back) {
    high = std::max(high, p.x);
    low = std::min(low, p.x);
  }
  return {(high + low) / 2, (high - low) / 2};
}

}  // namespace

Camera fitted(Camera camera, const std::vector<glm::dvec3>& points, const Viewport& viewport,
              double margin) {
  if (points.empty()) {
    return camera;
  }
  const double width = std::max(1.0, viewport.width);
  const double height = std::max(1.0, viewport.height);
  const double edge = margin * std::min(width, height);
  const double slope = half_height(camera);
  const Axes axes = camera.axes();
  std::vector<glm::dvec2> rightward;
  std::vector<glm::dvec2> upward;
  for (const glm::dvec3& p : points) {
    const double back = glm::dot(axes.back, p);
    rightward.emplace_back(glm::dot(axes.right, p), back);
    upward.emplace_back(glm::dot(axes.up, p), back);
  }
  const double across_slope = slope * (width / height) * std::max(0.05, (width - 2 * edge) / width);
  const double tall_slope = slope * std::max(0.05, (height - 2 * edge) / height);
  const Wedge across =
      camera.is_flat ? tight_band(rightward) : tight_wedge(rightward, across_slope);
  const Wedge tall = camera.is_flat ? tight_band(upward) : tight_wedge(upward, tall_slope);
  double middle_back = 0.0;
  for (const glm::dvec2 p : rightward) {
    middle_back += p.y / static_cast<double>(rightward.size());
  }
  const double away = camera.is_flat
                          ? std::max(across.distance / across_slope, tall.distance / tall_slope)
                          : std::max(across.distance, tall.distance) - middle_back;
  camera.distance_m = std::clamp(away, nearest_m, farthest_m);
  camera.target = axes.right * across.centre + axes.up * tall.centre + axes.back * middle_back;
  return camera;
}

double eased(double share) {
  const double t = std::clamp(share, 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

Camera between(const Camera& from, const Camera& to, double share) {
  if (share >= 1.0) {
    return to;
  }
  const auto mix = [share](auto a, auto b) { return a + (b - a) * share; };
  Camera camera = to;
  camera.target = mix(from.target, to.target);
  camera.elevation_rad = mix(from.elevation_rad, to.elevation_rad);
  camera.azimuth_rad = from.azimuth_rad +
                       share * std::remainder(to.azimuth_rad - from.azimuth_rad, 4 * quarter_turn);
  // The widths of the picture at both ends, not the distances: the view angle may differ.
  const double height = std::pow(from.height_m(), 1 - share) * std::pow(to.height_m(), share);
  camera.distance_m = height / (2 * half_height(to));
  return camera;
}

const std::vector<std::string>& direction_words() {
  static const std::vector<std::string> words{"north", "north-east", "east", "south-east",
                                              "south", "south-west", "west", "north-west",
                                              "above", "below"};
  return words;
}

Result<Camera> looking_from(std::string_view word, double north_deg) {
  const std::vector<std::string>& words = direction_words();
  const auto found = std::find(words.begin(), words.end(), word);
  if (found == words.end()) {
    std::string list;
    for (const std::string& good : words) {
      list += (list.empty() ? "" : ", ") + good;
    }
    return Fault{"from.unknown_word", "--from", "there is no direction '" + std::string(word) + "'",
                 "one of: " + list};
  }
  Camera camera;
  const auto eighths = static_cast<double>(found - words.begin());
  if (*found == "above" || *found == "below") {
    camera.azimuth_rad = std::numbers::pi;
    camera.elevation_rad = *found == "above" ? quarter_turn : -quarter_turn;
    camera.view_angle_rad = plan_angle;  // from afar, so that the plan keeps its right angles
  } else {
    camera.azimuth_rad = eighths * quarter_turn / 2 + glm::radians(north_deg);
    camera.elevation_rad = glm::radians(33.0);
  }
  return camera;
}

std::string side_word(const Camera& camera, double north_deg) {
  const double quarters = std::round((camera.azimuth_rad - glm::radians(north_deg)) / quarter_turn);
  return direction_words()[static_cast<std::size_t>(2 * (quarters - 4 * std::floor(quarters / 4)))];
}

Result<Camera> looking_flat_from(std::string_view word, double north_deg, glm::dvec2 along) {
  auto found = looking_from(word, north_deg);
  if (!found) {
    return found;
  }
  Camera camera = found.value();
  camera.is_flat = true;
  camera.view_angle_rad = Camera().view_angle_rad;
  if (std::abs(camera.elevation_rad) < quarter_turn) {
    camera.elevation_rad = 0.0;
    const double side = std::atan2(along.x, along.y);
    camera.azimuth_rad =
        side + quarter_turn * std::round((camera.azimuth_rad - side) / quarter_turn);
  }
  return camera;
}

std::string direction_word(const Camera& camera, double north_deg) {
  if (std::abs(camera.elevation_rad) > glm::radians(80.0)) {
    return camera.elevation_rad > 0 ? "above" : "below";
  }
  const double eighths =
      std::round((camera.azimuth_rad - glm::radians(north_deg)) / (quarter_turn / 2));
  return direction_words()[static_cast<std::size_t>(eighths - 8 * std::floor(eighths / 8))];
}

double Lens::depth(glm::dvec3 point) const {
  return glm::dot(camera.axes().back, camera.eye() - point);
}

double Lens::px_per_m() const { return viewport.height / camera.height_m(); }

std::optional<glm::dvec2> Lens::pixel(glm::dvec3 point) const {
  const double ahead = depth(point);
  if (ahead <= 1e-6) {
    return std::nullopt;
  }
  const Axes axes = camera.axes();
  const glm::dvec3 offset = point - camera.eye();
  const double scale = px_per_m() * (camera.is_flat ? 1.0 : camera.distance_m / ahead);
  return glm::dvec2(viewport.x + viewport.width / 2 + scale * glm::dot(axes.right, offset),
                    viewport.y + viewport.height / 2 - scale * glm::dot(axes.up, offset));
}

Ray Lens::ray(glm::dvec2 pixel) const {
  const Axes axes = camera.axes();
  const double scale = camera.is_flat ? 1 / px_per_m() : 2 * half_height(camera) / viewport.height;
  const double right = (pixel.x - viewport.x - viewport.width / 2) * scale;
  const double up = -(pixel.y - viewport.y - viewport.height / 2) * scale;
  if (camera.is_flat) {
    return {camera.eye() + right * axes.right + up * axes.up, -axes.back};
  }
  return {camera.eye(), glm::normalize(right * axes.right + up * axes.up - axes.back)};
}

glm::dmat4 Lens::view() const {
  const Axes axes = camera.axes();
  const glm::dvec3 eye = camera.eye();
  glm::dmat4 view(1.0);
  const std::array<glm::dvec3, 3> rows{axes.right, axes.up, axes.back};
  for (int row = 0; row < 3; ++row) {
    const glm::dvec3& axis = rows[static_cast<std::size_t>(row)];
    view[0][row] = axis.x;
    view[1][row] = axis.y;
    view[2][row] = axis.z;
    view[3][row] = -glm::dot(axis, eye);
  }
  return view;
}

glm::dmat4 Lens::projection(double near_m, double far_m) const {
  if (camera.is_flat) {
    const double up = camera.height_m() / 2;
    const double right = up * viewport.width / viewport.height;
    return glm::ortho(-right, right, -up, up, near_m, far_m);
  }
  return glm::perspective(camera.view_angle_rad, viewport.width / viewport.height, near_m, far_m);
}

}  // namespace ridgeward::scene
