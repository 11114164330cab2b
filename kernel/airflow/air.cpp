#include "airflow/air.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double triple_pa = 610.5;
constexpr double vapour_to_air = 0.622;  ///< ratio of the molar masses

}  // namespace

double saturation_pa(double t) {
  return t >= 0.0 ? triple_pa * std::exp(17.269 * t / (237.3 + t))
                  : triple_pa * std::exp(21.875 * t / (265.5 + t));
}

double dew_point_c(double pressure_pa) {
  const double y = std::log(pressure_pa / triple_pa);
  return y >= 0.0 ? 237.3 * y / (17.269 - y) : 265.5 * y / (21.875 - y);
}

double humidity_ratio(double vapour_pa) {
  return vapour_to_air * vapour_pa / (atmosphere_pa - vapour_pa);
}

double vapour_pressure(double ratio) { return atmosphere_pa * ratio / (vapour_to_air + ratio); }

double in_series(double a, double b) {
  const double least = std::min(a, b);
  if (least <= 0.0) {
    return 0.0;
  }
  const double most = std::max(a, b);
  return least / std::sqrt(1.0 + least * least / (most * most));
}

}  // namespace ridgeward::airflow
