// Roofs with closed forms: lengths, areas and counts of lines to 1e-9.
#include "surface/stage.hpp"

#include "support/plans.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>

using namespace ridgeward;
using namespace ridgeward::support;
using surface::LineKind;

namespace {

surface::Surface raised(const model::RoofModel& m) {
  auto result = surface::raise(m);
  if (!result) {
    FAIL(result.faults()[0].code << ": " << result.faults()[0].what);
  }
  const auto broken = surface::verify(result.value());
  for (const std::string& text : broken) {
    UNSCOPED_INFO(text);
  }
  REQUIRE(broken.empty());
  return std::move(result).value();
}

std::vector<double> lengths_ft(const surface::Surface& s, LineKind kind) {
  std::vector<double> all;
  for (const surface::Line& line : s.lines) {
    if (line.kind == kind) {
      all.push_back(line.length_m / ft);
    }
  }
  std::sort(all.begin(), all.end());
  return all;
}

void require_lengths(const surface::Surface& s, LineKind kind, std::vector<double> expected) {
  std::sort(expected.begin(), expected.end());
  const std::vector<double> got = lengths_ft(s, kind);
  INFO(surface::word(kind));
  CAPTURE(got, expected);
  REQUIRE(got.size() == expected.size());
  for (std::size_t i = 0; i < got.size(); ++i) {
    REQUIRE(got[i] == Approx(expected[i]).epsilon(1e-9));
  }
}

double area_ft2(const surface::Surface& s) {
  double sum = 0.0;
  for (const surface::Plane& p : s.planes) {
    sum += p.area_m2;
  }
  return sum / (ft * ft);
}

}  // namespace

TEST_CASE("hip roof 40 x 24, 6/12 (check value K01, closed form)") {
  const auto s =
      raised(house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {eave(6), eave(6), eave(6), eave(6)}));
  require_lengths(s, LineKind::eave, {24, 24, 40, 40});
  require_lengths(s, LineKind::ridge, {16});
  require_lengths(s, LineKind::hip, {18, 18, 18, 18});
  REQUIRE(s.lines.size() == 9);
  REQUIRE(area_ft2(s) == Approx(960 * std::sqrt(1.25)).epsilon(1e-9));
}

TEST_CASE("gable roof 40 x 24, 6/12, with eave and rake overhangs") {
  const auto s = raised(house({{0, 0}, {40, 0}, {40, 24}, {0, 24}},
                              {eave(6, 1.5 * ft), gable(ft), eave(6, 1.5 * ft), gable(ft)}));
  require_lengths(s, LineKind::eave, {42, 42});
  require_lengths(s, LineKind::ridge, {42});
  const double rake = 13.5 * std::sqrt(1.25);
  require_lengths(s, LineKind::rake, {rake, rake, rake, rake});
  REQUIRE(s.base_m == Approx(-0.75 * ft).epsilon(1e-12));
  const surface::Plane& p = s.planes[PlaneId(0)];
  REQUIRE(p.id == "main/0");
  REQUIRE(p.wall_line_v_m == Approx(1.5 * ft * std::sqrt(1.25)).epsilon(1e-12));
  REQUIRE(p.wall_start_u_m == Approx(1.0 * ft).epsilon(1e-12));
  REQUIRE(p.wall_end_u_m == Approx(41.0 * ft).epsilon(1e-12));
  REQUIRE(p.frame.origin.x == Approx(-1.0 * ft));
  REQUIRE(p.frame.origin.y == Approx(-1.5 * ft));
  REQUIRE_FALSE(s.line_named("main/0|main/2").is_none());
  REQUIRE(s.line_named("main/2|main/0") == s.line_named("main/0|main/2"));
}

TEST_CASE("pyramid 24 x 24, 8/12 (check value K03): one apex, turned by any angle") {
  for (const double turn : {0.0, 10.0, 33.3, 45.0, 71.9}) {
    std::vector<glm::dvec2> square{{0, 0}, {24, 0}, {24, 24}, {0, 24}};
    const double c = std::cos(turn * M_PI / 180);
    const double d = std::sin(turn * M_PI / 180);
    for (auto& p : square) {
      p = {c * p.x - d * p.y, d * p.x + c * p.y};
    }
    const auto s = raised(house(square, std::vector<model::Edge>(4, eave(8))));
    require_lengths(s, LineKind::hip, std::vector<double>(4, std::sqrt(288.0 + 64.0)));
    REQUIRE(s.nodes.size() == 5);
    REQUIRE(area_ft2(s) == Approx(576 * std::sqrt(1 + 64.0 / 144)).epsilon(1e-9));
  }
}
