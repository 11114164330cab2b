#include "scene/sun.hpp"

#include <glm/trigonometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ridgeward::scene {
namespace {

constexpr double lowest_rad = 2.0 * std::numbers::pi / 180.0;
constexpr std::array<int, 12> month_days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
constexpr std::array<const char*, 12> months{"January",   "February", "March",    "April",
                                             "May",       "June",     "July",     "August",
                                             "September", "October",  "November", "December"};

struct Date {
  std::size_t month = 0;
  int day = 1;
};

Date date_of(int day) {
  Date date{0, std::clamp(day, 1, 365)};
  while (date.day > month_days[date.month]) {
    date.day -= month_days[date.month++];
  }
  return date;
}

}  // namespace

SunPlace sun_place(const Sun& sun) {
  const double latitude = glm::radians(sun.latitude_deg);
  const double declination =
      glm::radians(23.45) * std::sin(glm::radians(360.0 * (284 + sun.day) / 365.0));
  const double turned = glm::radians(15.0 * (sun.hour - 12.0));  // since the sun stood highest
  // Eastward, northward and up, of unit length.
  const double east = -std::cos(declination) * std::sin(turned);
  const double north = std::sin(declination) * std::cos(latitude) -
                       std::cos(declination) * std::sin(latitude) * std::cos(turned);
  const double up = std::sin(declination) * std::sin(latitude) +
                    std::cos(declination) * std::cos(latitude) * std::cos(turned);
  const double azimuth = std::atan2(east, north);
  return {std::asin(std::clamp(up, -1.0, 1.0)),
          azimuth < 0 ? azimuth + 2 * std::numbers::pi : azimuth};
}

glm::dvec3 light_direction(const Sun& sun, const Camera& camera, double north_deg) {
  // Over the left shoulder of whoever looks, well up: every view is lit alike.
  double azimuth = camera.azimuth_rad + 0.85;
  double altitude = 0.82;
  if (sun.is_shown) {
    const SunPlace place = sun_place(sun);
    azimuth = place.azimuth_rad + glm::radians(north_deg);
    altitude = std::max(lowest_rad, place.altitude_rad);
  }
  return {std::sin(azimuth) * std::cos(altitude), std::cos(azimuth) * std::cos(altitude),
          std::sin(altitude)};
}

const char* month_of(int day) { return months[date_of(day).month]; }
int day_of_month(int day) { return date_of(day).day; }

}  // namespace ridgeward::scene
