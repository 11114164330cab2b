// STEP and BREP as another program meets them: read back by Open CASCADE, same bodies under the
// same names, same volume and area.
#include "exports/bodies_of.hpp"
#include "exports/exporter.hpp"
#include "framing/stage.hpp"
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "support/assessed_house.hpp"
#include "support/plans.hpp"
#include "support/read_solids.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

constexpr exports::Content everything{true, true, true, true, true};

}  // namespace

TEST_CASE("STEP read back: a tree of the bodies by name, with their volumes and areas") {
  for (const char* house : {"tern-cottage"}) {
    const Assessment assessment = assessed(house);
    const auto bodies = exports::bodies_of(assessment, everything);
    REQUIRE(bodies.ok());
    const auto read = read_step(written(assessment, "x.step", everything));
    std::size_t next = 0;
    for (const solid::Body& body : bodies.value()) {
      const solid::Report report = solid::examine(body.shape);
      const std::size_t slash = body.name.find('/');
      const std::string group =
          slash == std::string::npos ? "" : body.name.substr(0, slash) + " > ";
      const std::string path = assessment.model.name + " > " + group + body.name;
      CAPTURE(path);
      double volume_m3 = 0.0;
      double area_m2 = 0.0;
      for (int piece = 1; piece <= report.solids; ++piece) {
        REQUIRE(next < read.size());
        REQUIRE(
            read[next].path ==
            (report.solids == 1 ? path : path + " > " + body.name + "#" + std::to_string(piece)));
        REQUIRE(read[next].is_valid);
        volume_m3 += read[next].volume_m3;
        area_m2 += read[next].area_m2;
        ++next;
      }
      REQUIRE(volume_m3 == Approx(report.volume_m3).epsilon(1e-7));
      REQUIRE(area_m2 == Approx(report.area_m2).epsilon(1e-7));
    }
    REQUIRE(next == read.size());
  }
}

TEST_CASE("BREP read back: the same solids in order") {
  const Assessment assessment = assessed("larch-hall");
  const auto bodies = exports::bodies_of(assessment, everything);
  const auto read = read_brep(written(assessment, "x.brep", everything));
  REQUIRE(read.size() == bodies.value().size());
  for (std::size_t i = 0; i < read.size(); ++i) {
    const solid::Report report = solid::examine(bodies.value()[i].shape);
    REQUIRE(read[i].is_valid);
    REQUIRE(read[i].volume_m3 == Approx(report.volume_m3).epsilon(1e-9));
    REQUIRE(read[i].area_m2 == Approx(report.area_m2).epsilon(1e-9));
  }
}

TEST_CASE("what an export carries is chosen by words") {
  using exports::Content;
  using exports::parse_content;
  REQUIRE(parse_content("roof, deck").value() == Content{});
  REQUIRE(parse_content("all").value() == everything);
  REQUIRE(parse_content("members").value() == Content{false, false, false, false, true});
  REQUIRE(parse_content("+members,-roof").value() == Content{false, true, false, false, true});
  REQUIRE(parse_content("attic,+slots").value() == Content{false, false, true, true, false});
  REQUIRE(parse_content(" ").faults()[0].code == "show.empty");
  REQUIRE(parse_content("deck,cats").faults()[0].code == "show.unknown_word");
  REQUIRE(parse_content("deck,").faults()[0].code == "show.unknown_word");

  const Assessment assessment = assessed("plain-gable");
  const auto names = [&](const Content& content) {
    std::vector<std::string> all;
    const auto bodies = exports::bodies_of(assessment, content);
    for (const solid::Body& body : bodies.value()) {
      all.push_back(body.name);
    }
    return all;
  };
  REQUIRE(names({}) == std::vector<std::string>{"roof", "deck/main/0", "deck/main/2"});
  REQUIRE(names(Content{false, false, false, true, false}) ==
          std::vector<std::string>{"attic/attic"});
  REQUIRE(names(Content{false, false, false, false, true}).size() ==
          static_cast<std::size_t>(std::count_if(
              assessment.framing.members.begin(), assessment.framing.members.end(),
              [](const framing::Member& member) { return member.part_of.is_none(); })));
  // Slots are cut only when they are asked for.
  const auto deck_m3 = [&](const Content& content) {
    return solid::examine(exports::bodies_of(assessment, content).value()[0].shape).volume_m3;
  };
  double slots_m2 = 0.0;
  for (const vents::Slot& slot : assessment.vents.slots) {
    const bool is_first = assessment.surface.planes[slot.plane].id == "main/0";
    slots_m2 += is_first ? (slot.end_m - slot.start_m) * slot.width_m : 0.0;
  }
  REQUIRE(slots_m2 > 0.0);
  REQUIRE(deck_m3({false, true, false, false, false}) -
              deck_m3({false, true, true, false, false}) ==
          Approx(slots_m2 * assessment.model.parts[0].deck_m).epsilon(1e-6));
}

TEST_CASE("equal roofs give equal bytes; nothing to write is said") {
  const Assessment assessment = assessed("larch-hall");
  const std::string step = written(assessment, "x.step", {});
  const bool is_same_step = written(assessment, "x.step", {}) == step;
  const bool is_same_brep = written(assessment, "x.brep", {}) == written(assessment, "x.brep", {});
  REQUIRE(is_same_step);
  REQUIRE(is_same_brep);
  REQUIRE(step.rfind("ISO-10303-21;", 0) == 0);
  REQUIRE(step.find("END-ISO-10303-21;") != std::string::npos);
  Assessment bare = assessment;
  bare.model.parts[0].deck_m = 0.0;
  const auto none =
      exports::exporter_for("x.step")->write(bare, {false, true, false, false, false});
  REQUIRE(none.faults()[0].code == "solid.nothing");
}
