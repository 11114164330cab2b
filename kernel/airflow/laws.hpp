#pragma once
// Flow through a link under a pressure. Private to this folder.

#include "airflow/network.hpp"

namespace ridgeward::airflow {

/// Net mass flow, its slope by pressure, and the two directions by themselves.
struct Flow {
  double mass_kgs = 0.0;
  double slope = 0.0;         ///< d mass / d pressure; at least 0
  double forward_kgs = 0.0;   ///< at least 0
  double backward_kgs = 0.0;  ///< at least 0; mass = forward - backward
};

/// The two ends' air: density where the flow comes from.
struct Densities {
  double from = 0.0;
  double to = 0.0;
};

/// Pressures as differences of large ones carry more digits than flows: where they are small and
/// their links wide, those digits decide whether the air balances.
using Fine = long double;

/// Laws: odd in the pressure when both densities are equal; never falling; continuous.
Flow flow(const Opening& opening, double pressure_pa, const Densities& air);
Flow flow(const Crack& crack, double pressure_pa, const Densities& air);
Flow flow(const Channel& channel, double pressure_pa, const Densities& air);
Flow flow(const Fan& fan, Fine pressure_pa, const Densities& air);
/// `pressure_pa` at z = 0; it changes by `gradient` Pa per metre of height.
Flow flow(const TallOpening& tall, Fine pressure_pa, Fine gradient, const Densities& air);

/// f Re of laminar flow between walls of sides `width_m`, `depth_m` (Shah and London 1978; 56.9 for
/// a square, 96 for a flat gap).
double laminar_friction(double width_m, double depth_m);
/// Pressure that drives air of density `rho` at `speed_ms` through the channel; rises with speed.
double channel_pressure(const Channel& channel, double speed_ms, double rho);

}  // namespace ridgeward::airflow
