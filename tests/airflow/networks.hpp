#pragma once
// Small networks of the airflow tests, and random ones.

#include "airflow/air.hpp"
#include "airflow/solve.hpp"

#include <cmath>
#include <random>
#include <string>

namespace ridgeward::tests {

using namespace ridgeward::airflow;

inline constexpr double discharge = 0.6;

inline AirNodeId add_node(Network& network, const std::string& id, double celsius) {
  return network.nodes.push_back({id, kelvin(celsius)});
}

/// A sharp edged opening at one height, discharge coefficient 0.6.
inline AirLinkId add_opening(Network& network, End from, End to, double area_m2,
                             double laminar_pa = 1e-4) {
  return network.links.push_back({"opening", from, to, Opening{discharge * area_m2, laminar_pa}});
}

inline AirLinkId add_from_outside(Network& network, AirNodeId to, double z_m, double area_m2,
                                  double wind_pa = 0.0, double laminar_pa = 1e-4) {
  return add_opening(network, {Network::outside(), z_m, wind_pa}, {to, z_m}, area_m2, laminar_pa);
}

/// Nodes from 1 to `most` with links of every kind, some parts closed off, fans and wind among
/// them; sizes over five orders of magnitude.
inline Network random_network(std::mt19937_64& rng, int most = 40) {
  const auto real = [&](double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(rng);
  };
  const auto whole = [&](int a, int b) { return std::uniform_int_distribution<int>(a, b)(rng); };
  const auto spread = [&](double a, double b) { return a * std::pow(b / a, real(0.0, 1.0)); };
  Network network(kelvin(real(-35.0, 40.0)));
  const int count = whole(1, most);
  for (int i = 0; i < count; ++i) {
    add_node(network, "n" + std::to_string(i + 1), real(-30.0, 80.0));
  }
  const int links = whole(1, 3 * count + 2);
  for (int i = 0; i < links; ++i) {
    const auto a = static_cast<std::size_t>(whole(0, count));
    auto b = static_cast<std::size_t>(whole(0, 3) == 0 ? 0 : whole(0, count));
    if (a == b) {
      b = (a + 1) % static_cast<std::size_t>(count + 1);
    }
    const auto end = [&](std::size_t node, double z) {
      return End{AirNodeId(node), z, node == 0 ? real(-25.0, 25.0) : 0.0};
    };
    const double z = real(-1.0, 9.0);
    const double laminar = spread(1e-4, 0.04);
    Link link{"l" + std::to_string(i), end(a, z), end(b, z), Law{}};
    switch (whole(0, 9)) {
      case 0:
      case 1:
        link.law = Crack{spread(1e-6, 0.3), real(0.5, 1.0), laminar};
        break;
      case 2:
      case 3:
        link.to.z_m = z + real(-5.0, 5.0);
        link.law = Channel{real(0.2, 0.6), spread(0.005, 0.3), spread(0.3, 12.0),
                           real(0.0, 4.0), real(0.0, 3e-3),    kelvin(real(-30.0, 80.0))};
        break;
      case 4:
        link.law = TallOpening{spread(1e-4, 1.0), z, z + real(0.05, 1.5), whole(1, 12), laminar};
        break;
      case 5:
        link.law = Fan{spread(1e-3, 0.8), spread(5.0, 500.0)};
        break;
      default:
        link.law = Opening{spread(1e-5, 1.0), laminar};
        break;
    }
    network.links.push_back(link);
  }
  return network;
}

}  // namespace ridgeward::tests
