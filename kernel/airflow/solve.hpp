#pragma once
// Finds the pressures at which every node takes in as much air as it gives.

#include "airflow/network.hpp"

#include <string>
#include <vector>

namespace ridgeward::airflow {

struct LinkFlow {
  double pressure_pa = 0.0;   ///< that drives it; of a tall opening at its middle
  double mass_kgs = 0.0;      ///< net
  double forward_kgs = 0.0;   ///< from `from` to `to`, at least 0
  double backward_kgs = 0.0;  ///< the other way, at least 0
};

struct Solution {
  IndexedVector<AirNodeId, double> pressure_pa;  ///< at z = 0; 0 outside
  IndexedVector<AirLinkId, LinkFlow> links;
  int iterations = 0;
};

/// Newton on the mass balance, the step found along its line. Every link's flow rises with its
/// pressure, so the balance is the slope of a convex function: there is one solution for given
/// temperatures, and the search always reaches it.
/// REQUIRES positive widths, depths, lengths and laminar limits, fans with a shut pressure over 0,
/// at least one strip; `start` none or of the same nodes.
/// Laws: (1) in each node what comes in and what goes out differ by no more than 1e-9 of it, or
/// 1e-11 kg/s; (2) nodes that no path joins to the outside have the
/// pressure 0 at z = 0 in one of their nodes; (3) a dead end has no flow.
/// Cost: linear in the links for networks that are trees but for the outside, as roofs are.
Solution solve(const Network& network, const Solution* start = nullptr);

/// Broken laws of a solution, in words; empty when sound.
std::vector<std::string> verify(const Network& network, const Solution& solution);

}  // namespace ridgeward::airflow
