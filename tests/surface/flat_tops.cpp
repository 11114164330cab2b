// Roofs cut off by a flat deck, and walls that go on in one line: closed forms.

#include "assess.hpp"
#include "surface/skeleton.hpp"

#include "support/raised.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace ridgeward::support;
using surface::LineKind;

namespace {

model::RoofModel rectangle(double w, double d, const std::vector<model::Edge>& edges) {
  model::RoofModel m;
  model::Part p;
  p.id = "main";
  p.plate_m = 0.0;
  p.outline = {{0, 0}, {w * ft, 0}, {w * ft, d * ft}, {0, d * ft}};
  p.edges = edges;
  m.parts = {p};
  return m;
}

}  // namespace

TEST_CASE("mansard with a flat deck: a frustum") {
  model::RoofModel m = rectangle(40, 30, {eave(18), eave(18), eave(18), eave(18)});
  m.parts[0].flat_top_m = 6 * ft;  // 4 ft of run
  const auto s = raised(m);
  REQUIRE(s.planes.size() == 5);
  require_lengths(s, LineKind::pitch_break, {32, 32, 22, 22});
  require_lengths(s, LineKind::hip, std::vector<double>(4, std::sqrt(16 + 16 + 36.0)));
  require_lengths(s, LineKind::ridge, {});
  const double sides = (1200 - 32 * 22) * std::sqrt(1 + 2.25);
  REQUIRE(area_ft2(s) == Approx(32 * 22 + sides).epsilon(1e-9));
  // Volume of a frustum, h/3 (A + a + the middle term of two rectangles with parallel sides).
  const double volume =
      6.0 / 6 * (40 * 30 + 32 * 22 + (40 + 32) * (30 + 22));  // prismoidal formula
  const auto solid = solid::build(s);
  REQUIRE(solid::examine(solid.value()).volume_m3 / (ft * ft * ft) == Approx(volume).epsilon(1e-9));
}

TEST_CASE("a flat deck over a gabled house and one above the ridge") {
  model::RoofModel m = rectangle(40, 24, {eave(6), gable(), eave(6), gable()});
  m.parts[0].flat_top_m = 4 * ft;
  const auto cut = raised(m);
  REQUIRE(cut.planes.size() == 3);
  require_lengths(cut, LineKind::pitch_break, {40, 40});
  require_lengths(cut, LineKind::shed_top, {8, 8});
  require_lengths(cut, LineKind::rake, std::vector<double>(4, 8 * std::sqrt(1.25)));
  m.parts[0].flat_top_m = 7 * ft;
  const auto whole = raised(m);
  REQUIRE(whole.planes.size() == 2);
  require_lengths(whole, LineKind::ridge, {40});
  REQUIRE(whole.assumptions.size() == 1);
  REQUIRE(whole.assumptions[0].find("flat top lies above the ridge") != std::string::npos);
  m.parts[0].flat_top_m = 6 * ft;  // just at the ridge
  require_lengths(raised(m), LineKind::ridge, {40});
}

TEST_CASE("a flat deck closes a plan that would stay open") {
  // One eave between three gables: the plane of a shed has no end but the flat deck.
  model::RoofModel m = rectangle(20, 20, {eave(6), gable(), gable(), gable()});
  m.parts[0].flat_top_m = 3 * ft;
  const auto s = raised(m);
  REQUIRE(area_ft2(s) == Approx(20 * 6 * std::sqrt(1.25) + 20 * 14).epsilon(1e-9));
}

TEST_CASE("two wings cut off at different heights are united") {
  model::RoofModel m = rectangle(40, 24, {eave(12), eave(12), eave(12), eave(12)});
  m.parts[0].flat_top_m = 6 * ft;
  model::Part wing = m.parts[0];
  wing.id = "wing";
  wing.outline = {{10 * ft, -16 * ft}, {26 * ft, -16 * ft}, {26 * ft, 10 * ft}, {10 * ft, 10 * ft}};
  wing.flat_top_m = 4 * ft;
  m.parts.push_back(wing);
  const auto s = raised(m);
  // The lower deck stops at the main slope 4 ft up, at y = 4: a level line of 8 ft.
  double flat = 0.0;
  for (const surface::Plane& plane : s.planes) {
    flat += plane.pitch.tangent() == 0.0 ? plane.area_m2 / (ft * ft) : 0.0;
  }
  REQUIRE(flat == Approx(28 * 12 + 8 * 16).epsilon(1e-6));
}

TEST_CASE("a house with a flat deck is assessed to the end") {
  model::RoofModel m = rectangle(40, 30, {eave(18), eave(18), eave(18), eave(18)});
  m.parts[0].flat_top_m = 6 * ft;
  const auto a = assess(m, {}, {});
  REQUIRE(a.ok());
  for (const framing::Member& member : a.value().framing.members) {
    CAPTURE(member.id);
    REQUIRE(std::isfinite(member.length_m));
    REQUIRE(std::isfinite(member.plumb_cut_rad));
    REQUIRE(std::isfinite(member.side_cut_rad));
  }
  REQUIRE(a.value().attic.compartments.size() == 1);
}

TEST_CASE("a straight wall in two edges bears one plane") {
  const model::RoofModel one =
      rectangle(40, 24, {eave(6, 1 * ft), gable(), eave(6, 1 * ft), gable()});
  model::RoofModel two = one;
  two.parts[0].outline.insert(two.parts[0].outline.begin() + 1, {13 * ft, 0});
  two.parts[0].edges.insert(two.parts[0].edges.begin(), two.parts[0].edges[0]);
  const auto s = raised(one);
  const auto t = raised(two);
  REQUIRE(t.planes.size() == s.planes.size());
  REQUIRE(t.planes[PlaneId(0)].run_edges == std::vector<std::size_t>{0, 1});
  REQUIRE(t.plane_named("main/1") == t.plane_named("main/0"));
  REQUIRE(t.planes[PlaneId(0)].wall_end_u_m == Approx(s.planes[PlaneId(0)].wall_end_u_m));
  REQUIRE(t.planes[PlaneId(0)].wall_start_u_m == Approx(s.planes[PlaneId(0)].wall_start_u_m));
  for (const LineKind kind :
       {LineKind::eave, LineKind::ridge, LineKind::rake, LineKind::pitch_break}) {
    require_lengths(t, kind, lengths_ft(s, kind));
  }
}

TEST_CASE("walls in one line that differ keep a plane each") {
  model::RoofModel m = rectangle(40, 24, {eave(6), gable(), eave(6), gable()});
  m.parts[0].outline.insert(m.parts[0].outline.begin() + 1, {13 * ft, 0});
  m.parts[0].edges.insert(m.parts[0].edges.begin(), m.parts[0].edges[0]);
  m.parts[0].edges[1].soffit = model::Soffit::vented;
  const auto s = raised(m);
  REQUIRE(s.planes.size() == 3);
  REQUIRE(s.plane_named("main/1") != s.plane_named("main/0"));
}

TEST_CASE("the first and the last edge of an outline may go on in one line") {
  model::RoofModel m = rectangle(40, 24, {eave(6), gable(), eave(6), gable()});
  // The outline starts in the middle of the front wall.
  m.parts[0].outline = {{20 * ft, 0}, {40 * ft, 0}, {40 * ft, 24 * ft}, {0, 24 * ft}, {0, 0}};
  m.parts[0].edges = {eave(6), gable(), eave(6), gable(), eave(6)};
  const auto s = raised(m);
  REQUIRE(s.planes.size() == 2);
  REQUIRE(s.planes[PlaneId(0)].id == "main/0");
  REQUIRE(s.planes[PlaneId(0)].run_edges == std::vector<std::size_t>{4, 0});
  require_lengths(s, LineKind::eave, {40, 40});
}

TEST_CASE("a gablet on the edge of a courtyard stops below the ridge") {
  model::RoofModel m = rectangle(60, 60, {eave(6), eave(6), eave(6), eave(6)});
  const auto ring = [&](const model::Edge& north) {
    model::Hole hole;
    hole.outline = {{20 * ft, 20 * ft}, {20 * ft, 40 * ft}, {40 * ft, 40 * ft}, {40 * ft, 20 * ft}};
    hole.edges = {eave(6), north, eave(6), eave(6)};
    return hole;
  };
  m.parts[0].holes = {ring(eave(6))};
  const auto plain = raised(m);
  model::Edge gablet = eave(6);
  gablet.kind = model::EdgeKind::gablet;
  gablet.wall_height_m = 2 * ft;
  m.parts[0].holes = {ring(gablet)};
  const auto s = raised(m);
  const auto lines_of = [](const surface::Surface& roof, LineKind kind) {
    return lengths_ft(roof, kind).size();
  };
  REQUIRE(lines_of(plain, LineKind::headwall) == 0);
  REQUIRE(lines_of(s, LineKind::headwall) == 1);
}
