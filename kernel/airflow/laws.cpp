#include "airflow/laws.hpp"

#include "airflow/air.hpp"
#include "base/fault.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double laminar_until = 2300.0;  ///< Reynolds number
constexpr double turbulent_from = 4000.0;

double upwind(double pressure_pa, const Densities& air) {
  return pressure_pa >= 0.0 ? air.from : air.to;
}

Flow one_way(double mass, double slope) {
  return {mass, slope, std::max(mass, 0.0), std::max(-mass, 0.0)};
}

double hydraulic_diameter(const Channel& c) {
  return 2.0 * c.width_m * c.depth_m / (c.width_m + c.depth_m);
}

/// Darcy friction factor times speed, and its derivative by speed: finite at rest.
struct Friction {
  double f_v = 0.0;
  double slope = 0.0;
};

double haaland(double reynolds, double relative_roughness) {
  const double root = -1.8 * std::log10(std::pow(relative_roughness / 3.7, 1.11) + 6.9 / reynolds);
  return 1.0 / (root * root);
}

Friction friction(const Channel& c, double v, double rho) {
  const double diameter = hydraulic_diameter(c);
  const double per_speed = rho * diameter / viscosity_pas;  // Reynolds number of 1 m/s
  const double c_f = laminar_friction(c.width_m, c.depth_m);
  const double reynolds = per_speed * v;
  if (reynolds <= laminar_until) {
    return {c_f / per_speed, 0.0};
  }
  const double rough = c.roughness_m / diameter;
  const auto factor = [&](double re) {
    if (re >= turbulent_from) {
      return haaland(re, rough);
    }
    const double share = (re - laminar_until) / (turbulent_from - laminar_until);
    return (1.0 - share) * c_f / laminar_until + share * haaland(turbulent_from, rough);
  };
  const double step = 1e-4 * reynolds;
  const double f = factor(reynolds);
  const double df = (factor(reynolds + step) - factor(reynolds - step)) / (2.0 * step) * per_speed;
  return {f * v, f + df * v};
}

/// Speed under `pressure_pa` >= 0 and its derivative.
struct Speed {
  double v = 0.0;
  double slope = 0.0;
};

Speed channel_speed(const Channel& c, double pressure_pa, double rho) {
  const double diameter = hydraulic_diameter(c);
  const double a = 0.5 * rho * c.losses;
  const double b = laminar_friction(c.width_m, c.depth_m) * viscosity_pas * c.length_m /
                   (2.0 * diameter * diameter);
  // Laminar: b v + a v^2 = dp. The root is written so that nothing cancels at rest.
  const double root = std::sqrt(b * b + 4.0 * a * pressure_pa);
  double v = 2.0 * pressure_pa / (b + root);
  if (rho * v * diameter / viscosity_pas <= laminar_until) {
    return {v, 1.0 / root};
  }
  const double wall = 0.5 * rho * c.length_m / diameter;
  const auto pressure = [&](double speed) {
    return wall * friction(c, speed, rho).f_v * speed + a * speed * speed;
  };
  // Turbulent friction is above the laminar law's own, so the speed lies below v.
  double low = laminar_until * viscosity_pas / (rho * diameter);
  double high = v;
  double slope = 0.0;
  for (int i = 0; i < 100; ++i) {
    const Friction f = friction(c, v, rho);
    slope = wall * (f.slope * v + f.f_v) + 2.0 * a * v;
    const double miss = pressure(v) - pressure_pa;
    (miss > 0.0 ? high : low) = v;
    const double next = v - miss / slope;
    const double kept = next > low && next < high ? next : 0.5 * (low + high);
    if (std::abs(kept - v) <= 1e-15 * v || high - low <= 1e-15 * high) {
      return {kept, 1.0 / slope};
    }
    v = kept;
  }
  return {v, 1.0 / slope};
}

}  // namespace

double laminar_limit_pa(double diameter_m, double discharge) {
  constexpr double transition = 30.0;
  const double rho = density(kelvin(20.0));
  const double speed = transition * viscosity_pas / rho / (discharge * diameter_m);
  return std::clamp(0.5 * rho * speed * speed, 1e-4, 0.04);
}

double crack_flow(double area_m2, double exponent) {
  const double rho = density(kelvin(20.0));
  return area_m2 * std::sqrt(2.0 / rho) * std::pow(4.0, 0.5 - exponent);
}

double laminar_friction(double width_m, double depth_m) {
  const double a = std::min(width_m, depth_m) / std::max(width_m, depth_m);
  return 96.0 * (1.0 + a * (-1.3553 + a * (1.9467 + a * (-1.7012 + a * (0.9564 + a * -0.2537)))));
}

double channel_pressure(const Channel& c, double v, double rho) {
  return 0.5 * rho * c.length_m / hydraulic_diameter(c) * friction(c, v, rho).f_v * v +
         0.5 * rho * c.losses * v * v;
}

Flow flow(const Opening& o, double dp, const Densities& air) {
  const double d2 = o.laminar_pa * o.laminar_pa;
  const double sum = dp * dp + d2;
  const double root = std::sqrt(std::sqrt(sum));
  const double scale = o.discharge_area_m2 * std::sqrt(2.0 * upwind(dp, air));
  return one_way(scale * dp / root, scale * (0.5 * dp * dp + d2) / (sum * root));
}

Flow flow(const Crack& c, double dp, const Densities& air) {
  const double d2 = c.laminar_pa * c.laminar_pa;
  const double sum = dp * dp + d2;
  const double scale = upwind(dp, air) * c.flow * std::pow(sum, 0.5 * (c.exponent - 1.0));
  return one_way(scale * dp, scale * (c.exponent * dp * dp + d2) / sum);
}

Flow flow(const Channel& c, double dp, const Densities& /*air*/) {
  const double rho = density(c.air_k);
  const Speed speed = channel_speed(c, std::abs(dp), rho);
  const double section = rho * c.width_m * c.depth_m;
  return one_way(std::copysign(section * speed.v, dp), section * speed.slope);
}

Flow flow(const Fan& fan, Fine dp, const Densities& air) {
  const auto volume = static_cast<double>(fan.flow_m3s * (1.0L + dp / fan.shut_pa));
  const double rho = volume >= 0.0 ? air.from : air.to;
  return one_way(rho * volume, rho * fan.flow_m3s / fan.shut_pa);
}

Flow flow(const TallOpening& t, Fine dp, Fine gradient, const Densities& air) {
  const int strips = std::max(t.strips, 1);
  const Opening strip{t.discharge_area_m2 / strips, t.laminar_pa};
  Flow sum;
  for (int i = 0; i < strips; ++i) {
    const Fine z = t.bottom_m + (static_cast<Fine>(t.top_m) - t.bottom_m) * (i + 0.5L) / strips;
    const Flow one = flow(strip, static_cast<double>(dp + gradient * z), air);
    sum.mass_kgs += one.mass_kgs;
    sum.slope += one.slope;
    sum.forward_kgs += one.forward_kgs;
    sum.backward_kgs += one.backward_kgs;
  }
  return sum;
}

}  // namespace ridgeward::airflow
