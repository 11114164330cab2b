// Every demo house made a second way, by Boolean union of its parts in Open CASCADE (Debian
// libocct-modeling-algorithms-dev): the volumes agree.
#include "model/read.hpp"
#include "solid/shape.hpp"
#include "surface/stage.hpp"

#include "support/fused.hpp"
#include "support/plans.hpp"

#include <catch2/catch.hpp>

#include <filesystem>

using namespace ridgeward;

TEST_CASE("demo houses: volume agrees with the Boolean union of their parts") {
  std::size_t houses = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(RIDGEWARD_SOURCE_DIR "/models/houses")) {
    const auto read = model::read_file(entry.path().string());
    CAPTURE(entry.path().string());
    REQUIRE(read.ok());
    // The parts alone: crickets have a closed form of their own (tests/surface/crickets.cpp).
    model::RoofModel model = read.value().model;
    for (model::Obstacle& obstacle : model.obstacles) {
      obstacle.cricket = model::Cricket::none;
    }
    const auto surface = surface::raise(model);
    REQUIRE(surface.ok());
    REQUIRE(surface::verify(surface.value()).empty());
    const auto shape = solid::build(surface.value());
    REQUIRE(shape.ok());
    const double volume = solid::examine(shape.value()).volume_m3;
    const double fused = support::Fusion(model, surface.value().base_m).volume_m3();
    REQUIRE(volume == Approx(fused).epsilon(1e-6));
    ++houses;
  }
  REQUIRE(houses >= 3);
}
