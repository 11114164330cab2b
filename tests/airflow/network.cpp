// The solver against closed forms, and its laws over random networks.
// Where no formula stands beside a figure it was worked by a reference solver of our own, written
// apart in another language for the purpose; the tolerance is then 1e-4.
#include "airflow/laws.hpp"
#include "airflow/networks.hpp"
#include "airflow/solve.hpp"

#include "support/seed.hpp"

#include <catch2/catch.hpp>

#include <chrono>
#include <cstdlib>
#include <iostream>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

constexpr double sharp = 1e-9;  ///< Pa: laminar limit so small that the square law is exact

double mass(const Solution& s, AirLinkId link) { return s.links[link].mass_kgs; }

struct TwoOpenings {
  Network network;
  AirNodeId attic;
  AirLinkId low;
  AirLinkId high;
};

/// One space, an opening at 0 and one at 3 m.
TwoOpenings two_openings(double outside_c, double attic_c, double low_m2, double high_m2,
                         double laminar_pa = sharp) {
  TwoOpenings t{Network(kelvin(outside_c)), {}, {}, {}};
  t.attic = add_node(t.network, "attic", attic_c);
  t.low = add_from_outside(t.network, t.attic, 0.0, low_m2, 0.0, laminar_pa);
  t.high = add_from_outside(t.network, t.attic, 3.0, high_m2, 0.0, laminar_pa);
  return t;
}

double stack_pa(double outside_c, double attic_c, double height_m) {
  return (density(kelvin(outside_c)) - density(kelvin(attic_c))) * gravity_ms2 * height_m;
}

/// Two openings in series, each with the density of the air that passes it.
double through_two(double dp, double low_m2, double high_m2, double rho_low, double rho_high) {
  return discharge *
         std::sqrt(2.0 * dp /
                   (1.0 / (rho_low * low_m2 * low_m2) + 1.0 / (rho_high * high_m2 * high_m2)));
}

double neutral_m(const TwoOpenings& t, const Solution& s, double outside_c, double attic_c) {
  return -s.pressure_pa[t.attic] /
         ((density(kelvin(outside_c)) - density(kelvin(attic_c))) * gravity_ms2);
}

}  // namespace

TEST_CASE("stack flow through two equal openings, and the neutral level") {
  const TwoOpenings t = two_openings(0.0, 10.0, 0.05, 0.05);
  const Solution s = solve(t.network);
  const double dp = stack_pa(0.0, 10.0, 3.0);
  CHECK(dp == Approx(1.34271).epsilon(1e-5));
  const double expected = through_two(dp, 0.05, 0.05, density(kelvin(0.0)), density(kelvin(10.0)));
  CHECK(expected == Approx(0.0391609).epsilon(1e-6));
  CHECK(mass(s, t.low) == Approx(expected).epsilon(1e-6));
  CHECK(mass(s, t.high) == Approx(-expected).epsilon(1e-6));
  // z = H / (1 + (A1/A2)^2 T_a/T_o): the larger opening draws the neutral level towards itself.
  CHECK(neutral_m(t, s, 0.0, 10.0) ==
        Approx(3.0 / (1.0 + kelvin(10.0) / kelvin(0.0))).epsilon(1e-6));
  CHECK(neutral_m(t, s, 0.0, 10.0) == Approx(1.47304).epsilon(1e-5));
}

TEST_CASE("unequal openings move the neutral level") {
  const TwoOpenings t = two_openings(0.0, 10.0, 0.05, 0.025);
  const Solution s = solve(t.network);
  const double expected = through_two(stack_pa(0.0, 10.0, 3.0), 0.05, 0.025, density(kelvin(0.0)),
                                      density(kelvin(10.0)));
  CHECK(mass(s, t.low) == Approx(expected).epsilon(1e-6));
  CHECK(mass(s, t.low) == Approx(0.0246350).epsilon(1e-5));
  CHECK(neutral_m(t, s, 0.0, 10.0) ==
        Approx(3.0 / (1.0 + 4.0 * kelvin(10.0) / kelvin(0.0))).epsilon(1e-6));
  CHECK(s.links[t.low].pressure_pa == Approx(0.26090).epsilon(1e-4));
  CHECK(s.pressure_pa[t.attic] == Approx(-0.26090).epsilon(1e-4));
  // A wider laminar limit takes a little off.
  const TwoOpenings soft = two_openings(0.0, 10.0, 0.05, 0.025, 0.01);
  CHECK(mass(solve(soft.network), soft.low) == Approx(0.0246329).epsilon(1e-5));
}

TEST_CASE("a cold attic breathes the other way") {
  const TwoOpenings t = two_openings(0.0, -5.0, 0.05, 0.05);
  const Solution s = solve(t.network);
  const double dp = -stack_pa(0.0, -5.0, 3.0);
  CHECK(dp == Approx(0.70891).epsilon(1e-5));
  CHECK(mass(s, t.low) ==
        Approx(-through_two(dp, 0.05, 0.05, density(kelvin(-5.0)), density(kelvin(0.0))))
            .epsilon(1e-6));
  CHECK(mass(s, t.low) == Approx(-0.0288465).epsilon(1e-5));
}

TEST_CASE("openings in series and side by side") {
  CHECK(in_series(0.010, 0.006) == Approx(0.00514496).epsilon(1e-6));
  CHECK(in_series(in_series(0.010, 0.006), 0.020) == Approx(0.00498273).epsilon(1e-6));
  CHECK(in_series(0.0060, 0.0045) == Approx(0.0036).epsilon(1e-12));
  CHECK(in_series(0.0, 0.0045) == 0.0);
  // The same by the solver: a room between two openings, one temperature, 4 Pa of wind.
  Network network(kelvin(20.0));
  const AirNodeId room = add_node(network, "room", 20.0);
  const AirNodeId attic = add_node(network, "attic", 20.0);
  const AirLinkId in = add_from_outside(network, room, 0.0, 0.010, 4.0, sharp);
  add_opening(network, {room}, {attic}, 0.006, sharp);
  add_from_outside(network, attic, 0.0, 0.012, 0.0, sharp);
  add_from_outside(network, attic, 0.0, 0.008, 0.0, sharp);  // side by side: 0.020 together
  const double rho = density(kelvin(20.0));
  CHECK(mass(solve(network), in) ==
        Approx(discharge * 0.00498273 * std::sqrt(2.0 * rho * 4.0)).epsilon(1e-6));
}

TEST_CASE("wind and stack add as pressures") {
  const auto flow_at = [](double low_cp, double high_cp) {
    TwoOpenings t = two_openings(0.0, 10.0, 0.05, 0.05);
    const double q = 0.5 * density(kelvin(0.0)) * 9.0;
    t.network.links[t.low].from.wind_pa = low_cp * q;
    t.network.links[t.high].from.wind_pa = high_cp * q;
    return mass(solve(t.network), t.low);
  };
  const double q = 0.5 * density(kelvin(0.0)) * 9.0;
  CHECK(q == Approx(5.81528).epsilon(1e-6));
  const double rho_o = density(kelvin(0.0));
  const double rho_a = density(kelvin(10.0));
  const double stack = stack_pa(0.0, 10.0, 3.0);
  CHECK(flow_at(0.4, -0.5) ==
        Approx(through_two(stack + 0.9 * q, 0.05, 0.05, rho_o, rho_a)).epsilon(1e-6));
  CHECK(flow_at(0.4, -0.5) == Approx(0.0866677).epsilon(1e-5));
  CHECK(flow_at(-0.2, -0.4) == Approx(0.0534973).epsilon(1e-5));
  CHECK(flow_at(-0.3, 0.3) == Approx(-0.0495133).epsilon(1e-5));
  // The speed at which a wind of 0.6 against the stack stops it.
  const double stop = std::sqrt(2.0 * stack / (rho_o * 0.6));
  CHECK(stop == Approx(1.86102).epsilon(1e-5));
  TwoOpenings t = two_openings(0.0, 10.0, 0.05, 0.05, 1e-4);
  t.network.links[t.high].from.wind_pa = 0.6 * 0.5 * rho_o * stop * stop;
  CHECK(std::abs(mass(solve(t.network), t.low)) < 1e-9);
}

TEST_CASE("a fan against openings") {
  // Everything at 20 C: the openings take what the fan moves, dp = rho/2 (Q / CdA)^2.
  Network network(kelvin(20.0));
  const AirNodeId attic = add_node(network, "attic", 20.0);
  add_from_outside(network, attic, 0.0, 0.1, 0.0, sharp);
  network.links.push_back({"fan", {attic, 2.0}, {Network::outside(), 2.0}, Fan{0.5, 1e12}});
  const double rho = density(kelvin(20.0));
  CHECK(solve(network).pressure_pa[attic] ==
        Approx(-0.5 * rho * std::pow(0.5 / (discharge * 0.1), 2.0)).epsilon(1e-6));
  CHECK(solve(network).pressure_pa[attic] == Approx(-41.8097).epsilon(1e-5));
}

namespace {

struct FanHouse {
  Network network{kelvin(20.0)};
  AirNodeId attic;
  AirNodeId house;
  AirLinkId ceiling;
  AirLinkId fan;
};

FanHouse fan_house(double vents_m2, const Fan& fan) {
  FanHouse f;
  f.attic = add_node(f.network, "attic", 20.0);
  f.house = add_node(f.network, "house", 20.0);
  add_from_outside(f.network, f.attic, 0.0, vents_m2);
  f.ceiling = f.network.links.push_back(
      {"ceiling", {f.house}, {f.attic}, Crack{crack_flow(0.0210), 0.65, 1e-4}});
  f.network.links.push_back(
      {"shell", {Network::outside()}, {f.house}, Crack{crack_flow(0.0600), 0.65, 1e-4}});
  f.fan = f.network.links.push_back({"fan", {f.attic}, {Network::outside()}, fan});
  return f;
}

}  // namespace

TEST_CASE("a powered vent draws house air the more the less intake there is") {
  struct Row {
    double vents_m2;
    double house_pa;
    double house_cfm;
  };
  constexpr double cfm_m3s = 0.3048 * 0.3048 * 0.3048 / 60.0;
  const Row rows[] = {
      {0.05, -7.696, 501}, {0.1, -3.539, 303}, {0.2, -1.264, 155}, {0.4, -0.378, 71}};
  for (const Row& row : rows) {
    const FanHouse f = fan_house(row.vents_m2, Fan{0.5, 1e12});
    const Solution s = solve(f.network);
    CHECK(s.pressure_pa[f.house] == Approx(row.house_pa).margin(1e-3));
    CHECK(mass(s, f.ceiling) / density(kelvin(20.0)) / cfm_m3s ==
          Approx(row.house_cfm).margin(0.6));
  }
  // Field study of eight houses with powered vents (Tooley and Davis 1995): the house -0.5 to
  // -2.5 Pa, 104 to 646 cfm of house air. Vents of 0.1 to 0.2 m2 lie among them.
  const FanHouse field = fan_house(0.15, Fan{0.5, 1e12});
  const Solution s = solve(field.network);
  CHECK(s.pressure_pa[field.house] < -0.5);
  CHECK(s.pressure_pa[field.house] > -2.5);
  CHECK(mass(s, field.ceiling) / density(kelvin(20.0)) / cfm_m3s > 104.0);
  CHECK(mass(s, field.ceiling) / density(kelvin(20.0)) / cfm_m3s < 646.0);
  const FanHouse weak = fan_house(0.1, Fan{0.6, 60.0});
  const Solution w = solve(weak.network);
  CHECK(w.pressure_pa[weak.attic] == Approx(-16.5018).epsilon(1e-4));
  CHECK(w.pressure_pa[weak.house] == Approx(-2.7373).epsilon(1e-4));
  CHECK(mass(w, weak.fan) == Approx(0.523770).epsilon(1e-4));
}

TEST_CASE("a fan beside a ridge vent is fed by it") {
  Network network(kelvin(30.0));
  const AirNodeId attic = add_node(network, "attic", 45.0);
  const AirLinkId soffit = add_from_outside(network, attic, 0.0, 0.08);
  const AirLinkId ridge = add_from_outside(network, attic, 2.5, 0.08);
  network.links.push_back({"fan", {attic, 2.0}, {Network::outside(), 2.0}, Fan{0.3, 1e12}});
  const Solution s = solve(network);
  CHECK(mass(s, ridge) == Approx(0.155577).epsilon(1e-4));
  CHECK(mass(s, ridge) + mass(s, soffit) == Approx(0.332850).epsilon(1e-4));
}

TEST_CASE("air comes in low and goes out high through one gable louvre") {
  const auto both_ways = [](int strips) {
    Network network(kelvin(0.0));
    const AirNodeId attic = add_node(network, "attic", 10.0);
    const AirLinkId louvre = network.links.push_back(
        {"gable", {Network::outside()}, {attic}, TallOpening{0.6 * 0.6, 0.0, 0.6, strips, 1e-4}});
    const Solution s = solve(network);
    CHECK(s.links[louvre].forward_kgs == Approx(s.links[louvre].backward_kgs).epsilon(1e-6));
    const double rise = (density(kelvin(0.0)) - density(kelvin(10.0))) * gravity_ms2;
    CHECK(-s.pressure_pa[attic] / rise == Approx(0.29820).margin(0.01));
    return s.links[louvre].forward_kgs;
  };
  // Exact: m = Cd w sqrt(8 rho drho g) / 3 h^1.5 on both sides of the level where they are equal.
  const double rho_o = density(kelvin(0.0));
  const double rho_a = density(kelvin(10.0));
  const double share = std::cbrt(rho_a / rho_o);
  const double below = 0.6 * share / (1.0 + share);
  const double exact = 0.6 * 1.0 * 2.0 / 3.0 *
                       std::sqrt(2.0 * rho_o * (rho_o - rho_a) * gravity_ms2) *
                       std::pow(below, 1.5);
  CHECK(below == Approx(0.29820).epsilon(1e-4));
  CHECK(exact == Approx(0.0700570).epsilon(1e-4));
  CHECK(both_ways(10) == Approx(exact).epsilon(0.009));
  CHECK(both_ways(40) == Approx(exact).epsilon(0.0015));
  CHECK(both_ways(5) == Approx(exact * (1.0 - 0.076)).epsilon(0.003));
}

namespace {

struct Attic {
  Network network{kelvin(0.0)};
  AirLinkId soffit_a;
  AirLinkId soffit_b;
  AirLinkId gable_a;
  AirLinkId gable_b;
  AirLinkId ridge;
};

/// Soffits at 0, a ridge vent at 2.5 m, gables (if any) at 1.8 m; pressures by coefficient.
struct Coefficients {
  double soffit_a = 0.0;
  double soffit_b = 0.0;
  double gable_a = 0.0;
  double gable_b = 0.0;
  double ridge = 0.0;
};

Attic attic_of(bool has_gables, double wind_ms, const Coefficients& cp) {
  Attic a;
  const AirNodeId node = add_node(a.network, "attic", 5.0);
  const double q = 0.5 * density(kelvin(0.0)) * wind_ms * wind_ms;
  a.soffit_a = add_from_outside(a.network, node, 0.0, 0.04, cp.soffit_a * q);
  a.soffit_b = add_from_outside(a.network, node, 0.0, 0.04, cp.soffit_b * q);
  a.ridge = add_from_outside(a.network, node, 2.5, 0.08, cp.ridge * q);
  if (has_gables) {
    a.gable_a = add_from_outside(a.network, node, 1.8, 0.05, cp.gable_a * q);
    a.gable_b = add_from_outside(a.network, node, 1.8, 0.05, cp.gable_b * q);
  }
  return a;
}

}  // namespace

TEST_CASE("gable louvres beside a ridge vent") {
  const Attic plain = attic_of(false, 0.0, {});
  const Solution p = solve(plain.network);
  CHECK(mass(p, plain.soffit_a) == Approx(0.020496).epsilon(1e-4));
  CHECK(mass(p, plain.ridge) == Approx(-0.040992).epsilon(1e-4));
  const Attic still = attic_of(true, 0.0, {});
  const Solution s = solve(still.network);
  CHECK(mass(s, still.soffit_a) == Approx(0.023947).epsilon(1e-4));
  CHECK(mass(s, still.gable_a) == Approx(-0.007533).epsilon(1e-4));
  CHECK(mass(s, still.ridge) == Approx(-0.032830).epsilon(1e-4));
  // 3 m/s along the ridge: the windward gable feeds everything, the soffits blow out.
  const Attic along = attic_of(true, 3.0, {-0.443, -0.443, 0.603, -0.364, -0.5});
  const Solution w = solve(along.network);
  CHECK(mass(w, along.soffit_a) == Approx(-0.012621).epsilon(1e-4));
  CHECK(mass(w, along.gable_a) == Approx(0.113763).epsilon(1e-4));
  CHECK(mass(w, along.gable_b) == Approx(-0.011669).epsilon(1e-4));
  CHECK(mass(w, along.ridge) == Approx(-0.076851).epsilon(1e-4));
  const Attic across = attic_of(false, 3.0, {0.603, -0.364, 0.0, 0.0, -0.5});
  const Solution n = solve(across.network);
  CHECK(mass(n, across.soffit_a) == Approx(0.091470).epsilon(1e-4));
  CHECK(mass(n, across.soffit_b) == Approx(-0.002172).epsilon(1e-3));
  CHECK(mass(n, across.ridge) == Approx(-0.089298).epsilon(1e-4));
}

TEST_CASE("two compartments joined by a hole, and one closed off") {
  const auto flows = [](bool has_hole) {
    Network network(kelvin(0.0));
    const AirNodeId a = add_node(network, "a", 8.0);
    const AirNodeId b = add_node(network, "b", 5.0);
    const AirLinkId in_a = add_from_outside(network, a, 0.0, 0.03);
    const AirLinkId in_b = add_from_outside(network, b, 0.0, 0.05);
    const AirLinkId ridge = add_from_outside(network, b, 2.5, 0.08);
    if (has_hole) {
      add_opening(network, {a, 1.5}, {b, 1.5}, 0.004);
    }
    const Solution s = solve(network);
    return std::array<double, 3>{mass(s, in_a), mass(s, in_b), mass(s, ridge)};
  };
  const auto open = flows(true);
  CHECK(open[0] == Approx(0.002883).epsilon(2e-4));
  CHECK(open[1] == Approx(0.029938).epsilon(1e-4));
  CHECK(open[2] == Approx(-0.032821).epsilon(1e-4));
  const auto closed = flows(false);
  CHECK(std::abs(closed[0]) < 1e-12);  // a dead end
  CHECK(closed[2] == Approx(-0.030786).epsilon(1e-4));
}

TEST_CASE("nothing moves where nothing drives") {
  const TwoOpenings t = two_openings(0.0, 0.0, 0.05, 0.02, 1e-4);
  const Solution s = solve(t.network);
  CHECK(mass(s, t.low) == 0.0);
  CHECK(mass(s, t.high) == 0.0);
}

TEST_CASE("a space that nothing drives comes to rest beside one that breathes") {
  // From a pressure left over from another case: what it seeks is 0, which no relative bound meets.
  std::mt19937_64 rng(seed());
  std::uniform_real_distribution<double> size(0.001, 0.05);
  for (int round = 0; round < 300; ++round) {
    TwoOpenings t = two_openings(0.0, 10.0, size(rng), size(rng), 1e-4);
    for (int i = 0; i < 8; ++i) {
      const AirNodeId bay = add_node(t.network, "bay", 5.0);
      add_from_outside(t.network, bay, 0.0, size(rng));
      add_opening(t.network, {bay, 3.0 * size(rng)}, {t.attic, 3.0}, size(rng));
    }
    const AirNodeId still = add_node(t.network, "still", 0.0);
    const AirLinkId first = add_from_outside(t.network, still, 0.0, size(rng));
    add_from_outside(t.network, still, 0.0, size(rng));
    Solution start = solve(t.network);
    start.pressure_pa[still] = std::pow(10.0, -round % 90);
    CAPTURE(round, start.pressure_pa[still]);
    const Solution s = solve(t.network, &start);
    CHECK(std::abs(mass(s, first)) < 1e-15);
    CHECK(verify(t.network, s).empty());
    CHECK(s.iterations < 60);
  }
}

TEST_CASE("leaks: 180 cm2 at 4 Pa") {
  CHECK(crack_flow(0.0180) == Approx(0.018843).epsilon(1e-4));
  const double rho = density(kelvin(20.0));
  // At the pressure it is named for, the leak passes what a nozzle of its area does.
  const Flow f = flow(Crack{crack_flow(0.0180), 0.65, 1e-9}, 4.0, {rho, rho});
  CHECK(f.mass_kgs == Approx(0.0180 * std::sqrt(2.0 * rho * 4.0)).epsilon(1e-9));
  CHECK(laminar_limit_pa(0.003, 0.6) == Approx(0.0367).epsilon(0.02));
  CHECK(laminar_limit_pa(0.006, 0.6) == Approx(0.0092).epsilon(0.02));
  CHECK(laminar_limit_pa(0.012, 0.6) == Approx(0.0023).epsilon(0.02));
  // How much the laminar start takes off.
  const auto share = [&](double ratio) {
    return flow(Opening{0.1, 0.01}, 0.01 * ratio, {rho, rho}).mass_kgs /
           (0.1 * std::sqrt(2.0 * rho * 0.01 * ratio));
  };
  CHECK(share(10.0) == Approx(1.0 - 0.0025).margin(1e-4));
  CHECK(share(2.0) == Approx(1.0 - 0.054).margin(1e-3));
}

TEST_CASE("friction in rafter bays") {
  // Laminar f Re of rectangular ducts, 1:1 to 8:1, as fluid mechanics tables print them.
  CHECK(laminar_friction(1.0, 1.0) == Approx(56.9).margin(0.1));
  CHECK(laminar_friction(2.0, 1.0) == Approx(62.2).margin(0.1));
  CHECK(laminar_friction(1.0, 4.0) == Approx(73.0).margin(0.1));
  CHECK(laminar_friction(8.0, 1.0) == Approx(82.3).margin(0.1));
  // 14 1/2 in wide, 5 m long, 15 C, litres a second; rows by depth in inches.
  struct Row {
    double depth_in;
    double dp;
    double litres;
    double tolerance;
  };
  const Row rows[] = {{1.0, 0.1, 0.510, 2e-3}, {1.5, 0.1, 1.467, 1e-3}, {2.0, 0.1, 2.740, 1e-3},
                      {3.0, 0.1, 5.475, 1e-3}, {1.0, 0.5, 2.214, 1e-3}, {1.5, 0.5, 5.161, 1e-3},
                      {1.0, 1.0, 3.912, 1e-3}, {2.0, 0.5, 8.0, 0.2},    {3.0, 0.5, 12.4, 0.2},
                      {1.5, 1.0, 7.9, 0.2},    {2.0, 1.0, 11.0, 0.2},   {3.0, 1.0, 17.7, 0.2}};
  const double rho = density(kelvin(15.0));
  for (const Row& row : rows) {
    INFO(row.depth_in << " in, " << row.dp << " Pa");
    Channel bay{0.3683, row.depth_in * 0.0254, 5.0, 2.5, 0.5e-3, kelvin(15.0)};
    const Flow f = flow(bay, row.dp, {rho, rho});
    CHECK(1000.0 * f.mass_kgs / rho == Approx(row.litres).epsilon(row.tolerance));
    // The way back: the pressure of that speed.
    const double v = f.mass_kgs / rho / (bay.width_m * bay.depth_m);
    CHECK(channel_pressure(bay, v, rho) == Approx(row.dp).epsilon(1e-9));
    CHECK(flow(bay, -row.dp, {rho, rho}).mass_kgs == Approx(-f.mass_kgs).epsilon(1e-12));
  }
}

TEST_CASE("a rafter bay with a slot at both ends") {
  // Slots of 0.0077 m2, rise 2.5 m, 0 and 10 C, sum of K 1.5; litres a second by depth.
  const auto litres = [](double depth_m) {
    Network network(kelvin(0.0));
    const AirNodeId foot = add_node(network, "foot", 0.0);
    const AirNodeId head = add_node(network, "head", 10.0);
    add_from_outside(network, foot, 0.0, 0.0077);
    const AirLinkId top = add_from_outside(network, head, 2.5, 0.0077);
    network.links.push_back({"bay",
                             {foot, 0.0},
                             {head, 2.5},
                             Channel{0.3683, depth_m, 5.0, 1.5, 0.5e-3, kelvin(10.0)}});
    return -1000.0 * mass(solve(network), top) / density(kelvin(10.0));
  };
  CHECK(litres(0.0254) == Approx(2.907).epsilon(0.02));
  CHECK(litres(0.0508) == Approx(4.118).epsilon(0.02));
  CHECK(litres(0.0762) == Approx(4.307).epsilon(0.02));
  CHECK(litres(0.0254) / litres(1.0) == Approx(1.0 - 0.34).margin(0.02));  // what one inch costs
}

TEST_CASE("more area or a stronger drive never means less flow") {
  std::mt19937_64 rng(seed());
  for (int i = 0; i < 200; ++i) {
    std::uniform_real_distribution<double> area(0.002, 0.2);
    std::uniform_real_distribution<double> degree(-20.0, 40.0);
    const double low = area(rng);
    const double high = area(rng);
    const double out = degree(rng);
    const double warm = std::uniform_real_distribution<double>(0.5, 30.0)(rng);
    const auto taken_in = [&](double low_m2, double high_m2, double attic_c) {
      const TwoOpenings t = two_openings(out, attic_c, low_m2, high_m2, 1e-3);
      return mass(solve(t.network), t.low);
    };
    const double plain = taken_in(low, high, out + warm);
    CHECK(taken_in(1.1 * low, high, out + warm) > plain);
    CHECK(taken_in(low, 1.1 * high, out + warm) > plain);
    CHECK(taken_in(low, high, out + warm + 1.0) > plain);
  }
}

TEST_CASE("the laws of a link: it rises with its pressure, and the slope is its slope") {
  std::mt19937_64 rng(seed());
  for (int i = 0; i < 300; ++i) {
    const Network network = random_network(rng, 6);
    for (const Link& link : network.links) {
      std::visit(
          [&](const auto& law) {
            const auto at = [&](double dp) {
              if constexpr (std::is_same_v<std::decay_t<decltype(law)>, TallOpening>) {
                return flow(law, dp, 0.3, Densities{1.2, 1.2});
              } else {
                return flow(law, dp, Densities{1.2, 1.2});
              }
            };
            for (const double dp : {-30.0, -1.0, -0.01, 0.003, 0.4, 7.0, 90.0}) {
              const double step = 1e-5 * std::abs(dp);
              const double rise = at(dp + step).mass_kgs - at(dp - step).mass_kgs;
              CHECK(rise > 0.0);
              CHECK(at(dp).slope == Approx(rise / (2.0 * step)).epsilon(2e-3).margin(1e-12));
              CHECK(at(dp).forward_kgs - at(dp).backward_kgs ==
                    Approx(at(dp).mass_kgs).margin(1e-15));
            }
          },
          link.law);
    }
  }
}

TEST_CASE("random networks all come to balance") {
  const char* given = std::getenv("RIDGEWARD_CASES");
  const int cases = given != nullptr ? std::atoi(given) : 4000;
  std::mt19937_64 rng(seed());
  int most = 0;
  for (int i = 0; i < cases; ++i) {
    const Network network = random_network(rng);
    INFO("case " << i);
    Solution s;
    REQUIRE_NOTHROW(s = solve(network));
    most = std::max(most, s.iterations);
    const auto broken = verify(network, s);
    for (const std::string& words : broken) {
      FAIL_CHECK(words);
    }
    // Unique: from another start the same flows.
    if (i % 20 == 0) {
      Solution far = s;
      for (double& p : far.pressure_pa) {
        p += std::uniform_real_distribution<double>(-40.0, 40.0)(rng);
      }
      const Solution again = solve(network, &far);
      for (const AirLinkId id : network.links.ids()) {
        CHECK(again.links[id].mass_kgs == Approx(s.links[id].mass_kgs).epsilon(1e-6).margin(1e-9));
      }
    }
  }
  std::cout << cases << " random networks, at most " << most << " iterations\n";
}
