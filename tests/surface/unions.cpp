// United parts: closed forms.

#include "support/raised.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using namespace ridgeward::support;
using surface::LineKind;

namespace {

model::Part part(const std::string& id, glm::dvec2 low, glm::dvec2 high,
                 const std::vector<model::Edge>& edges, double plate_ft = 0.0) {
  model::Part p;
  p.id = id;
  p.plate_m = plate_ft * ft;
  p.outline = {low * ft, glm::dvec2{high.x, low.y} * ft, high * ft, glm::dvec2{low.x, high.y} * ft};
  p.edges = edges;
  return p;
}

model::RoofModel of(const std::vector<model::Part>& parts) {
  model::RoofModel m;
  m.parts = parts;
  return m;
}

constexpr double snapped = 1e-6;  // relative: vertices of the union lie on a micrometre
const std::vector<model::Edge> gabled_ends{eave(6), gable(), eave(6), gable()};
const std::vector<model::Edge> gabled_sides{gable(), eave(6), gable(), eave(6)};

}  // namespace

TEST_CASE("tee: a lower wing runs into a gable roof (check value K04 with a gable main)") {
  const auto s = raised(of({part("main", {0, 0}, {40, 24}, gabled_ends),
                            part("wing", {12, -20}, {28, 12}, gabled_sides)}));
  // Wing ridge at 4 ft, from y = -20 to where the main plane is 4 ft up, y = 8.
  require_lengths(s, LineKind::ridge, {40, 28}, snapped);
  require_lengths(s, LineKind::valley, {12, 12}, snapped);
  require_lengths(s, LineKind::eave, {12, 12, 40, 20, 20}, snapped);
  require_lengths(
      s, LineKind::rake,
      [] {
        std::vector<double> all(4, 12 * std::sqrt(1.25));
        all.insert(all.end(), 2, 8 * std::sqrt(1.25));
        return all;
      }(),
      snapped);
  REQUIRE(area_ft2(s) == Approx((960 + 320) * std::sqrt(1.25)).epsilon(1e-9));
  REQUIRE(s.planes.size() == 4);
}

TEST_CASE("cross gable: two equal ridges meet over the middle") {
  const auto s = raised(of({part("long", {0, 12}, {48, 36}, gabled_ends),
                            part("cross", {12, 0}, {36, 48}, gabled_sides)}));
  require_lengths(s, LineKind::ridge, {12 + 12, 12 + 12, 12 + 12, 12 + 12}, snapped);
  require_lengths(s, LineKind::valley, std::vector<double>(4, 18), snapped);
  REQUIRE(area_ft2(s) == Approx((48 * 24 + 24 * 24) * std::sqrt(1.25)).epsilon(1e-9));
}

TEST_CASE("gable dormer on a slope: valleys on top, cheeks below, a face in front") {
  // Main 40 x 24, 12/12, ridge at 12 ft. Dormer 8 ft wide from y = 3 to y = 12, plate 5 ft, 6/12:
  // its eaves at 5 ft, its ridge at 7 ft.
  const std::vector<model::Edge> steep{eave(12), gable(), eave(12), gable()};
  const auto s = raised(of({part("main", {0, 0}, {40, 24}, steep),
                            part("dormer", {16, 3}, {24, 12}, gabled_sides, 5.0)}));
  // Eaves of the dormer run from its face at y = 3 back to y = 5, where the main plane is 5 ft up.
  require_lengths(s, LineKind::eave, {2, 2, 40, 40}, snapped);
  require_lengths(s, LineKind::ridge, {40, 4}, snapped);
  // Valleys from (16, 5, 5) to (20, 7, 7).
  require_lengths(s, LineKind::valley, std::vector<double>(2, std::sqrt(16 + 4 + 4.0)), snapped);
  // Cheeks stand on the slope from y = 3 to y = 5; the face stands on it along 8 ft.
  require_lengths(s, LineKind::sidewall, std::vector<double>(2, 2 * std::sqrt(2.0)), snapped);
  require_lengths(s, LineKind::headwall, {8}, snapped);
  const double main = 960 * std::sqrt(2.0);
  // The dormer covers in plan 8 x 2 and the triangle of its valleys, 8 x 2 / 2.
  const double covered = 16 + 8;
  REQUIRE(area_ft2(s) ==
          Approx(main - covered * std::sqrt(2.0) + covered * std::sqrt(1.25)).epsilon(1e-9));
}

TEST_CASE("a lean-to on a lower plate: a headwall where it meets the house") {
  // House with plate at 9 ft; lean-to 10 ft deep, 3/12, plate 5 ft: its top is 7.5 ft up at the
  // wall, under the eave.
  const auto s =
      raised(of({part("house", {0, 0}, {40, 24}, gabled_ends, 9.0),
                 part("porch", {0, -10}, {40, 0}, {eave(3), gable(), gable(), gable()}, 5.0)}));
  require_lengths(s, LineKind::headwall, {40}, snapped);
  require_lengths(s, LineKind::eave, {40, 40, 40}, snapped);
  REQUIRE(s.base_m == Approx(5 * ft));
}

TEST_CASE("a part wholly inside another changes nothing") {
  const auto alone =
      raised(of({part("main", {0, 0}, {40, 24}, std::vector<model::Edge>(4, eave(8)))}));
  const auto both =
      raised(of({part("main", {0, 0}, {40, 24}, std::vector<model::Edge>(4, eave(8))),
                 part("inner", {12, 8}, {20, 14}, std::vector<model::Edge>(4, eave(8)))}));
  REQUIRE(both.planes.size() == alone.planes.size());
  REQUIRE(both.lines.size() == alone.lines.size());
  REQUIRE(area_ft2(both) == Approx(area_ft2(alone)).epsilon(1e-12));
}

TEST_CASE("the order of parts changes no sum") {
  const auto a = part("a", {0, 0}, {40, 24}, std::vector<model::Edge>(4, eave(8)));
  const auto b = part("b", {30, 10}, {50, 44}, std::vector<model::Edge>(4, eave(5)));
  const auto c = part("c", {-10, 4}, {16, 20}, gabled_ends);
  const auto one = raised(of({a, b, c}));
  const auto other = raised(of({c, a, b}));
  for (const LineKind kind : {LineKind::eave, LineKind::ridge, LineKind::hip, LineKind::valley}) {
    double sum = 0.0;
    for (const double length : lengths_ft(one, kind)) {
      sum += length;
    }
    for (const double length : lengths_ft(other, kind)) {
      sum -= length;
    }
    REQUIRE(std::abs(sum) < 1e-5);
  }
  REQUIRE(area_ft2(one) == Approx(area_ft2(other)).epsilon(1e-9));
}

TEST_CASE("two houses that touch in a corner are two solids") {
  const auto s = raised(of({part("a", {0, 0}, {20, 20}, std::vector<model::Edge>(4, eave(6))),
                            part("b", {20, 20}, {40, 40}, std::vector<model::Edge>(4, eave(6)))}));
  REQUIRE(solid::examine(solid::build(s).value()).solids == 2);
}

TEST_CASE("an octagonal turret at the corner of a house") {
  model::Part turret;
  turret.id = "turret";
  turret.plate_m = 3 * ft;
  for (int i = 0; i < 8; ++i) {
    const double a = (22.5 + 45 * i) * M_PI / 180;
    turret.outline.push_back(glm::dvec2{6 * std::cos(a), 6 * std::sin(a)} * ft);
  }
  turret.edges.assign(8, eave(16));
  const auto s =
      raised(of({part("main", {0, 0}, {40, 24}, std::vector<model::Edge>(4, eave(6))), turret}));
  // Six sides stand clear of the house or partly over it; all eight meet in one apex.
  const auto apex = std::max_element(s.nodes.begin(), s.nodes.end(),
                                     [](const auto& a, const auto& b) { return a.z < b.z; });
  REQUIRE(apex->x == Approx(0.0).margin(1e-6));
  REQUIRE(apex->z / ft == Approx(3 + 6 * std::cos(M_PI / 8) * 16 / 12).epsilon(1e-6));
}

TEST_CASE("a tower whose top lies over the corner of the house, drawn to whole millimetres") {
  // Its hips miss each other by a micrometre, and the house's wall line runs through the gap.
  model::Part tower;
  tower.id = "tower";
  tower.plate_m = 2.0;
  tower.fascia = model::Fascia::as_given;
  tower.outline = {{5.543, 3.919}, {3.919, 5.543}, {1.623, 5.543}, {0.0, 3.919},
                   {0.0, 1.623},   {1.623, 0.0},   {3.919, 0.0},   {5.543, 1.623}};
  for (const double slope :
       {1.1916192338018032, 1.1915584416096834, 1.1917713488066548, 1.1919884518440793,
        1.191923295916927, 1.1919884519442352, 1.1917713488067458, 1.191558441534621}) {
    tower.edges.push_back(eave(12));
    tower.edges.back().pitch = units::Pitch::from_tangent(slope);
  }
  model::Part house;
  house.id = "house";
  house.fascia = model::Fascia::as_given;
  house.plate_m = 0.0;
  house.outline = {{16.771, 11.771}, {2.771, 11.771}, {2.771, 2.771}, {16.771, 2.771}};
  house.edges.assign(4, eave(12));
  for (model::Edge& edge : house.edges) {
    edge.pitch = units::Pitch::from_tangent(std::tan(M_PI / 6));
  }
  const auto s = raised(of({tower, house}));
  // Eight equal sides: a regular octagon 5.543 m across, at 50 degrees.
  const double side_m2 = 5.543 * 5.543 * std::tan(M_PI / 8) / 4 / std::cos(50 * M_PI / 180);
  for (int i = 0; i < 8; ++i) {
    const PlaneId id = s.plane_named("tower/" + std::to_string(i));
    CAPTURE(i);
    REQUIRE_FALSE(id.is_none());
    CHECK(s.planes[id].area_m2 == Approx(side_m2).epsilon(2e-3));
  }
}
