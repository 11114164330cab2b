#pragma once
// Where the light comes from.

#include "scene/camera.hpp"

#include <glm/vec3.hpp>

namespace ridgeward::scene {

/// The lamp of the drawing: over the shoulder of whoever looks, or the sun over a place on earth.
struct Sun {
  bool is_shown = false;       ///< false: over the shoulder
  double latitude_deg = 42.0;  ///< north positive
  int day = 172;               ///< of the year, 1 .. 365: midsummer
  double hour = 10.0;          ///< solar time, 12 when the sun stands highest
  bool operator==(const Sun&) const = default;
};

/// A place in the sky.
struct SunPlace {
  double altitude_rad = 0.0;  ///< over the horizon, negative at night
  double azimuth_rad = 0.0;   ///< clockwise from north, 0 .. 2 pi
};

/// Declination by Cooper (1969): 23.45 deg sin(360 (284 + day) / 365); altitude and azimuth by the
/// spherical triangle of pole, zenith and sun (Duffie and Beckman, Solar Engineering of Thermal
/// Processes, chapter 1). Good to about half a degree; no refraction.
SunPlace sun_place(const Sun& sun);

/// Unit vector towards the light. By night and close to the horizon the sun is held 2 deg over it,
/// so that shadows on the ground end somewhere.
glm::dvec3 light_direction(const Sun& sun, const Camera& camera, double north_deg);

/// "21 June", for people: the day of a year of 365 days.
const char* month_of(int day);
int day_of_month(int day);

}  // namespace ridgeward::scene
