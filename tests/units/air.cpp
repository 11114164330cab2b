#include "units/air.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;

TEST_CASE("flows of fans") {
  // 1 ft = 0.3048 m exactly, so 1 cfm = 0.3048^3 / 60 m3/s = 0.000 471 947 443 2 (NIST SP 811).
  CHECK(*units::parse_flow("1000 cfm") == Approx(0.4719474432).epsilon(1e-12));
  CHECK(*units::parse_flow("1000 ft3/min") == Approx(0.4719474432).epsilon(1e-12));
  CHECK(*units::parse_flow("0.5 m3/s") == 0.5);
  CHECK(*units::parse_flow("1800 m3/h") == Approx(0.5).epsilon(1e-12));
  CHECK(*units::parse_flow("470 L/s") == Approx(0.47).epsilon(1e-12));
  for (const char* text : {"", "1000", "cfm", "10 cfm x", "-3 cfm", "5 m3", "1 m3/", "nan cfm"}) {
    INFO(text);
    CHECK_FALSE(units::parse_flow(text));
  }
}

TEST_CASE("pressures of fans") {
  CHECK(*units::parse_pressure("60 Pa") == 60.0);
  CHECK(*units::parse_pressure("0.06 kPa") == Approx(60.0).epsilon(1e-12));
  // Conventional inch of water: 249.089 Pa (NIST SP 811, table B.8: 2.490 889 E+02).
  CHECK(*units::parse_pressure("1 in wg") == Approx(249.0889).epsilon(1e-6));
  CHECK(*units::parse_pressure("0.25 in H2O") == Approx(62.272225).epsilon(1e-6));
  for (const char* text : {"", "60", "Pa", "60 psi", "60 Pa 2", "-1 Pa"}) {
    INFO(text);
    CHECK_FALSE(units::parse_pressure(text));
  }
}
