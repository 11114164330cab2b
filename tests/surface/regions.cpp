// Obstacles as regions of planes: areas, clearances, cuts at ridges, faults.
#include "base/polygon.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"
#include "support/seed.hpp"
#include "support/small_roofs.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace ridgeward;
using namespace small_roofs;
using surface::Region;

namespace {

model::Obstacle in_plan(const std::string& id, glm::dvec2 low_ft, glm::dvec2 high_ft,
                        double clearance_in, model::ObstacleKind kind) {
  model::Obstacle obstacle;
  obstacle.id = id;
  obstacle.kind = kind;
  obstacle.outline = {low_ft * ft, glm::dvec2{high_ft.x, low_ft.y} * ft, high_ft * ft,
                      glm::dvec2{low_ft.x, high_ft.y} * ft};
  obstacle.clearance_m = clearance_in * in;
  return obstacle;
}

model::Obstacle on_plane(const std::string& id, const std::string& plane, glm::dvec2 at_ft,
                         glm::dvec2 size_ft, model::ObstacleKind kind) {
  model::Obstacle obstacle;
  obstacle.id = id;
  obstacle.kind = kind;
  obstacle.plane = plane;
  obstacle.at = at_ft * ft;
  obstacle.size = size_ft * ft;
  return obstacle;
}

/// The only fault that raising gives.
Fault fault_of(const model::RoofModel& model) {
  const Result<surface::Surface> raised = surface::raise(model);
  REQUIRE_FALSE(raised.ok());
  REQUIRE(raised.faults().size() == 1);
  return raised.faults().front();
}

constexpr model::ObstacleKind chimney = model::ObstacleKind::chimney;
constexpr model::ObstacleKind skylight = model::ObstacleKind::skylight;

}  // namespace

TEST_CASE("a plan outline on one slope: its area over the cosine, clearance along the plane") {
  model::RoofModel model = gable(40, 24, 8).model;
  model.obstacles = {in_plan("chimney", {10, 4}, {12.5, 6}, 2, chimney)};
  const surface::Surface surface = surface::raise(model).value();
  REQUIRE(surface.regions.size() == 1);
  const Region& region = surface.regions[0];
  CHECK(region.id == "chimney");
  CHECK(region.is_opening);
  CHECK(surface.planes[region.plane].id == "main/0");
  const double slope = std::sqrt(208.0) / 12.0;  // length per run at 8/12
  CHECK(polygon::area(region.outline_uv) == Approx(30 * 24 * slope * in * in));
  CHECK(polygon::area(region.clear_uv) == Approx(34 * (24 * slope + 4) * in * in));
  const polygon::Box box = polygon::box_of(region.clear_uv);
  CHECK(box.low.x == Approx(118 * in));
  CHECK(box.low.y == Approx((48 * slope - 2) * in));
}

TEST_CASE("a chimney astride a ridge stands on both planes") {
  model::RoofModel model = gable(40, 24, 8).model;
  model.obstacles = {in_plan("chimney", {10, 11}, {12, 14}, 2, chimney)};
  const surface::Surface surface = surface::raise(model).value();
  REQUIRE(surface.regions.size() == 2);
  const double slope = std::sqrt(208.0) / 12.0;
  CHECK(polygon::area(surface.regions[0].outline_uv) == Approx(24 * 12 * slope * in * in));
  CHECK(polygon::area(surface.regions[1].outline_uv) == Approx(24 * 24 * slope * in * in));
  // The clearance ends at the ridge.
  CHECK(polygon::area(surface.regions[0].clear_uv) == Approx(28 * (12 * slope + 2) * in * in));
  CHECK(surface.planes[surface.regions[0].plane].id == "main/0");
  CHECK(surface.planes[surface.regions[1].plane].id == "main/2");
}

TEST_CASE("an outline with an inside corner keeps its clearance all around") {
  model::RoofModel model = gable(40, 24, 12).model;
  model::Obstacle ell = in_plan("ell", {10, 2}, {14, 6}, 3, chimney);
  ell.outline = {glm::dvec2{10, 2} * ft, glm::dvec2{14, 2} * ft, glm::dvec2{14, 4} * ft,
                 glm::dvec2{12, 4} * ft, glm::dvec2{12, 6} * ft, glm::dvec2{10, 6} * ft};
  ell.cricket = model::Cricket::none;
  model.obstacles = {ell};
  const surface::Surface surface = surface::raise(model).value();
  REQUIRE(surface.regions.size() == 1);
  const double up = std::sqrt(2.0);
  const double grown = 54 * (24 * up + 6) + 30 * 24 * up;  // the wide foot, then the leg
  CHECK(polygon::area(surface.regions[0].clear_uv) == Approx(grown * in * in));
}

TEST_CASE("solar lies on the deck; a rectangle on a plane is taken as given") {
  model::RoofModel model = gable(40, 24, 6).model;
  model.obstacles = {on_plane("array", "main/2", {5, 2}, {20, 8}, model::ObstacleKind::solar),
                     on_plane("light", "main/0", {12, 6}, {2, 4}, skylight)};
  const surface::Surface surface = surface::raise(model).value();
  REQUIRE(surface.regions.size() == 2);
  CHECK_FALSE(surface.regions[0].is_opening);
  CHECK(surface.planes[surface.regions[0].plane].id == "main/2");
  CHECK(polygon::area(surface.regions[0].outline_uv) == Approx(160 * ft * ft));
  CHECK(surface.regions[1].is_opening);
  CHECK(surface.regions[1].clear_uv.size() == 4);
}

TEST_CASE("faults of obstacles name their place") {
  model::RoofModel model = gable(40, 24, 6).model;
  model.obstacles = {on_plane("light", "main/0", {12, 6}, {2, 4}, skylight),
                     on_plane("far", "main/7", {1, 1}, {1, 1}, skylight)};
  CHECK(fault_of(model).code == "obstacle.plane_unknown");
  CHECK(fault_of(model).where == "/obstacles/1/plane");
  model.obstacles[1] = on_plane("over", "main/0", {39, 1}, {2, 2}, skylight);
  CHECK(fault_of(model).code == "obstacle.off_roof");
  CHECK(fault_of(model).where == "/obstacles/1/at");
  model.obstacles[1] = in_plan("away", {50, 1}, {52, 3}, 0, chimney);
  CHECK(fault_of(model).code == "obstacle.off_roof");
  CHECK(fault_of(model).where == "/obstacles/1/outline");
  model.obstacles[1] = on_plane("near", "main/0", {13, 9}, {2, 2}, skylight);
  CHECK(fault_of(model).code == "obstacle.overlaps");
  CHECK(fault_of(model).where == "/obstacles/1");
  // Side by side they only touch; solar may lie around an opening.
  model.obstacles[1] = on_plane("beside", "main/0", {14, 6}, {2, 4}, skylight);
  CHECK(surface::raise(model).ok());
  model.obstacles[1] = on_plane("array", "main/0", {10, 4}, {8, 8}, model::ObstacleKind::solar);
  CHECK(surface::raise(model).ok());
}

TEST_CASE("law: regions of a plan outline tile what of it lies over the roof") {
  std::mt19937_64 rng(tests::seed());
  const std::size_t cases = support::cases_or(150);
  std::size_t seen = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    INFO("case " << i << ", seed " << tests::seed());
    const support::Loops loops =
        i % 2 == 0 ? support::random_rectilinear(rng, 3 + static_cast<int>(rng() % 6), 7,
                                                 units::inch_m, 180)
                   : support::Loops{support::random_polygon(rng, 4 + rng() % 7, 18.0)};
    model::RoofModel model = support::random_house(rng, loops, {0.2, {4.0, 8.0, 12.0}, 0.3});
    polygon::Box box;
    for (const glm::dvec2 p : model.parts[0].outline) {
      box.add(p);
    }
    std::uniform_real_distribution<double> share(0.0, 1.0);
    const glm::dvec2 at = box.low + glm::dvec2{share(rng), share(rng)} * (box.high - box.low);
    const double turn = share(rng) * 6.0;
    model::Obstacle obstacle;
    obstacle.id = "chimney";
    obstacle.clearance_m = 0.1 * share(rng);
    for (const glm::dvec2 c : {glm::dvec2{-0.6, -0.4}, {0.6, -0.4}, {0.6, 0.4}, {-0.6, 0.4}}) {
      obstacle.outline.push_back(at + glm::dvec2{c.x * std::cos(turn) - c.y * std::sin(turn),
                                                 c.x * std::sin(turn) + c.y * std::cos(turn)});
    }
    model.obstacles = {obstacle};
    const Result<surface::Surface> raised = surface::raise(model);
    if (!raised) {
      continue;
    }
    ++seen;
    const surface::Surface& surface = raised.value();
    double plan_m2 = 0.0;
    for (const Region& region : surface.regions) {
      const surface::Plane& plane = surface.planes[region.plane];
      plan_m2 += polygon::area(region.outline_uv) * plane.frame.normal.z;
      polygon::Loops border;
      for (const surface::Loop& loop : plane.loops) {
        border.push_back(surface::corners_uv(surface, plane.frame, loop));
      }
      const double clear_m2 = polygon::area(region.clear_uv);
      REQUIRE(polygon::overlap_area({region.clear_uv}, border) == Approx(clear_m2).margin(1e-6));
      REQUIRE(polygon::overlap_area({region.clear_uv}, {region.outline_uv}) ==
              Approx(polygon::area(region.outline_uv)).margin(1e-6));
    }
    const double over = polygon::overlap_area({obstacle.outline}, surface.drip_outlines[0]);
    REQUIRE(plan_m2 == Approx(over).margin(1e-5));
  }
  CHECK(seen > cases / 3);
}
