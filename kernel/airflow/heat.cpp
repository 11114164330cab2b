#include "airflow/heat.hpp"

#include "airflow/air.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::airflow {

namespace {

constexpr double ground_reflectance = 0.2;
constexpr double sky_loss_k = 3.9;  ///< a level face under a clear sky: 20 Btu/(h ft2), 7 F
constexpr double convection_wm2k = 2.0;
constexpr double stefan_boltzmann = 5.670374e-8;
constexpr double fusion_jkg = 334000.0;  ///< heat that melts ice
constexpr double day_s = 86400.0;

double total(const AtticHeat& attic, double (*each)(const Inflow&)) {
  double sum = 0.0;
  for (const Inflow& flow : attic.inflow) {
    sum += each(flow);
  }
  return sum;
}
double capacity(const AtticHeat& attic) {
  return total(attic, [](const Inflow& flow) { return flow.capacity_wk; });
}
double carried(const AtticHeat& attic) {
  return total(attic, [](const Inflow& flow) { return flow.capacity_wk * flow.from_c; });
}

}  // namespace

double irradiance_wm2(const Sun& sun, double slope_rad, double azimuth_rad) {
  const double facing =
      std::cos(sun.altitude_rad) * std::cos(sun.azimuth_rad - azimuth_rad) * std::sin(slope_rad) +
      std::sin(sun.altitude_rad) * std::cos(slope_rad);
  const double level = sun.beam_wm2 * std::max(std::sin(sun.altitude_rad), 0.0) + sun.diffuse_wm2;
  return sun.beam_wm2 * std::max(facing, 0.0) +
         sun.diffuse_wm2 * 0.5 * (1.0 + std::cos(slope_rad)) +
         ground_reflectance * level * 0.5 * (1.0 - std::cos(slope_rad));
}

double sol_air_c(const SolAir& place, double irradiance, double slope_rad) {
  return place.outside_c + place.absorptance * irradiance / place.film_wm2k -
         (place.is_clear_sky ? sky_loss_k * std::cos(slope_rad) : 0.0);
}

double mixed_attic_c(const AtticHeat& attic, double deck_u, double ceiling_u) {
  double conductance = ceiling_u * attic.ceiling_area_m2 + capacity(attic);
  double heat = ceiling_u * attic.ceiling_area_m2 * attic.inside_c + carried(attic);
  for (const DeckPlane& plane : attic.planes) {
    conductance += deck_u * plane.area_m2;
    heat += deck_u * plane.area_m2 * plane.sol_air_c;
  }
  return heat / conductance;
}

AtticTemperatures attic_temperatures(const AtticHeat& attic) {
  double deck_area = 0.0;
  double mean_c = 0.0;
  for (const DeckPlane& plane : attic.planes) {
    deck_area += plane.area_m2;
    mean_c += plane.area_m2 * plane.sol_air_c;
  }
  mean_c = deck_area > 0.0 ? 0.5 * (mean_c / deck_area + attic.inside_c) : attic.inside_c;
  const double view = deck_area > 0.0 ? attic.ceiling_area_m2 / deck_area : 0.0;
  const double exchange =
      4.0 * stefan_boltzmann * std::pow(kelvin(mean_c), 3.0) * attic.ceiling_area_m2 /
      (1.0 / attic.ceiling_emissivity + view * (1.0 / attic.deck_emissivity - 1.0));
  // Each deck plane hangs on its sol-air temperature, the air and the insulation: taken out of the
  // balance of those two, which is then two equations.
  const double ceiling = attic.ceiling_area_m2 / attic.ceiling_r;
  const double ceiling_film = convection_wm2k * attic.ceiling_area_m2;
  double air_air = capacity(attic) + ceiling_film;
  double air_top = -ceiling_film;
  double top_top = ceiling + ceiling_film;
  double air_heat = carried(attic);
  double top_heat = ceiling * attic.inside_c;
  struct Tie {
    double through, film, radiant, sum;
  };
  std::vector<Tie> ties;
  for (const DeckPlane& plane : attic.planes) {
    Tie t{plane.area_m2 / attic.deck_r, convection_wm2k * plane.area_m2,
          deck_area > 0.0 ? exchange * plane.area_m2 / deck_area : 0.0, 0.0};
    t.sum = t.through + t.film + t.radiant;
    ties.push_back(t);
    if (t.sum <= 0.0) {
      continue;
    }
    air_air += t.film - t.film * t.film / t.sum;
    air_top -= t.film * t.radiant / t.sum;
    top_top += t.radiant - t.radiant * t.radiant / t.sum;
    air_heat += t.film * t.through / t.sum * plane.sol_air_c;
    top_heat += t.radiant * t.through / t.sum * plane.sol_air_c;
  }
  AtticTemperatures found;
  const double determinant = air_air * top_top - air_top * air_top;
  if (determinant <= 0.0) {
    found.air_c = found.insulation_top_c = attic.inside_c;
    found.deck_c.assign(attic.planes.size(), attic.inside_c);
    return found;
  }
  found.air_c = (air_heat * top_top - air_top * top_heat) / determinant;
  found.insulation_top_c = (air_air * top_heat - air_top * air_heat) / determinant;
  for (std::size_t i = 0; i < ties.size(); ++i) {
    const Tie& t = ties[i];
    found.deck_c.push_back(t.sum > 0.0
                               ? (t.through * attic.planes[i].sol_air_c + t.film * found.air_c +
                                  t.radiant * found.insulation_top_c) /
                                     t.sum
                               : found.air_c);
  }
  return found;
}

BayTemperatures bay_temperatures(const BayHeat& bay) {
  const double u = bay.deck_u + bay.ceiling_u;
  const double settled = (bay.deck_u * bay.sol_air_c + bay.ceiling_u * bay.inside_c) / u;
  const double capacity = bay.mass_kgs * heat_capacity;
  const double loss = bay.width_m * bay.length_m * u;
  if (capacity <= 1e-9 * loss) {
    return {settled, settled};
  }
  const double n = loss / capacity;
  const double gap = bay.enters_c - settled;
  return {settled + gap * std::exp(-n), settled - gap * std::expm1(-n) / n};
}

double snow_conductivity(double density_kgm3) {
  const double g = density_kgm3 / 1000.0;
  return g < 0.156 ? 0.023 + 0.234 * g : 0.138 - 1.01 * g + 3.233 * g * g;
}

double melt_wm2(const SnowRoof& roof) {
  if (roof.outside_c >= 0.0 || roof.snow_depth_m <= 0.0) {
    return 0.0;
  }
  const double snow_r = roof.snow_depth_m / snow_conductivity(roof.snow_kgm3);
  return std::max(roof.attic_c / roof.deck_r + roof.outside_c / snow_r, 0.0);
}

double melt_kg_per_day(double melt) { return melt * day_s / fusion_jkg; }

}  // namespace ridgeward::airflow
