// The solid against closed forms and against the modelling kernel's own checker.
#include "solid/shape.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

solid::Report report_of(const model::RoofModel& m) {
  const auto surface = surface::raise(m);
  REQUIRE(surface.ok());
  const auto shape = solid::build(surface.value());
  if (!shape) {
    FAIL(shape.faults()[0].what);
  }
  return solid::examine(shape.value());
}

constexpr double cubic_foot = ft * ft * ft;

}  // namespace

TEST_CASE("volume over the plate of hip, gable and pyramid (check values K01, K02, K03)") {
  const std::vector<glm::dvec2> plan{{0, 0}, {40, 0}, {40, 24}, {0, 24}};
  const auto hip = report_of(house(plan, std::vector<model::Edge>(4, eave(6))));
  REQUIRE(hip.is_valid);
  REQUIRE(hip.is_closed);
  REQUIRE(hip.solids == 1);
  REQUIRE(hip.faces == 5);
  REQUIRE(hip.volume_m3 / cubic_foot == Approx(2304).epsilon(1e-9));
  REQUIRE(hip.area_m2 / (ft * ft) == Approx(960 * std::sqrt(1.25) + 960).epsilon(1e-9));
  const auto gabled = report_of(house(plan, {eave(6), gable(), eave(6), gable()}));
  REQUIRE(gabled.volume_m3 / cubic_foot == Approx(2880).epsilon(1e-9));
  REQUIRE(gabled.area_m2 / (ft * ft) == Approx(960 * std::sqrt(1.25) + 960 + 144).epsilon(1e-9));
  const auto pyramid =
      report_of(house({{0, 0}, {24, 0}, {24, 24}, {0, 24}}, std::vector<model::Edge>(4, eave(8))));
  REQUIRE(pyramid.volume_m3 / cubic_foot == Approx(1536).epsilon(1e-9));
}

TEST_CASE("solids of random roofs are valid, closed and the right way round") {
  const std::uint64_t seed = seed_or(2718);
  CAPTURE(seed);
  std::mt19937_64 rng(seed);
  const std::size_t cases = cases_or(400);
  std::size_t built = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    const int cells = std::uniform_int_distribution<int>(1, 12)(rng);
    const bool is_module = i % 2 == 0;
    const Loops loops =
        i % 4 == 3
            ? Loops{random_polygon(rng, std::uniform_int_distribution<std::size_t>(3, 20)(rng),
                                   20.0)}
            : random_rectilinear(rng, cells, 7, is_module ? 24 * inch : inch, is_module ? 3 : 300);
    const model::RoofModel m = random_house(rng, loops, {0.2, {3, 4, 6, 8, 9, 12, 16}});
    const auto surface = surface::raise(m);
    if (!surface && surface.faults()[0].code == "roof.open") {
      continue;
    }
    REQUIRE(surface.ok());
    const auto shape = solid::build(surface.value());
    CAPTURE(i, shape.ok() ? "" : shape.faults()[0].what);
    REQUIRE(shape.ok());
    const solid::Report report = solid::examine(shape.value());
    // Prisms under each plane: plan area times the height of its centroid.
    double volume = 0.0;
    for (const surface::Plane& plane : surface.value().planes) {
      for (const surface::Loop& loop : plane.loops) {
        const auto p = surface::corners(surface.value(), loop);
        for (std::size_t k = 1; k + 1 < p.size(); ++k) {
          const double twice =
              (p[k].x - p[0].x) * (p[k + 1].y - p[0].y) - (p[k + 1].x - p[0].x) * (p[k].y - p[0].y);
          volume += twice / 2 * ((p[0].z + p[k].z + p[k + 1].z) / 3 - surface.value().base_m);
        }
      }
    }
    REQUIRE(report.volume_m3 == Approx(volume).epsilon(1e-7));
    ++built;
  }
  REQUIRE(built * 2 > cases);
}
