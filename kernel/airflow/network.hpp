#pragma once
// Spaces that exchange air, as nodes and links. Value types only; solve.hpp finds the flows.
//
// The unknown of a node is its pressure at z = 0 relative to the outside air at z = 0. Inside a
// node the air is at rest and of one density, so at height z its pressure over the outside air of
// that height is P + (rho_outside - rho) g z. Flow is driven from `from` to `to` by
//   opening, crack, fan:  p_from(z_from) - p_to(z_to)
//   channel:              the same + (rho_outside - rho_channel) g (z_to - z_from)
// where an end outside has the pressure of the wind there.
// Pressures in Pa, masses in kg/s, positive from `from` to `to`.

#include "base/ids.hpp"

#include <string>
#include <variant>
#include <vector>

namespace ridgeward::airflow {

struct AirNodeTag;
struct AirLinkTag;
using AirNodeId = Index<AirNodeTag>;
using AirLinkId = Index<AirLinkTag>;

/// A sharp edged opening: m = CdA sqrt(2 rho) dp / (dp^2 + d^2)^(1/4), rho of the air that comes.
/// `laminar_pa` is d: far below it the flow is proportional to the pressure, which keeps the law
/// smooth at rest.
struct Opening {
  double discharge_area_m2 = 0.0;  ///< discharge coefficient times free area
  double laminar_pa = 1e-3;
};

/// A crack or the leaks of a wall: m = rho C dp (dp^2 + d^2)^((n - 1) / 2).
struct Crack {
  double flow = 0.0;  ///< C, m3/s at 1 Pa
  double exponent = 0.65;
  double laminar_pa = 1e-3;
};

/// A rafter bay: wall friction over its length and losses at entry, turn and exit.
/// Laminar friction factors by the sides' ratio after Shah and London, turbulent ones after
/// Haaland; between Reynolds numbers 2300 and 4000 they are blended.
struct Channel {
  double width_m = 0.0;
  double depth_m = 0.0;
  double length_m = 0.0;
  double losses = 2.5;  ///< sum of K: 0.5 entry, 1 turn at the eave, 1 exit
  double roughness_m = 0.5e-3;
  double air_k = 293.15;  ///< mean temperature of the air in it
};

/// A tall opening cut in level strips, each with its own pressure: air may come in low and go out
/// high through the same opening. The ends' z is not used.
struct TallOpening {
  double discharge_area_m2 = 0.0;
  double bottom_m = 0.0;
  double top_m = 0.0;
  int strips = 10;
  double laminar_pa = 1e-3;
};

/// Blows from `from` to `to`: Q = flow (1 - rise / shut), rise = p_to - p_from.
struct Fan {
  double flow_m3s = 0.0;
  double shut_pa = 60.0;  ///< rise at which it moves nothing; over 0
};

using Law = std::variant<Opening, Crack, Channel, TallOpening, Fan>;

struct End {
  AirNodeId node;
  double z_m = 0.0;
  double wind_pa = 0.0;  ///< over the outside air at rest; only for ends outside
};

struct AirNode {
  std::string id;
  double temperature_k = 293.15;
};

struct Link {
  std::string id;
  End from;
  End to;
  Law law;
};

struct Network {
  static constexpr std::uint32_t outside_index = 0;
  /// The first node is the outside.
  explicit Network(double outside_k = 293.15) { nodes.push_back({"outside", outside_k}); }
  static AirNodeId outside() { return AirNodeId(std::size_t{outside_index}); }

  IndexedVector<AirNodeId, AirNode> nodes;
  IndexedVector<AirLinkId, Link> links;
};

/// d of an opening of hydraulic diameter `diameter_m`: flow turns laminar at a Reynolds number of
/// 30; kept within 1e-4 and 0.04 Pa.
double laminar_limit_pa(double diameter_m, double discharge);
/// C of leaks that at 4 Pa let as much through as a nozzle (discharge 1) of `area_m2`: the
/// effective leakage area of ASTM E779 and ASHRAE 62.2 practice.
double crack_flow(double area_m2, double exponent = 0.65);

}  // namespace ridgeward::airflow
