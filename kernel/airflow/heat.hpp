#pragma once
// Sun and sky on the planes, and the temperature of an attic, its deck and of the air in a bay.
//
// Steady heat: what a plane, the ceiling and the air bring in, the air takes out. Temperatures in
// degrees Celsius (the balance has differences only), flows of heat in W, conductances in W/K.

#include <vector>

namespace ridgeward::airflow {

/// The sun of one hour. Azimuth clockwise from north.
struct Sun {
  double altitude_rad = 0.0;
  double azimuth_rad = 0.0;
  double beam_wm2 = 0.0;     ///< square to the rays
  double diffuse_wm2 = 0.0;  ///< on level ground
};
/// On a plane: beam, sky and what the ground (a fifth) throws back.
double irradiance_wm2(const Sun& sun, double slope_rad, double azimuth_rad);

/// What the outside face of a plane feels: T_out + a I / h - 3.9 K cos(slope), the last term the
/// heat lost to a clear sky (ASHRAE's sol-air temperature).
struct SolAir {
  double outside_c = 0.0;
  double absorptance = 0.95;  ///< dark shingles
  double film_wm2k = 17.0;    ///< outside film: 17 in summer, 34 in winter
  bool is_clear_sky = false;
};
double sol_air_c(const SolAir& place, double irradiance, double slope_rad);

/// A roof plane over an attic.
struct DeckPlane {
  double area_m2 = 0.0;
  double sol_air_c = 0.0;
};

/// Air that comes into a space: mass times heat capacity, and the temperature it comes with.
struct Inflow {
  double capacity_wk = 0.0;
  double from_c = 0.0;
};

/// One attic. `deck_r` from the deck's inner face to the sol-air temperature, `ceiling_r` from the
/// rooms to the top of the insulation; m2K/W.
struct AtticHeat {
  std::vector<DeckPlane> planes;
  double deck_r = 0.2;
  double ceiling_area_m2 = 0.0;
  double ceiling_r = 3.35;
  double inside_c = 20.0;
  std::vector<Inflow> inflow;
  double deck_emissivity = 0.9;  ///< of its inner face; 0.05 with a radiant barrier
  double ceiling_emissivity = 0.9;
};

/// One temperature for the attic: every conductance straight to the air.
/// `deck_u`, `ceiling_u` in W/(m2 K).
double mixed_attic_c(const AtticHeat& attic, double deck_u, double ceiling_u);

struct AtticTemperatures {
  double air_c = 0.0;
  double insulation_top_c = 0.0;
  std::vector<double> deck_c;  ///< inner face, by plane
};
/// Deck, insulation top and air apart: convection of 2 W/(m2 K) at each face, radiation between
/// each deck plane and the insulation. Law: the heat balance of each of them closes.
AtticTemperatures attic_temperatures(const AtticHeat& attic);

/// Air that warms or cools on its way up a bay.
struct BayHeat {
  double width_m = 0.0;
  double length_m = 0.0;
  double deck_u = 3.333;    ///< W/(m2 K) to the sol-air temperature
  double ceiling_u = 0.19;  ///< to the rooms
  double sol_air_c = 0.0;
  double inside_c = 20.0;
  double mass_kgs = 0.0;  ///< at least 0
  double enters_c = 0.0;
};
struct BayTemperatures {
  double outlet_c = 0.0;
  double mean_c = 0.0;
};
BayTemperatures bay_temperatures(const BayHeat& bay);

/// Snow on the roof (Sturm and others 1997): W/(m K) at `density_kgm3`.
double snow_conductivity(double density_kgm3);

struct SnowRoof {
  double attic_c = 0.0;
  double outside_c = 0.0;
  double deck_r = 0.3;  ///< from attic air to the snow's underside
  double snow_depth_m = 0.3;
  double snow_kgm3 = 200.0;
};
/// Heat that melts snow from beneath, W/m2; 0 when none is left over or it is not freezing outside.
double melt_wm2(const SnowRoof& roof);
/// kg of water a day from each m2.
double melt_kg_per_day(double melt_wm2);

}  // namespace ridgeward::airflow
