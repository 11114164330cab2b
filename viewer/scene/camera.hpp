#pragma once
// Where the eye is, and what it sees where. Plain arithmetic.

#include "base/fault.hpp"

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::scene {

/// Part of the picture in pixels, origin at its top left, y down.
struct Viewport {
  double x = 0.0;
  double y = 0.0;
  double width = 1.0;
  double height = 1.0;
};

/// Right, up and back (towards the eye), of unit length.
struct Axes {
  glm::dvec3 right{1.0, 0.0, 0.0};
  glm::dvec3 up{0.0, 1.0, 0.0};
  glm::dvec3 back{0.0, 0.0, 1.0};
};

/// An eye that circles a target. Flat: all lines of sight run alongside each other and what lies in
/// the target's depth is as large as it would be otherwise; so plans and elevations are to scale.
struct Camera {
  glm::dvec3 target{0.0};
  double azimuth_rad = 0.0;    ///< plan direction from target to eye, clockwise from +y
  double elevation_rad = 0.5;  ///< of the eye over the target's level, -pi/2 .. pi/2
  double distance_m = 30.0;
  double view_angle_rad = 0.42;  ///< from the bottom of the picture to its top
  bool is_flat = false;

  Axes axes() const;
  /// Flat: far behind all that is to be seen.
  glm::dvec3 eye() const;
  /// Metres from the bottom of the picture to its top, in the target's depth.
  double height_m() const;
};

/// Turns the camera; the elevation stops at straight up and straight down.
Camera orbited(Camera camera, double azimuth_rad, double elevation_rad);
/// Moves the target so that what lies in its depth follows the pointer by (dx, dy) pixels.
Camera panned(Camera camera, glm::dvec2 by_px, double viewport_height_px);
/// Nearer for factor < 1, farther for factor > 1; stays between 0.2 m and 5 km.
Camera zoomed(Camera camera, double factor);
/// The same direction, target and distance chosen so that all points just fit within the viewport
/// less `margin` (a share of its smaller side). Without points the camera stays.
Camera fitted(Camera camera, const std::vector<glm::dvec3>& points, const Viewport& viewport,
              double margin);

/// On the way from one camera to another, share 0 .. 1: turns the shorter way around, sizes change
/// evenly. Laws: share 0 looks like `from`, share 1 is `to`.
Camera between(const Camera& from, const Camera& to, double share);
/// Slow at both ends: 0 at 0, 1 at 1, rising throughout.
double eased(double share);

/// The words that `looking_from` takes: eight compass points, above, below.
const std::vector<std::string>& direction_words();
/// The camera turned so that it looks at the house from `word` (a compass direction; "above" has
/// the plan's +y upward).
/// Faults: from.unknown_word (the cure lists the good words).
Result<Camera> looking_from(std::string_view word, double north_deg);

/// The word of `direction_words` that comes nearest to where the camera looks from.
std::string direction_word(const Camera& camera, double north_deg);

/// The same for a flat picture: compass directions give elevations, "above" the plan. An elevation
/// looks square at the side that faces the direction most nearly, of a house that runs `along` in
/// plan.
Result<Camera> looking_flat_from(std::string_view word, double north_deg, glm::dvec2 along);
/// Of north, east, south and west the one from which the camera looks most nearly.
std::string side_word(const Camera& camera, double north_deg);

/// Half of space: the points with dot(normal, p) <= reach_m.
struct HalfSpace {
  glm::dvec3 normal{1.0, 0.0, 0.0};  ///< unit length, out of the half
  double reach_m = 0.0;
  double beyond_m(glm::dvec3 p) const;  ///< positive outside
  bool holds(glm::dvec3 p) const { return beyond_m(p) <= 1e-9; }
};

/// A line of sight.
struct Ray {
  glm::dvec3 from{0.0};
  glm::dvec3 direction{0.0, 0.0, -1.0};  ///< unit length
};

/// A camera with the part of the picture that it fills, and what of the house is there to be seen.
struct Lens {
  Camera camera;
  Viewport viewport;
  std::optional<HalfSpace> keeps = std::nullopt;  ///< a house cut open: what was left standing

  bool shows(glm::dvec3 point) const { return !keeps || keeps->holds(point); }
  /// Pixel of a point; none behind the eye.
  std::optional<glm::dvec2> pixel(glm::dvec3 point) const;
  /// Length on the picture of a metre in the target's depth.
  double px_per_m() const;
  /// Distance in front of the eye along the view direction.
  double depth(glm::dvec3 point) const;
  Ray ray(glm::dvec2 pixel) const;
  glm::dmat4 view() const;
  /// OpenGL clip space of the viewport, for depths from near_m to far_m.
  glm::dmat4 projection(double near_m, double far_m) const;
};

}  // namespace ridgeward::scene
