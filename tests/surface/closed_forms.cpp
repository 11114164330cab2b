// Roofs with closed forms: lengths, areas and counts of lines to 1e-9.

#include "support/raised.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>

using namespace ridgeward;
using namespace ridgeward::support;
using surface::LineKind;

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

TEST_CASE("L plan with a gabled wing end: hip end, valley and ridges by hand") {
  // Main 40 x 24 hipped at the west end; wing 16 wide, 20 long to the south at the east end, 6/12.
  const auto s = raised(house({{0, 0}, {24, 0}, {24, -20}, {40, -20}, {40, 24}, {0, 24}},
                              {eave(6), eave(6), gable(), eave(6), eave(6), eave(6)}));
  // Wing ridge at x = 32, height 4, from y = -20 to where it meets the main roof at y = 8.
  require_lengths(s, LineKind::valley, {12.0});
  // The main ridge at y = 12, height 6, from x = 12; the wing's at height 4 runs into the east
  // side.
  require_lengths(s, LineKind::rake, {8 * std::sqrt(1.25), 8 * std::sqrt(1.25)});
  require_lengths(s, LineKind::eave, {16 + 8.0, 20.0, 44.0, 40.0, 24.0});
  require_lengths(s, LineKind::ridge, {28.0, 16.0});
  const double to_main = std::sqrt(288 + 36.0) / 12 * 12;  // a full hip: run 12
  const double to_wing =
      std::sqrt(288 + 36.0) / 12 * 4;  // from the wing's ridge up to the main one
  require_lengths(s, LineKind::hip, {to_main, to_main, to_main, to_wing});
  REQUIRE(area_ft2(s) == Approx((40 * 24 + 16 * 20) * std::sqrt(1.25)).epsilon(1e-9));
}

TEST_CASE("plus plan with hipped ends: all valleys meet in one point") {
  // Four arms, each 20 wide and 15 long, 6/12: ridges at height 5 meet over the middle.
  const auto s = raised(house({{15, 0},
                               {35, 0},
                               {35, 15},
                               {50, 15},
                               {50, 35},
                               {35, 35},
                               {35, 50},
                               {15, 50},
                               {15, 35},
                               {0, 35},
                               {0, 15},
                               {15, 15}},
                              std::vector<model::Edge>(12, eave(6))));
  const double hip = 10 * std::sqrt(288 + 36.0) / 12;
  require_lengths(s, LineKind::hip, std::vector<double>(8, hip));
  require_lengths(s, LineKind::valley, std::vector<double>(4, hip));
  require_lengths(s, LineKind::ridge, {15, 15, 15, 15});
  REQUIRE(s.planes.size() == 12);
  REQUIRE(area_ft2(s) == Approx((50 * 50 - 4 * 15 * 15) * std::sqrt(1.25)).epsilon(1e-9));
}

TEST_CASE("courtyard: four wings around a court") {
  // 60 x 50 with a court 20 x 10 in the middle: wings 20 wide, 8/12.
  model::RoofModel m =
      house({{0, 0}, {60, 0}, {60, 50}, {0, 50}}, std::vector<model::Edge>(4, eave(8)));
  model::Hole court;
  for (const glm::dvec2 p : {glm::dvec2{20, 20}, {20, 30}, {40, 30}, {40, 20}}) {
    court.outline.push_back(p * ft);
  }
  court.edges.assign(4, eave(8));
  m.parts[0].holes.push_back(court);
  const auto s = raised(m);
  REQUIRE(s.planes.size() == 8);
  const double hip = 10 * std::sqrt(288 + 64.0) / 12;
  require_lengths(s, LineKind::hip, std::vector<double>(4, hip));
  require_lengths(s, LineKind::valley, std::vector<double>(4, hip));
  require_lengths(s, LineKind::ridge, {40, 40, 30, 30});
  require_lengths(s, LineKind::eave, {60, 60, 50, 50, 20, 20, 10, 10});
  REQUIRE(area_ft2(s) == Approx((60 * 50 - 200) * std::sqrt(1 + 4.0 / 9)).epsilon(1e-9));
  REQUIRE_FALSE(s.plane_named("main/4").is_none());
}

TEST_CASE("unequal pitches: hip end 12/12 against sides 6/12") {
  // 40 x 24: sides rise 6 in over 12 ft; the end reaches that height after 6 ft of run.
  const auto s =
      raised(house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {eave(6), eave(12), eave(6), eave(12)}));
  require_lengths(s, LineKind::ridge, {28});
  require_lengths(s, LineKind::hip, std::vector<double>(4, std::sqrt(12.0 * 12 + 6 * 6 + 6 * 6)));
  const double sides = 2 * (28 + 40) / 2.0 * 12 * std::sqrt(1.25);
  const double ends = 2 * 24 * 6 / 2.0 * std::sqrt(2.0);
  REQUIRE(area_ft2(s) == Approx(sides + ends).epsilon(1e-9));
}

TEST_CASE("shed: one plane, rakes and a top edge") {
  const auto s = raised(
      house({{0, 0}, {30, 0}, {30, 16}, {0, 16}}, {eave(4, ft), gable(ft), gable(ft), gable(ft)}));
  REQUIRE(s.planes.size() == 1);
  require_lengths(s, LineKind::eave, {32});
  require_lengths(s, LineKind::shed_top, {32});
  const double rake = 18 * std::sqrt(10.0) / 3;
  require_lengths(s, LineKind::rake, {rake, rake});
  REQUIRE(area_ft2(s) == Approx(32 * 18 * std::sqrt(10.0) / 3).epsilon(1e-9));
}

TEST_CASE("gambrel: a pitch break along both sides") {
  auto lower = eave(18);
  lower.breaks.push_back({9 * ft, units::Pitch::from_rise_run(6, 12)});
  const auto s =
      raised(house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {lower, gable(), lower, gable()}));
  REQUIRE(s.planes.size() == 4);
  REQUIRE(s.planes[PlaneId(1)].id == "main/0:b");
  require_lengths(s, LineKind::pitch_break, {40, 40});
  require_lengths(s, LineKind::ridge, {40});
  REQUIRE(s.planes[PlaneId(1)].pitch.in_12() == Approx(6));
  // 9 ft up at 18/12 takes 6 ft of run, the other 6 ft are at 6/12.
  const double slope = std::hypot(6.0, 9.0) + std::hypot(6.0, 3.0);
  REQUIRE(area_ft2(s) == Approx(2 * 40 * slope).epsilon(1e-9));
}

TEST_CASE("the fascia rule: level, steeper planes hang out less; as given, eaves at two heights") {
  const std::vector<glm::dvec2> plan{{0, 0}, {40, 0}, {40, 24}, {0, 24}};
  model::RoofModel m =
      house(plan, {eave(6, 2 * ft), eave(12, 2 * ft), eave(6, 2 * ft), eave(12, 2 * ft)});
  const auto level = raised(m);
  // Drop 1 ft: the 12/12 ends hang out 1 ft.
  require_lengths(level, LineKind::eave, {42, 42, 28, 28});
  REQUIRE(level.base_m == Approx(-1 * ft));
  REQUIRE(level.assumptions.size() == 2);
  m.parts[0].fascia = model::Fascia::as_given;
  const auto given = raised(m);
  // Ends drop 2 ft, sides 1 ft: the sides' eaves end where the planes cross, 1 ft short of the
  // corner, and the ends go on below them along short rakes.
  require_lengths(given, LineKind::eave, {42, 42, 28, 28});
  require_lengths(given, LineKind::rake, std::vector<double>(4, std::sqrt(2.0)));
  REQUIRE(given.base_m == Approx(-2 * ft));
  REQUIRE(area_ft2(given) > area_ft2(level));
}

TEST_CASE("two eaves in one line at two pitches leave a step wall") {
  const auto s = raised(house({{0, 0}, {20, 0}, {40, 0}, {40, 24}, {0, 24}},
                              {eave(6), eave(12), gable(), eave(6), gable()}));
  // The steeper plane leaves a wall beside the lower one up to where it meets the back plane.
  const auto steps = lengths_ft(s, LineKind::step_wall);
  REQUIRE_FALSE(steps.empty());
  REQUIRE(s.planes.size() == 3);
}

TEST_CASE("turning, mirroring and moving the plan change no length") {
  std::vector<glm::dvec2> plan{{0, 0}, {24, 0}, {24, -20}, {40, -20}, {40, 24}, {0, 24}};
  const std::vector<model::Edge> edges{eave(6, ft), eave(8, ft), gable(ft),
                                       eave(8, ft), eave(6, ft), eave(9, ft)};
  const auto all_lengths = [](const surface::Surface& s) {
    std::vector<double> all;
    for (const surface::Line& line : s.lines) {
      all.push_back(line.length_m);
    }
    std::sort(all.begin(), all.end());
    return all;
  };
  const auto first = all_lengths(raised(house(plan, edges)));
  const auto same = [&](const surface::Surface& s) {
    const auto got = all_lengths(s);
    REQUIRE(got.size() == first.size());
    for (std::size_t i = 0; i < got.size(); ++i) {
      REQUIRE(got[i] == Approx(first[i]).epsilon(1e-9));
    }
  };
  for (const double turn : {17.0, 45.0, 90.0, 123.4}) {
    std::vector<glm::dvec2> turned;
    const double c = std::cos(turn * M_PI / 180);
    const double d = std::sin(turn * M_PI / 180);
    for (const glm::dvec2& p : plan) {
      turned.emplace_back(c * p.x - d * p.y + 1000, d * p.x + c * p.y - 500);
    }
    same(raised(house(turned, edges)));
  }
  std::vector<glm::dvec2> mirrored;
  std::vector<model::Edge> mirrored_edges;
  for (std::size_t i = plan.size(); i-- > 0;) {
    mirrored.emplace_back(-plan[i].x, plan[i].y);
    mirrored_edges.push_back(edges[(i + plan.size() - 1) % plan.size()]);
  }
  same(raised(house(mirrored, mirrored_edges)));
}

TEST_CASE("gables only are a named fault") {
  const auto open = surface::raise(
      house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {gable(), gable(), gable(), gable()}));
  REQUIRE_FALSE(open.ok());
  REQUIRE(open.faults()[0].code == "roof.open");
  const auto beside = surface::raise(
      house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {eave(6), gable(), gable(), gable()}));
  REQUIRE(beside.ok());
}

TEST_CASE("overhangs that run into each other are a named fault") {
  const auto s = surface::raise(
      house({{0, 0}, {20, 0}, {20, 10}, {22, 10}, {22, 0}, {40, 0}, {40, 30}, {0, 30}},
            std::vector<model::Edge>(8, eave(6, 2 * ft))));
  REQUIRE_FALSE(s.ok());
  REQUIRE(s.faults()[0].code == "overhang.collides");
  REQUIRE(s.faults()[0].where.find("/parts/0/edges/") == 0);
}
