// Half hips, gablets, walls above, mansards and saltboxes: closed forms.

#include "support/raised.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using namespace ridgeward::support;
using surface::LineKind;

namespace {

const std::vector<glm::dvec2> plan{{0, 0}, {40, 0}, {40, 24}, {0, 24}};

model::Edge half_hip(double rise, double from_ft, double over_ft = 0) {
  model::Edge edge = eave(rise, over_ft * ft);
  edge.kind = model::EdgeKind::half_hip;
  edge.from_height_m = from_ft * ft;
  return edge;
}

}  // namespace

TEST_CASE("half hip: a gable clipped from 4 ft up") {
  // 6/12 all round, ridge at 6 ft: the clip starts at 4 ft, 2 ft below; its hips run 4 ft of plan.
  const auto s = raised(house(plan, {eave(6), half_hip(6, 4), eave(6), half_hip(6, 4)}));
  require_lengths(s, LineKind::ridge, {40 - 2 * 4});
  require_lengths(s, LineKind::hip, std::vector<double>(4, 4 * std::sqrt(2.25)));
  // At 4 ft the gable is 24 - 2 * 8 wide: the clipped plane's eave.
  require_lengths(s, LineKind::eave, {8, 8, 40, 40});
  require_lengths(s, LineKind::rake, std::vector<double>(4, 8 * std::sqrt(1.25)));
  REQUIRE_FALSE(s.plane_named("main/1").is_none());
}

TEST_CASE("half hip with an overhang keeps its plane through the wall line") {
  const auto s =
      raised(house(plan, {eave(6, 1 * ft), half_hip(6, 4, 1), eave(6, 1 * ft), gable(1 * ft)}));
  const surface::Plane& clip = s.planes[s.plane_named("main/1")];
  const double at_wall = clip.frame.at({0.0, clip.wall_line_v_m}).z;
  REQUIRE(at_wall == Approx(4 * ft).epsilon(1e-9));  // over the gable wall it is 4 ft up
  REQUIRE(clip.frame.origin.z == Approx((4 - 0.5) * ft).epsilon(1e-9));
}

TEST_CASE("gablet: a small gable on top of the hip end") {
  model::Edge end = eave(6);
  end.kind = model::EdgeKind::gablet;
  end.wall_height_m = 2 * ft;
  const auto s = raised(house(plan, {eave(6), end, eave(6), end}));
  // The hip end stops at 4 ft, 8 ft of run in; the ridge goes out to the small gables.
  require_lengths(s, LineKind::ridge, {40 - 2 * 8});
  require_lengths(s, LineKind::hip, std::vector<double>(4, 8 * std::sqrt(2.25)));
  require_lengths(s, LineKind::headwall, {8, 8});
  require_lengths(s, LineKind::rake, std::vector<double>(4, 4 * std::sqrt(1.25)));
  require_lengths(s, LineKind::eave, {24, 24, 40, 40});
  end.wall_height_m = 7 * ft;
  const auto high = surface::raise(house(plan, {eave(6), end, eave(6), eave(6)}));
  REQUIRE_FALSE(high.ok());
  REQUIRE(high.faults()[0].code == "gablet.too_high");
  REQUIRE(high.faults()[0].where == "/parts/0/edges/1/wall_height");
}

TEST_CASE("a gablet on a plan that no roof closes over is a named fault") {
  // A T of gables but for one eave at its foot, and the gablet.
  model::Edge end = eave(8);
  end.kind = model::EdgeKind::gablet;
  end.wall_height_m = 2 * ft;
  const auto open = surface::raise(
      house({{0, 0}, {29, 0}, {29, 16}, {32, 16}, {32, 32}, {24, 32}, {24, 24}, {0, 24}},
            {gable(), gable(), gable(), gable(), end, gable(), gable(), eave(12)}));
  REQUIRE_FALSE(open.ok());
  REQUIRE(open.faults()[0].code == "roof.open");
}

TEST_CASE("a shed against a taller wall: headwall and sidewalls, no rakes") {
  model::Edge wall = gable();
  wall.kind = model::EdgeKind::wall;
  const auto s =
      raised(house({{0, 0}, {20, 0}, {20, 12}, {0, 12}}, {eave(3), gable(), wall, wall}));
  require_lengths(s, LineKind::headwall, {20});
  require_lengths(s, LineKind::sidewall, {12 * std::sqrt(17.0) / 4});
  require_lengths(s, LineKind::rake, {12 * std::sqrt(17.0) / 4});
}

TEST_CASE("mansard: steep below and flat above on all four sides") {
  model::Edge side = eave(24);
  side.breaks.push_back({8 * ft, units::Pitch::from_rise_run(3, 12)});
  const auto s = raised(house(plan, std::vector<model::Edge>(4, side)));
  REQUIRE(s.planes.size() == 8);
  // 8 ft up at 24/12 takes 4 ft of run all round.
  require_lengths(s, LineKind::pitch_break, {16, 16, 32, 32});
  require_lengths(s, LineKind::ridge, {16});
  const double lower = (40 * 24 - 32 * 16) * std::sqrt(5.0);
  const double upper = 32 * 16 * std::sqrt(17.0) / 4;
  double area = 0.0;
  for (const surface::Plane& p : s.planes) {
    area += p.area_m2 / (ft * ft);
  }
  REQUIRE(area == Approx(lower + upper).epsilon(1e-9));
}

TEST_CASE("saltbox: a low part that goes on in the plane of the main roof is one plane with it") {
  // Main gable 40 x 24, 6/12; behind it a part 8 ft deep whose plate lies 4 ft lower: its plane
  // continues the back of the main roof.
  model::RoofModel m = house(plan, {eave(6), gable(), eave(6), gable()});
  model::Part back = m.parts[0];
  back.id = "back";
  back.outline = {{0, 16 * ft}, {40 * ft, 16 * ft}, {40 * ft, 32 * ft}, {0, 32 * ft}};
  back.plate_m = -4 * ft;
  back.edges = {gable(), gable(), eave(6), gable()};
  m.parts.push_back(back);
  const auto s = raised(m);
  REQUIRE(s.planes.size() == 2);
  require_lengths(s, LineKind::ridge, {40});
  require_lengths(s, LineKind::eave, {40, 40});
  const double rear = 20 * std::sqrt(1.25);
  const double front = 12 * std::sqrt(1.25);
  require_lengths(s, LineKind::rake, {front, front, rear, rear});
}
