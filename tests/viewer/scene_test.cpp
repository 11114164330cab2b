#include "scene/from_assessment.hpp"
#include "support/houses.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

using namespace ridgeward;
using scene::Face;
using scene::FaceRole;
using scene::Layer;
using scene::Scene;
using scene::StrokeRole;

namespace {

double area_of(const Face& face) {
  double sum = 0.0;
  for (const scene::Triangle& t : face.triangles) {
    sum += glm::length(glm::cross(t[1] - t[0], t[2] - t[0])) / 2;
  }
  return sum;
}

std::size_t count_of(const Scene& scene, FaceRole role) {
  return static_cast<std::size_t>(
      std::count_if(scene.faces.begin(), scene.faces.end(),
                    [role](const Face& face) { return face.role == role; }));
}

std::size_t count_of(const Scene& scene, StrokeRole role) {
  return static_cast<std::size_t>(
      std::count_if(scene.strokes.begin(), scene.strokes.end(),
                    [role](const scene::Stroke& stroke) { return stroke.role == role; }));
}

}  // namespace

TEST_CASE("the triangles of every plane add up to its area, less the slots that are cut in it") {
  const Assessment house = test_support::wing_house();
  const Scene scene = scene::from_assessment(house);
  std::size_t planes = 0;
  for (const Face& face : scene.faces) {
    if (face.role == FaceRole::roof) {
      ++planes;
      double left_m2 = house.surface.planes[face.plane].area_m2;
      for (const vents::Slot& slot : house.vents.slots) {
        left_m2 -= slot.plane == face.plane ? (slot.end_m - slot.start_m) * slot.width_m : 0.0;
      }
      CHECK(area_of(face) == Approx(left_m2).epsilon(1e-12));
    }
  }
  CHECK(planes == 4);
}

TEST_CASE("a plane with a hole is drawn with its hole") {
  Assessment house;
  house.surface = test_support::surface_of({{"main/0",
                                             {{{0, 0, 3}, {10, 0, 3}, {10, 6, 7}, {0, 6, 7}},
                                              {{4, 1.5, 4}, {4, 3, 5}, {6, 3, 5}, {6, 1.5, 4}}}}});
  const Scene scene = scene::from_assessment(house);
  const auto roof = std::find_if(scene.faces.begin(), scene.faces.end(),
                                 [](const Face& f) { return f.role == FaceRole::roof; });
  REQUIRE(roof != scene.faces.end());
  const double slope = std::sqrt(36.0 + 16.0) / 6;
  CHECK(area_of(*roof) == Approx((60.0 - 3.0) * slope));
}

TEST_CASE("lines are drawn by their kind") {
  const Scene wing = scene::from_assessment(test_support::wing_house());
  CHECK(count_of(wing, StrokeRole::eave) == 5);
  CHECK(count_of(wing, StrokeRole::rake) == 6);
  CHECK(count_of(wing, StrokeRole::ridge) == 2);
  CHECK(count_of(wing, StrokeRole::valley) == 2);
  CHECK(count_of(wing, StrokeRole::hip) == 0);
  const Scene hip = scene::from_assessment(test_support::hip_house());
  CHECK(count_of(hip, StrokeRole::hip) == 4);
  CHECK(count_of(hip, StrokeRole::ridge) == 1);
  CHECK(count_of(hip, StrokeRole::eave) == 4);
}

TEST_CASE("walls reach from the ground to the underside of the deck and no farther") {
  const Assessment house = test_support::wing_house();
  const Scene scene = scene::from_assessment(house);
  double highest = 0.0;
  for (const Face& face : scene.faces) {
    if (face.role != FaceRole::wall) {
      continue;
    }
    for (const scene::Triangle& t : face.triangles) {
      for (const glm::dvec3& p : t) {
        CHECK(p.z >= scene.ground_m - 1e-9);
        highest = std::max(highest, p.z);
      }
    }
  }
  // The gable wall of the main house reaches the ridge, less the deck.
  const double ridge = 2.7 + 4.45 * 2 / 3;
  CHECK(highest == Approx(ridge - house.model.parts[0].deck_m));
}

TEST_CASE("bays are drawn by what air can do in them") {
  const Assessment house = test_support::wing_house();
  const Scene scene = scene::from_assessment(house);
  CHECK(count_of(scene, FaceRole::bay_fed) > 20);
  CHECK(count_of(scene, FaceRole::bay_idle) > 5);
  CHECK(count_of(scene, FaceRole::bay_wasted) == 1);
  CHECK(count_of(scene, FaceRole::bay_dead) == 1);
  for (const Face& face : scene.faces) {
    if (face.layer == Layer::bays) {
      CHECK(area_of(face) > 0.0);
    }
  }
}

TEST_CASE("a slot is drawn where it is cut, the vent over it stays on its plane") {
  const Assessment house = test_support::wing_house();
  const Scene scene = scene::from_assessment(house);
  CHECK(count_of(scene, FaceRole::slot) == 3);
  for (const Face& face : scene.faces) {
    if (face.role == FaceRole::slot) {
      const auto slot = std::find_if(
          house.vents.slots.begin(), house.vents.slots.end(), [&](const vents::Slot& s) {
            // The hole's four sides through the deck, and what is seen at its bottom.
            const double length = s.end_m - s.start_m;
            const double deck = house.model.parts[0].deck_m;
            const double area = length * s.width_m + 2 * (length + s.width_m) * deck;
            return std::abs(area - area_of(face)) < 1e-9;
          });
      CHECK(slot != house.vents.slots.end());
    }
    if (face.role == FaceRole::intake_vent || face.role == FaceRole::exhaust_vent) {
      CHECK(area_of(face) > 0.1);
      const surface::Frame& frame = house.surface.planes[face.plane].frame;
      for (const scene::Triangle& t : face.triangles) {
        for (const glm::dvec3& p : t) {
          CHECK(std::abs(glm::dot(frame.normal, p - frame.origin)) < 1e-9);
        }
      }
    }
  }
}

TEST_CASE("an exhaust vent lies on both sides of its ridge") {
  const Scene scene = scene::from_assessment(test_support::wing_house());
  CHECK(count_of(scene, FaceRole::exhaust_vent) == 4);
}

TEST_CASE("findings get marks in their order") {
  const Scene scene = scene::from_assessment(test_support::wing_house());
  REQUIRE(scene.markers.size() == 3);
  CHECK(scene.markers[0].number == 1);
  CHECK(scene.markers[0].severity == 2);
  CHECK(scene.markers[2].severity == 0);
}

TEST_CASE("an empty assessment makes an empty scene") {
  const Scene scene = scene::from_assessment(Assessment{});
  CHECK(scene.is_empty());
  CHECK(scene.faces.empty());
}

TEST_CASE("layers are read from words") {
  const auto layers = scene::parse_layers("planes, lines,see-through");
  REQUIRE(layers);
  CHECK(layers.value().has(Layer::planes));
  CHECK(layers.value().has(Layer::see_through));
  CHECK_FALSE(layers.value().has(Layer::slots));
  const auto changed = scene::parse_layers("+ceiling,-bays");
  REQUIRE(changed);
  CHECK(changed.value().has(Layer::ceiling));
  CHECK_FALSE(changed.value().has(Layer::bays));
  CHECK(changed.value().has(Layer::planes));
  const auto all = scene::parse_layers("all");
  REQUIRE(all);
  CHECK(all.value().has(Layer::ceiling));
  CHECK_FALSE(all.value().has(Layer::see_through));
}

TEST_CASE("a layer that there is not is told the good ones") {
  for (const char* list : {"planes,wals", "planes,,lines", "+", "Planes"}) {
    const auto layers = scene::parse_layers(list);
    INFO(list);
    REQUIRE_FALSE(layers);
    CHECK(layers.faults().front().code == "show.unknown_word");
    for (const scene::LayerWords& entry : scene::layer_words()) {
      CHECK(layers.faults().front().cure.find(entry.word) != std::string::npos);
    }
  }
  const auto none = scene::parse_layers(" ");
  REQUIRE_FALSE(none);
  CHECK(none.faults().front().code == "show.empty");
}
