#include "airflow/wind.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double met_height_m = 10.0;
constexpr double met_exponent = 0.14;  ///< open country, where winds are reported
constexpr double met_layer_m = 270.0;

double degrees(double rad) { return rad * 180.0 / M_PI; }

/// The angle without its side: 0 to pi.
double folded(double angle_rad) { return std::abs(std::remainder(angle_rad, 2.0 * M_PI)); }

/// Straight between points that rise in x; level beyond the ends.
template <std::size_t N>
double between(const std::array<double, N>& x, const std::array<double, N>& y, double at) {
  if (at <= x.front()) {
    return y.front();
  }
  for (std::size_t i = 1; i < N; ++i) {
    if (at <= x[i]) {
      return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
    }
  }
  return y.back();
}

constexpr std::array<double, 5> quarters{0.0, 45.0, 90.0, 135.0, 180.0};
constexpr std::array<double, 5> flat{-0.6, -0.6, -0.6, -0.6, -0.6};
constexpr std::array<double, 5> middle{-0.4, -0.5, -0.6, -0.5, -0.4};
constexpr std::array<double, 5> steep{0.3, -0.4, -0.6, -0.4, -0.5};

constexpr std::array<double, 3> pitches{15.0, 30.0, 45.0};

/// The windward value turns into `side` as the wind turns along the ridge, and into `lee` behind.
double turned(double windward, double side, double lee, double angle_rad) {
  const double c = std::cos(folded(angle_rad));
  return side + c * c * ((c > 0.0 ? windward : lee) - side);
}

}  // namespace

Terrain terrain_named(const std::string& exposure) {
  if (exposure == "flat") {
    return {0.10, 210.0};
  }
  if (exposure == "open") {
    return {0.14, 270.0};
  }
  if (exposure == "city") {
    return {0.33, 460.0};
  }
  return {0.22, 370.0};
}

double speed_at(double met_ms, double height_m, const Terrain& terrain, double shelter) {
  return met_ms * std::pow(met_layer_m / met_height_m, met_exponent) *
         std::pow(std::max(height_m, 0.0) / terrain.layer_m, terrain.exponent) * shelter;
}

double wall_coefficient(double angle_rad, double length_ratio) {
  const double a = folded(angle_rad);
  const double g = std::log(length_ratio);
  const double s = std::sin(0.5 * a);
  const double c = std::cos(0.5 * a);
  const double sine = std::sin(a);
  const double turn = std::sin(2.0 * a * g);
  return 0.6 * std::log(1.248 - 0.703 * s - 1.175 * sine * sine + 0.131 * turn * turn * turn +
                        0.769 * c + 0.071 * g * g * s * s + 0.717 * c * c);
}

double roof_coefficient(double slope_rad, double angle_rad) {
  const double angle = degrees(folded(angle_rad));
  const double slope = degrees(slope_rad);
  const double low = between(quarters, flat, angle);
  const double mid = between(quarters, middle, angle);
  const double high = between(quarters, steep, angle);
  if (slope < 18.0) {
    return between(std::array{10.0, 11.0}, std::array{low, mid}, slope);
  }
  return between(std::array{25.0, 35.0}, std::array{mid, high}, slope);
}

double ridge_coefficient(double slope_rad, double angle_rad) {
  constexpr std::array<double, 3> behind{-1.0, -0.5, -0.3};
  const double across = between(pitches, behind, degrees(slope_rad));
  return turned(across, -0.5, across, angle_rad);
}

Signs near_eave_coefficients(double slope_rad, double angle_rad) {
  const double slope = degrees(slope_rad);
  const double lee = between(pitches, {-0.4, -0.4, -0.2}, slope);
  const double side = between(pitches, {-0.6, -0.8, -0.9}, slope);
  return {turned(between(pitches, {-0.8, -0.5, 0.0}, slope), side, lee, angle_rad),
          turned(between(pitches, {0.2, 0.7, 0.7}, slope), side, lee, angle_rad)};
}

Signs body_coefficients(double slope_rad, double angle_rad) {
  const double slope = degrees(slope_rad);
  const double lee = between(pitches, {-0.4, -0.4, -0.2}, slope);
  const double side = between(pitches, {-0.6, -0.8, -0.9}, slope);
  return {turned(between(pitches, {-0.3, -0.2, 0.0}, slope), side, lee, angle_rad),
          turned(between(pitches, {0.2, 0.4, 0.6}, slope), side, lee, angle_rad)};
}

}  // namespace ridgeward::airflow
