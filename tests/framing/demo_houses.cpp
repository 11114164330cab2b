// The laws of framing on every demo house.
#include "framing/framed.hpp"
#include "framing/member_laws.hpp"
#include "model/read.hpp"

#include <catch2/catch.hpp>

#include <filesystem>

using namespace ridgeward;
using namespace ridgeward::tests;

TEST_CASE("law: members, bays and cut lists of every demo house") {
  std::size_t count = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses")) {
    INFO(entry.path().filename().string());
    auto read = model::read_file(entry.path().string());
    REQUIRE(read.ok());
    model::RoofModel model = std::move(read).value().model;
    for (const model::FramingKind kind : {model::FramingKind::rafter, model::FramingKind::truss}) {
      for (model::Part& part : model.parts) {
        part.framing.kind = kind;
        part.framing.blocking = model::Blocking::vented;
      }
      const FramedHouse house = framed_house(model);
      check_laws(house.surface, house.framing);
      for (const framing::Member& member : house.framing.members) {
        CAPTURE(member.id);
        CHECK(member.length_m >= 0.004);  // a nail's width: less is no piece
      }
    }
    ++count;
  }
  CHECK(count >= 9);
}
