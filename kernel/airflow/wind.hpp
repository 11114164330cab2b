#pragma once
// Wind speed at a house and the pressure coefficients of its faces.
//
// Angles in radians between the direction that the wind comes from and the face's own outward
// normal in plan: 0 is windward, pi is lee. Pressure = coefficient x rho/2 U^2, U the mean speed at
// the height of the roof's top. Coefficients are those of a house that stands free; what stands
// around is in the shelter factor, never in both.

#include <string>

namespace ridgeward::airflow {

struct Terrain {
  double exponent = 0.22;
  double layer_m = 370.0;  ///< thickness of the boundary layer
};
/// "flat", "open", "suburb", "city" as in the model's site; anything else is suburb.
/// Source: ASHRAE Fundamentals, table of atmospheric boundary layer parameters.
Terrain terrain_named(const std::string& exposure);

/// Mean speed at `height_m` of a wind of `met_ms` at 10 m in open country, where things around take
/// it down to `shelter` (1 none, 0.7 scattered houses, 0.5 rows of houses, 0.3 close together).
double speed_at(double met_ms, double height_m, const Terrain& terrain, double shelter);

/// Upright walls, soffits and gable ends: Swami and Chandra 1987, FSEC-CR-163-86.
/// `length_ratio`: length of this wall over that of the adjacent one.
double wall_coefficient(double angle_rad, double length_ratio);

/// The body of a roof plane of `slope_rad`, by wind-tunnel means for low-rise houses (NIST
/// profiles; Liddament 1996). Between the classes of slope (10 and 11, 25 and 35 degrees) they are
/// blended.
double roof_coefficient(double slope_rad, double angle_rad);

/// At a ridge: wind across it the zone behind the ridge, wind along it the roof's far zone, of
/// EN 1991-1-4 table 7.4. `angle_rad` between the wind and the normal of either plane.
double ridge_coefficient(double slope_rad, double angle_rad);

/// Low on a plane where the wind meets it, EN 1991-1-4 table 7.4a zone G: between 15 and 45 degrees
/// the code has two signs, and a vent there may blow in or out.
struct Signs {
  double low = 0.0;
  double high = 0.0;
  bool is_unsure() const { return low < 0.0 && high > 0.0; }
};
Signs near_eave_coefficients(double slope_rad, double angle_rad);
/// Further up the plane, zone H.
Signs body_coefficients(double slope_rad, double angle_rad);

}  // namespace ridgeward::airflow
