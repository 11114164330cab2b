#include "scene/camera.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>
#include <glm/vec4.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

using namespace ridgeward;
using scene::Camera;
using scene::Lens;
using scene::Viewport;

namespace {

const Viewport port{236.0, 48.0, 738.0, 752.0};

std::vector<glm::dvec3> box(glm::dvec3 low, glm::dvec3 high) {
  std::vector<glm::dvec3> points;
  for (int i = 0; i < 8; ++i) {
    points.emplace_back((i & 1) != 0 ? high.x : low.x, (i & 2) != 0 ? high.y : low.y,
                        (i & 4) != 0 ? high.z : low.z);
  }
  return points;
}

}  // namespace

TEST_CASE("the target is in the middle of the viewport") {
  Camera camera;
  camera.target = {3, -4, 2};
  camera.azimuth_rad = 1.1;
  const auto pixel = Lens{camera, port}.pixel(camera.target);
  REQUIRE(pixel);
  CHECK(pixel->x == Approx(port.x + port.width / 2));
  CHECK(pixel->y == Approx(port.y + port.height / 2));
}

TEST_CASE("a ray through a pixel meets what is drawn there") {
  Camera camera;
  camera.azimuth_rad = 3.7;
  camera.elevation_rad = 0.6;
  const Lens lens{camera, port};
  for (const glm::dvec3 point : {glm::dvec3(2, 3, 1), glm::dvec3(-5, 1, 4), glm::dvec3(0, -6, 0)}) {
    const auto pixel = lens.pixel(point);
    REQUIRE(pixel);
    const scene::Ray ray = lens.ray(*pixel);
    CHECK(glm::length(glm::cross(point - ray.from, ray.direction)) < 1e-9);
    CHECK(glm::dot(point - ray.from, ray.direction) > 0);
  }
}

TEST_CASE("what lies behind the eye has no pixel") {
  Camera camera;
  CHECK_FALSE(Lens{camera, port}.pixel(camera.eye() + camera.axes().back));
}

TEST_CASE("the graphics' matrices put a point where pixel() does") {
  Camera camera;
  camera.azimuth_rad = -0.4;
  camera.target = {1, 2, 3};
  const Lens lens{camera, port};
  const glm::dvec3 point(3, 1, 4);
  const glm::dvec4 clip = lens.projection(1.0, 100.0) * lens.view() * glm::dvec4(point, 1.0);
  const auto pixel = lens.pixel(point);
  REQUIRE(pixel);
  CHECK(port.x + (clip.x / clip.w + 1) / 2 * port.width == Approx(pixel->x));
  CHECK(port.y + (1 - clip.y / clip.w) / 2 * port.height == Approx(pixel->y));
}

TEST_CASE("a fitted camera shows every point within the margin and wastes no room") {
  const std::vector<glm::dvec3> points = box({-3, 10, 0}, {17, 22, 8});
  for (const double azimuth : {0.0, 0.7, 2.0, 4.1}) {
    for (const double elevation : {0.1, 0.6, 1.5}) {
      Camera camera;
      camera.azimuth_rad = azimuth;
      camera.elevation_rad = elevation;
      const Lens lens{scene::fitted(camera, points, port, 0.05), port};
      const double margin = 0.05 * std::min(port.width, port.height);
      double tightest = std::numeric_limits<double>::infinity();
      for (const glm::dvec3& point : points) {
        const auto pixel = lens.pixel(point);
        REQUIRE(pixel);
        for (const double gap : {pixel->x - port.x, port.x + port.width - pixel->x,
                                 pixel->y - port.y, port.y + port.height - pixel->y}) {
          CHECK(gap >= margin - 1e-6);
          tightest = std::min(tightest, gap);
        }
      }
      CHECK(tightest == Approx(margin));
    }
  }
}

TEST_CASE("nothing to fit leaves the camera as it is") {
  Camera camera;
  CHECK(scene::fitted(camera, {}, port, 0.05).distance_m == camera.distance_m);
}

TEST_CASE("turning stops at straight down and keeps its axes") {
  const Camera top = scene::orbited(Camera{}, 0.3, 9.0);
  CHECK(top.elevation_rad == Approx(glm::radians(90.0)));
  const scene::Axes axes = top.axes();
  CHECK(glm::dot(axes.right, axes.up) == Approx(0.0).margin(1e-12));
  CHECK(glm::length(glm::cross(axes.right, axes.up) - axes.back) < 1e-12);
}

TEST_CASE("moving by pixels moves the target's place by as many") {
  Camera camera;
  const glm::dvec3 before = camera.target;
  camera = scene::panned(camera, {40, -25}, port.height);
  const auto pixel = Lens{camera, port}.pixel(before);
  REQUIRE(pixel);
  CHECK(pixel->x == Approx(port.x + port.width / 2 + 40));
  CHECK(pixel->y == Approx(port.y + port.height / 2 - 25));
}

TEST_CASE("nearing stops before the target") {
  Camera camera;
  for (int i = 0; i < 400; ++i) {
    camera = scene::zoomed(camera, 0.8);
  }
  CHECK(camera.distance_m > 0.1);
  for (int i = 0; i < 400; ++i) {
    camera = scene::zoomed(camera, 1.25);
  }
  CHECK(camera.distance_m < 1e5);
}

TEST_CASE("directions follow north") {
  struct Row {
    const char* word;
    double north_deg;
    glm::dvec2 eye;
  };
  const double half = std::sqrt(0.5);
  for (const Row& row : {Row{"south", 0.0, {0, -1}}, Row{"north", 0.0, {0, 1}},
                         Row{"east", 0.0, {1, 0}}, Row{"south-west", 0.0, {-half, -half}},
                         Row{"north", 90.0, {1, 0}}, Row{"west", 90.0, {0, 1}}}) {
    INFO(row.word << " with north at " << row.north_deg);
    const auto camera = scene::looking_from(row.word, row.north_deg);
    REQUIRE(camera);
    const glm::dvec2 eye(camera.value().axes().back);
    CHECK(glm::length(glm::normalize(eye) - row.eye) < 1e-9);
    CHECK(scene::direction_word(camera.value(), row.north_deg) == row.word);
  }
}

TEST_CASE("from above the plan stands upright") {
  const auto camera = scene::looking_from("above", 33.0);
  REQUIRE(camera);
  const scene::Axes axes = camera.value().axes();
  CHECK(glm::length(axes.right - glm::dvec3(1, 0, 0)) < 1e-9);
  CHECK(glm::length(axes.up - glm::dvec3(0, 1, 0)) < 1e-9);
  CHECK(scene::direction_word(camera.value(), 33.0) == "above");
}

TEST_CASE("an unknown direction is told the good ones") {
  const auto camera = scene::looking_from("sideways", 0.0);
  REQUIRE_FALSE(camera);
  CHECK(camera.faults().front().code == "from.unknown_word");
  for (const std::string& word : scene::direction_words()) {
    CHECK(camera.faults().front().cure.find(word) != std::string::npos);
  }
}
