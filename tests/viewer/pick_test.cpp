#include "scene/pick.hpp"

#include "scene/from_assessment.hpp"
#include "support/houses.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

using namespace ridgeward;
using scene::Lens;
using scene::Picked;
using scene::Viewport;

namespace {

const Viewport port{0.0, 0.0, 1000.0, 800.0};

struct Fixture {
  Assessment house = test_support::wing_house();
  scene::Scene scene = scene::from_assessment(house);
  Lens from(const char* word) const {
    return {scene::fitted(scene::looking_from(word, 0.0).value(), scene.corners, port, 0.05), port};
  }
  PlaneId plane(const char* id) const { return house.surface.plane_named(id); }
  LineId line(const char* id) const { return house.surface.line_named(id); }
  glm::dvec3 middle(const char* id) const {
    const surface::Line& found = house.surface.lines[line(id)];
    return (house.surface.nodes[found.from] + house.surface.nodes[found.to]) / 2.0;
  }
};

}  // namespace

TEST_CASE("a click on a plane gives the plane") {
  const Fixture f;
  const Lens lens = f.from("south");
  const auto pixel = lens.pixel(
      {1.5, 1.5, f.house.surface.planes[f.plane("main/0")].frame.origin.z + (1.5 + 0.45) * 2 / 3});
  REQUIRE(pixel);
  const Picked picked = scene::pick(f.scene, lens, *pixel, 5.0);
  CHECK(picked.plane == f.plane("main/0"));
  CHECK(picked.line.is_none());
}

TEST_CASE("a click near a line gives the line, farther off the plane") {
  const Fixture f;
  const Lens lens = f.from("south-west");
  const auto pixel = lens.pixel(f.middle("main/0|eave"));
  REQUIRE(pixel);
  CHECK(scene::pick(f.scene, lens, *pixel + glm::dvec2(0, -3), 6.0).line == f.line("main/0|eave"));
  const Picked off = scene::pick(f.scene, lens, *pixel + glm::dvec2(0, -30), 6.0);
  CHECK(off.line.is_none());
  CHECK(off.plane == f.plane("main/0"));
}

TEST_CASE("the nearer plane hides the one behind it") {
  const Fixture f;
  const Lens lens = f.from("west");
  const glm::dvec3 behind = f.house.surface.planes[f.plane("wing/3")].frame.at({2.0, 1.0});
  const auto pixel = lens.pixel(behind);
  REQUIRE(pixel);
  CHECK_FALSE(scene::is_in_sight(f.scene, lens, behind));
  CHECK(scene::pick(f.scene, lens, *pixel, 0.0).plane != f.plane("wing/3"));
}

TEST_CASE("a hidden line is not picked through the roof") {
  const Fixture f;
  const Lens lens = f.from("south");
  const auto pixel = lens.pixel(f.middle("main/2|eave"));
  REQUIRE(pixel);
  CHECK(scene::pick(f.scene, lens, *pixel, 6.0).line != f.line("main/2|eave"));
}

TEST_CASE("the sky gives nothing") {
  const Fixture f;
  CHECK(scene::pick(f.scene, f.from("south"), {2.0, 2.0}, 6.0).is_nothing());
  CHECK(scene::pick(scene::Scene{}, f.from("south"), {500.0, 400.0}, 6.0).is_nothing());
}

TEST_CASE("points on what is seen are in sight") {
  const Fixture f;
  const Lens lens = f.from("above");
  for (const PlaneId id : f.house.surface.planes.ids()) {
    CHECK(scene::is_in_sight(f.scene, lens, f.house.surface.planes[id].frame.at({1.0, 1.0})));
  }
}

TEST_CASE("the best view sees a valley and does not change between calls") {
  const Fixture f;
  const scene::Camera camera = scene::best_view(f.scene);
  const Lens lens{scene::fitted(camera, f.scene.corners, port, 0.05), port};
  CHECK((scene::is_in_sight(f.scene, lens, f.middle("main/0|wing/1")) ||
         scene::is_in_sight(f.scene, lens, f.middle("main/0|wing/3"))));
  CHECK(scene::best_view(f.scene).azimuth_rad == camera.azimuth_rad);
}
