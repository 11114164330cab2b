#pragma once
// Properties of air. Temperatures in kelvin unless the name says `_c`; pressures in pascal.

namespace ridgeward::airflow {

inline constexpr double gas_constant = 287.05;     ///< of dry air, J/(kg K)
inline constexpr double atmosphere_pa = 101325.0;  ///< at sea level
inline constexpr double gravity_ms2 = 9.80665;     ///< standard
inline constexpr double heat_capacity = 1006.0;    ///< of air at constant pressure, J/(kg K)
inline constexpr double viscosity_pas = 1.8e-5;    ///< dynamic, at room temperature
inline constexpr double zero_c_k = 273.15;

inline double kelvin(double celsius) { return celsius + zero_c_k; }
inline double celsius(double kelvin) { return kelvin - zero_c_k; }
/// kg/m3. REQUIRES a temperature over 0 K.
inline double density(double temperature_k) {
  return atmosphere_pa / (gas_constant * temperature_k);
}

/// Saturation pressure of water vapour over water, below 0 C over ice (EN ISO 13788, annex E).
double saturation_pa(double temperature_c);
/// The temperature at which it is `pressure_pa`: dew or frost point. REQUIRES a pressure over 0.
double dew_point_c(double pressure_pa);
/// Humidity ratio, kg of vapour in a kg of dry air, of vapour at `vapour_pa`.
double humidity_ratio(double vapour_pa);
/// Law: vapour_pressure(humidity_ratio(p)) = p.
double vapour_pressure(double humidity_ratio);

/// C_d A of openings that the air passes one after the other: less than each alone.
double in_series(double discharge_area_m2, double next_m2);

}  // namespace ridgeward::airflow
