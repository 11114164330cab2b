// Areas and whole solids: check-values 1.4 and 1.5, ids A01 to A13 and K01 to K04.
#include "published/measured.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace ridgeward::tests;
using surface::LineKind;

namespace {

/// Main block 40 x 22 ft and a wing 16 ft wide, 8 ft deep (A01).
Framed ell(double pitch) {
  const model::Edge e = support::eave(pitch);
  return framed(
      support::house({{0, 0}, {24, 0}, {24, -8}, {40, -8}, {40, 22}, {0, 22}}, {e, e, e, e, e, e}));
}

double plan_ft2(const Framed& roof) {
  double sum = 0.0;
  for (const surface::Plane& plane : roof.surface.planes) {
    sum += plane.plan_area_m2;
  }
  return sum / (ft * ft);
}

/// Space over a ceiling at the plate.
double volume_ft3(const Framed& roof) {
  const attic::Attic attic = value_of(attic::divide(roof.model, roof.surface, roof.framing));
  return attic.compartments[CompartmentId(0U)].volume_m3 / (ft * ft * ft);
}

double gables_ft2(const Framed& roof) {
  double sum = 0.0;
  for (const surface::WallFace& wall : roof.surface.walls) {
    if (wall.kind != surface::WallFace::Kind::gable) {
      continue;
    }
    for (const surface::Loop& loop : wall.loops) {
      const std::vector<glm::dvec3> p = surface::corners(roof.surface, loop);
      glm::dvec3 twice{0.0};
      for (std::size_t i = 1; i + 1 < p.size(); ++i) {
        twice += glm::cross(p[i] - p[0], p[i + 1] - p[0]);
      }
      sum += 0.5 * glm::length(twice);
    }
  }
  return sum / (ft * ft);
}

}  // namespace

TEST_CASE("A01 to A05 [E]: an L-shaped plan of 1 008 sq ft at four pitches") {
  CHECK(plan_ft2(ell(12)) == Approx(1008.0).epsilon(1e-9));    // A01
  CHECK(ell(12).area_ft2() == Approx(1432.0).epsilon(0.005));  // A02, half pitch
  CHECK(ell(8).area_ft2() == Approx(1210.0).epsilon(0.002));   // A03, third pitch
  CHECK(ell(6).area_ft2() == Approx(1129.0).epsilon(0.002));   // A04, quarter pitch
  CHECK(ell(18).area_ft2() == Approx(1815.0).epsilon(0.002));  // A05, three-quarter pitch
}

TEST_CASE("A06 to A09: level area to roof area") {
  CHECK(hip_roof(10, 10, 12).area_ft2() == Approx(142.0).margin(0.6));      // A06 [E]
  CHECK(gable_roof(40, 24, 6).area_ft2() == Approx(1073.28).margin(0.05));  // A07 [HOW-A]
  CHECK(hip_roof(50, 40, 6).area_ft2() == Approx(2236.0).margin(1.0));      // A08 [COST]
  CHECK(gable_roof(52, 35, 6).area_ft2() == Approx(2034.82).margin(5e-3));  // A09 [J4]
}

TEST_CASE("A10 [EST]: a hip and a gable of one span, pitch and length have one area") {
  for (const double pitch : {3.0, 6.0, 9.0, 14.0}) {
    CHECK(hip_roof(44, 26, pitch).area_ft2() ==
          Approx(gable_roof(44, 26, pitch).area_ft2()).epsilon(1e-9));
  }
}

TEST_CASE("A11 to A13: slopes, eaves and rakes of a gable") {
  const Framed roof = gable_roof(44, 2 * 16 / std::sqrt(2.0), 12);  // slopes of 44 x 16 ft
  CHECK(roof.area_ft2() == Approx(1408.0).epsilon(1e-6));           // A11 [BOK]
  CHECK(roof.sum_ft(LineKind::eave) + roof.sum_ft(LineKind::rake) ==
        Approx(152.0).epsilon(1e-6));                                 // A12 [BOK]
  CHECK(roof.sum_ft(LineKind::ridge) == Approx(44.0).epsilon(1e-9));  // A12
  const Framed other = gable_roof(46, 28 / std::sqrt(2.0), 12);       // both slopes together 28 ft
  CHECK(other.area_ft2() == Approx(1288.0).epsilon(1e-6));            // A13 [HB]
}

TEST_CASE("K01: hip roof on 40 x 24 ft, R 6") {
  const Framed roof = hip_roof(40, 24, 6);
  CHECK(roof.sum_ft(LineKind::eave) == Approx(128.0).epsilon(1e-9));
  CHECK(roof.sum_ft(LineKind::ridge) == Approx(16.0).epsilon(1e-9));
  CHECK(roof.sum_ft(LineKind::hip) == Approx(72.0).epsilon(1e-9));
  CHECK(roof.plane("main/0").area_m2 / (ft * ft) == Approx(375.66).margin(5e-3));
  CHECK(roof.plane("main/1").area_m2 / (ft * ft) == Approx(161.00).margin(5e-3));
  CHECK(roof.area_ft2() == Approx(1073.313).margin(5e-4));
  CHECK(volume_ft3(roof) == Approx(2304.0).epsilon(1e-9));
}

TEST_CASE("K02: gable on the same") {
  const Framed roof = gable_roof(40, 24, 6);
  CHECK(roof.area_ft2() == Approx(1073.313).margin(5e-4));
  CHECK(gables_ft2(roof) == Approx(144.0).epsilon(1e-9));
  CHECK(volume_ft3(roof) == Approx(2880.0).epsilon(1e-9));
}

TEST_CASE("K03: pyramid of 24 ft, R 8") {
  const Framed roof = hip_roof(24, 24, 8);
  CHECK(roof.sum_ft(LineKind::hip) == Approx(4 * 18.7617).margin(2e-4));
  CHECK(roof.plane("main/2").area_m2 / (ft * ft) == Approx(173.07).margin(5e-3));
  CHECK(roof.area_ft2() == Approx(692.27).margin(0.02));
  CHECK(volume_ft3(roof) == Approx(1536.0).epsilon(1e-9));
}

TEST_CASE("K04: hip roof with a gabled wing") {
  const model::Edge e = support::eave(6);
  const Framed roof = framed(
      support::house({{0, 0}, {12, 0}, {12, -20}, {28, -20}, {28, 0}, {40, 0}, {40, 24}, {0, 24}},
                     {e, e, support::gable(), e, e, e, e, e}));
  CHECK(roof.line("main/0|main/1").length_m / ft == Approx(12.0).epsilon(1e-9));
  CHECK(roof.line("main/3|main/4").length_m / ft == Approx(12.0).epsilon(1e-9));
  CHECK(roof.sum_ft(LineKind::valley) == Approx(24.0).epsilon(1e-9));
  const surface::Line& ridge = roof.line("main/1|main/3");
  CHECK(ridge.length_m / ft == Approx(28.0).epsilon(1e-9));
  CHECK(roof.surface.nodes[ridge.from].z / ft == Approx(4.0).epsilon(1e-9));
  CHECK(roof.area_ft2() == Approx(1431.08).margin(5e-3));
}
