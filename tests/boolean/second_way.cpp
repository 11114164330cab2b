// Every demo house made a second way, by Boolean union of its parts in Open CASCADE (Debian
// libocct-modeling-algorithms-dev): the volumes agree.
#include "framing/stage.hpp"
#include "model/read.hpp"
#include "solid/bodies.hpp"
#include "surface/stage.hpp"

#include "support/fused.hpp"
#include "support/plans.hpp"

#include <catch2/catch.hpp>

#include <cmath>
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

TEST_CASE("demo houses: no two sheets of the deck share space, and no rafter is in the deck") {
  for (const auto& entry :
       std::filesystem::directory_iterator(RIDGEWARD_SOURCE_DIR "/models/houses")) {
    CAPTURE(entry.path().string());
    const model::RoofModel m = model::read_file(entry.path().string()).value().model;
    const auto surface = surface::raise(m).value();
    const auto deck = solid::deck_bodies(m, surface).value().all;
    // Corners of more than three faces: kernel/solid/bodies.hpp.
    const double corner_m3 = std::pow(m.parts[0].deck_m, 3);
    for (std::size_t i = 0; i < deck.size(); ++i) {
      for (std::size_t k = 0; k < i; ++k) {
        CAPTURE(deck[i].name, deck[k].name);
        REQUIRE(support::common_m3(deck[i].shape, deck[k].shape) < corner_m3);
      }
    }
    const auto framing = framing::frame(m, surface);
    const auto members = solid::member_bodies(m, surface, framing).value().all;
    for (std::size_t i = 0; i < members.size(); i += 37) {
      for (const solid::Body& sheet : deck) {
        CAPTURE(members[i].name, sheet.name);
        REQUIRE(support::common_m3(members[i].shape, sheet.shape) < corner_m3);
      }
    }
  }
}
