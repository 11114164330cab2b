// Each fault code of model::read has a case; each says where it stands.
#include "model/read.hpp"

#include "support/full_model.hpp"
#include "support/gable_house.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <string>
#include <vector>

using namespace ridgeward;
using nlohmann::json;

namespace {

bool has(const Faults& faults, const std::string& code, const std::string& where) {
  return std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
    return fault.code == code && fault.where == where;
  });
}

/// `base` with `value` at `pointer`; with nothing there when `value` is "-".
std::string changed(const char* base, const std::string& pointer, const std::string& value) {
  json model = json::parse(base);
  const json::json_pointer at(pointer);
  if (value == "-") {
    model.at(at.parent_pointer()).erase(at.back());
  } else {
    model[at] = json::parse(value);
  }
  return model.dump();
}

struct Case {
  const char* pointer;
  const char* value;
  const char* code;
  const char* where;
};

void check_faults(const char* base, const std::vector<Case>& cases) {
  for (const Case& test : cases) {
    INFO(test.pointer << " := " << test.value);
    const auto read = model::read(changed(base, test.pointer, test.value));
    REQUIRE_FALSE(read.ok());
    INFO(tests::words(read));
    CHECK(has(read.faults(), test.code, test.where));
    for (const Fault& fault : read.faults()) {
      CHECK_FALSE(fault.what.empty());
      CHECK_FALSE(fault.cure.empty());
    }
  }
}

}  // namespace

TEST_CASE("faults of fields") {
  check_faults(
      tests::gable_house,
      {{"/ridgeward", "-", "version.missing", "/ridgeward"},
       {"/ridgeward", "2", "version.unknown", "/ridgeward"},
       {"/ridgeward", "\"1\"", "field.type", "/ridgeward"},
       {"/parts", "-", "field.missing", "/parts"},
       {"/parts", "[]", "field.missing", "/parts"},
       {"/parts", "{}", "field.type", "/parts"},
       {"/parts/0", "[]", "field.type", "/parts/0"},
       {"/parts/0/outline", "-", "field.missing", "/parts/0/outline"},
       {"/parts/0/edges", "-", "field.missing", "/parts/0/edges"},
       {"/units", "\"furlong\"", "field.unknown_word", "/units"},
       {"/units", "12", "field.type", "/units"},
       {"/name", "[]", "field.type", "/name"},
       {"/parts/0/plate", "\"nine\"", "length.unreadable", "/parts/0/plate"},
       {"/parts/0/plate", "true", "field.type", "/parts/0/plate"},
       {"/parts/0/plate", "1e300", "too_large", "/parts/0/plate"},
       {"/parts/0/plate", "\"11 km\"", "length.unreadable", "/parts/0/plate"},
       {"/parts/0/heel", "-1", "field.range", "/parts/0/heel"},
       {"/parts/0/id", "\"a/b\"", "id.characters", "/parts/0/id"},
       {"/parts/0/id", "\"\"", "id.characters", "/parts/0/id"},
       {"/parts/0/drawn_to", "\"walls\"", "field.unknown_word", "/parts/0/drawn_to"},
       {"/site", "{\"north_deg\": 1e300}", "field.range", "/site/north_deg"},
       {"/site", "3", "field.type", "/site"},
       {"/site", "{\"snow\": 1}", "field.type", "/site/snow"},
       {"/prices", "{\"x\": -1}", "field.range", "/prices/x"},
       {"/prices", "[]", "field.type", "/prices"},
       {"/parts/0/framing", "{\"spacing\": 0}", "field.range", "/parts/0/framing/spacing"},
       {"/parts/0/framing", "{\"spacing\": \"1 in\"}", "field.range", "/parts/0/framing/spacing"},
       {"/parts/0/framing", "{\"rafter\": \"2x7 ish\"}", "field.unknown_word",
        "/parts/0/framing/rafter"},
       {"/parts/0/framing", "{\"edges\": {\"4\": {\"at\": [1]}}}", "name.unknown",
        "/parts/0/framing/edges/4"},
       {"/parts/0/framing", "{\"edges\": {\"1\": {\"at\": [2, 1]}}}", "field.range",
        "/parts/0/framing/edges/1/at/1"},
       {"/parts/0/framing", "{\"edges\": {\"1\": {}}}", "field.missing",
        "/parts/0/framing/edges/1/at"},
       {"/parts/0/framing", "{\"edges\": {\"1\": {\"stopped\": [\"x\"]}}}", "length.unreadable",
        "/parts/0/framing/edges/1/stopped/0"}});
}

TEST_CASE("faults of pitches") {
  const char* at = "/parts/0/edges/0/pitch";
  check_faults(tests::gable_house, {{at, "-", "field.missing", at},
                                    {at, "8", "pitch.unreadable", at},
                                    {at, "\"steep\"", "pitch.unreadable", at},
                                    {at, "\"8/0\"", "pitch.unreadable", at},
                                    {at, "\"0/12\"", "pitch.range", at},
                                    {at, "\"0 deg\"", "pitch.range", at},
                                    {at, "\"-8/12\"", "pitch.range", at},
                                    {at, "\"89.5 deg\"", "pitch.range", at},
                                    {at, "\"90 deg\"", "pitch.range", at},
                                    {at, "\"200 deg\"", "pitch.range", at},
                                    {at, "\"1/0.000000001\"", "pitch.range", at}});
  CHECK(model::read(changed(tests::gable_house, at, "\"89.4 deg\"")).ok());
}

TEST_CASE("faults of outlines") {
  const char* at = "/parts/0/outline";
  check_faults(
      tests::gable_house,
      {{at, "[]", "outline.too_few", at},
       {at, "[[0, 0], [40, 0]]", "outline.too_few", at},
       {at, "[[0, 0], [40, 0], [40, 28], [0, 28], [0, 0]]", "outline.zero_edge",
        "/parts/0/outline/4"},
       {at, "[[0, 0], [40, 0], [40, 0], [0, 28]]", "outline.zero_edge", "/parts/0/outline/1"},
       {at, "[[0, 0], [40, 0], [20, 0], [0, 28]]", "outline.spike", "/parts/0/outline/1"},
       {at, "[[0, 0], [40, 0], [0, 28], [40, 28]]", "outline.crosses_itself", "/parts/0/outline/1"},
       {at, "[[0, 28], [40, 28], [40, 0], [0, 0]]", "outline.clockwise", at},
       {at, "[[0, 0], [40, 0], [40, 28]]", "edges.count", "/parts/0/edges"},
       {at, "[[0, 0], [40, 0], [40, 28], [0, 1e300]]", "too_large", "/parts/0/outline/3/1"},
       {at, "[[0, 0], [40, 0], [40, 28], [0, \"10.1 m\", 3]]", "field.type", "/parts/0/outline/3"},
       {at, "[[0, 0], [40, 0], [40, 28], null]", "field.type", "/parts/0/outline/3"},
       {at, "\"square\"", "field.type", at}});
}

TEST_CASE("an outline that touches itself in one point crosses itself") {
  // Two squares that share a corner, walked as one loop.
  const auto read =
      model::read(changed(tests::gable_house, "/parts/0/outline",
                          "[[0,0],[10,0],[10,10],[20,10],[20,20],[10,20],[10,10],[0,10]]"));
  REQUIRE_FALSE(read.ok());
  CHECK(has(read.faults(), "outline.crosses_itself", "/parts/0/outline/1"));
}

TEST_CASE("a touch of one grid step is seen, a gap of one is not") {
  // A notch whose tip comes within 1/8 micrometre of the opposite side, then on it.
  const auto notched = [](double tip_m) {
    json model = json::parse(tests::gable_house);
    model["units"] = "m";
    model["parts"][0]["outline"] =
        json::array({json::array({0, 0}), json::array({10, 0}), json::array({10, 10}),
                     json::array({5, tip_m}), json::array({0, 10})});
    model["parts"][0]["edges"].push_back({{"pitch", "8/12"}});
    return model.dump();
  };
  CHECK(model::read(notched(0.125e-6)).ok());
  CHECK_FALSE(model::read(notched(0.0)).ok());
  CHECK_FALSE(model::read(notched(-0.125e-6)).ok());
}

TEST_CASE("corners on a straight side are no fault") {
  json model = json::parse(tests::gable_house);
  model["parts"][0]["outline"] = json::parse("[[0,0],[20,0],[40,0],[40,28],[0,28]]");
  model["parts"][0]["edges"].insert(model["parts"][0]["edges"].begin(),
                                    json::object({{"pitch", "8/12"}}));
  CHECK(model::read(model.dump()).ok());
}

TEST_CASE("faults of holes") {
  const auto with_holes = [](const std::vector<std::string>& outlines) {
    json model = json::parse(tests::gable_house);
    for (const std::string& outline : outlines) {
      json edges = json::array();
      for (std::size_t i = 0; i < json::parse(outline).size(); ++i) {
        edges.push_back({{"pitch", "8/12"}});
      }
      model["parts"][0]["holes"].push_back({{"outline", json::parse(outline)}, {"edges", edges}});
    }
    return model::read(model.dump());
  };
  const std::string good = "[[10,10],[10,18],[20,18],[20,10]]";
  REQUIRE(with_holes({good}).ok());
  REQUIRE(with_holes({good, "[[25,10],[25,18],[30,18],[30,10]]"}).ok());
  const auto check = [&](const std::vector<std::string>& holes, const char* code,
                         const char* where) {
    const auto read = with_holes(holes);
    INFO(holes.back());
    REQUIRE_FALSE(read.ok());
    INFO(tests::words(read));
    CHECK(has(read.faults(), code, where));
  };
  check({"[[10,10],[20,10],[20,18],[10,18]]"}, "hole.counter_clockwise",
        "/parts/0/holes/0/outline");
  check({"[[50,10],[50,18],[60,18],[60,10]]"}, "hole.outside", "/parts/0/holes/0/outline");
  check({"[[30,10],[30,18],[60,18],[60,10]]"}, "hole.outside", "/parts/0/holes/0/outline");
  check({"[[0,10],[0,18],[10,18],[10,10]]"}, "hole.outside", "/parts/0/holes/0/outline");
  check({good, "[[20,10],[20,18],[30,18],[30,10]]"}, "hole.overlaps", "/parts/0/holes/1/outline");
  check({good, "[[12,12],[12,16],[18,16],[18,12]]"}, "hole.overlaps", "/parts/0/holes/1/outline");
  check({good, good}, "hole.overlaps", "/parts/0/holes/1/outline");
  check({"[[-5,-5],[-5,50],[50,50],[50,-5]]"}, "hole.outside", "/parts/0/holes/0/outline");
}

TEST_CASE("a part needs an edge that bears a plane") {
  const auto read = model::read(changed(tests::gable_house, "/parts/0/edges",
                                        R"([{"kind": "gable"}, {"kind": "gable"},
                                            {"kind": "shed_top"}, {"kind": "wall"}])"));
  REQUIRE_FALSE(read.ok());
  CHECK(read.faults().size() == 1);
  CHECK(has(read.faults(), "edges.no_eave", "/parts/0/edges"));
}

TEST_CASE("faults of edges") {
  const char* at = "/parts/0/edges/0";
  check_faults(
      tests::gable_house,
      {{at, R"({"kind": "half_hip", "pitch": "8/12"})", "field.missing",
        "/parts/0/edges/0/from_height"},
       {at, R"({"kind": "gablet", "pitch": "8/12"})", "field.missing",
        "/parts/0/edges/0/wall_height"},
       {at, R"({"kind": "hip", "pitch": "8/12"})", "field.unknown_word", "/parts/0/edges/0/kind"},
       {at, R"({"pitch": "8/12", "overhang": -1})", "field.range", "/parts/0/edges/0/overhang"},
       {at, R"({"pitch": "8/12", "soffit": "shut"})", "field.unknown_word",
        "/parts/0/edges/0/soffit"},
       {at, R"({"pitch": "8/12", "breaks": [{"height": 6}]})", "field.missing",
        "/parts/0/edges/0/breaks/0/pitch"},
       {at,
        R"({"pitch": "8/12", "breaks": [{"height": 6, "pitch": "4/12"},
                                        {"height": 5, "pitch": "2/12"}]})",
        "field.range", "/parts/0/edges/0/breaks/1/height"},
       {at, "7", "field.type", at}});
}

TEST_CASE("faults of everything on the roof") {
  check_faults(
      tests::full_model,
      {{"/parts/1/id", "\"main\"", "id.twice", "/parts/1/id"},
       {"/vents/exhaust/0/id", "\"south\"", "id.twice", "/vents/exhaust/0/id"},
       {"/obstacles/1/id", "\"chimney\"", "id.twice", "/obstacles/1/id"},
       {"/vents/intake/0/plane", "\"mian/0\"", "name.unknown", "/vents/intake/0/plane"},
       {"/vents/intake/0/plane", "\"main/8\"", "name.unknown", "/vents/intake/0/plane"},
       {"/vents/intake/0/plane", "\"main/-1\"", "name.unknown", "/vents/intake/0/plane"},
       {"/vents/intake/0/plane", "\"main\"", "name.unknown", "/vents/intake/0/plane"},
       {"/vents/intake/0/plane", "-", "field.missing", "/vents/intake/0/plane"},
       {"/vents/intake/0/product", "-", "field.missing", "/vents/intake/0/product"},
       {"/vents/intake/0/to", "-", "field.missing", "/vents/intake/0/to"},
       {"/vents/intake/0/to", "0.5", "field.range", "/vents/intake/0/to"},
       {"/vents/exhaust/0/line", "\"main/0\"", "name.unknown", "/vents/exhaust/0/line"},
       {"/vents/exhaust/0/line", "\"main/0|tail/2\"", "name.unknown", "/vents/exhaust/0/line"},
       {"/vents/exhaust/0/line", "-", "field.missing", "/vents/exhaust/0"},
       {"/vents/exhaust/2/at", "-", "field.missing", "/vents/exhaust/2/at"},
       {"/obstacles/0/outline", "-", "field.missing", "/obstacles/0"},
       {"/obstacles/0/kind", "\"dog\"", "field.unknown_word", "/obstacles/0/kind"},
       {"/obstacles/0/outline", "[[0,0],[1,1],[1,0],[0,1]]", "outline.crosses_itself",
        "/obstacles/0/outline/0"},
       {"/obstacles/1/size", "[0, 1]", "field.range", "/obstacles/1/size"},
       {"/obstacles/1/plane", "\"attic/0\"", "name.unknown", "/obstacles/1/plane"},
       {"/dividers/0/to", "[20, 0]", "outline.zero_edge", "/dividers/0/to"},
       {"/ceilings/0/outline", "-", "field.missing", "/ceilings/0/outline"},
       {"/ceilings/0/kind", "\"flt\"", "field.unknown_word", "/ceilings/0/kind"}});
}

TEST_CASE("all faults are reported, not the first") {
  json model = json::parse(tests::gable_house);
  model["parts"][0]["edges"][0]["pitch"] = "0/12";
  model["parts"][0]["heel"] = "tall";
  model["parts"][0]["outline"][2] = {40, 0};
  model["units"] = "ftt";
  const auto read = model::read(model.dump());
  REQUIRE_FALSE(read.ok());
  CHECK(read.faults().size() == 4);
}

TEST_CASE("a file that is wrong all through gives a bounded list") {
  json model = json::parse(tests::gable_house);
  for (int i = 0; i < 5000; ++i) {
    model["dividers"].push_back({{"from", "a"}, {"to", "b"}});
  }
  const auto read = model::read(model.dump());
  REQUIRE_FALSE(read.ok());
  CHECK(read.faults().size() == 201);
  CHECK(read.faults().back().code == "faults.more");
}

TEST_CASE("unknown keys are warned about with the nearest known one") {
  json model = json::parse(tests::gable_house);
  model["prats"] = 1;
  model["parts"][0]["wall_thicknes"] = "6 in";
  model["parts"][0]["edges"][0]["Overhang"] = 1;
  model["parts"][0]["edges"][2]["zzzzzz"] = 1;
  model["parts"][0]["a/b~c"] = 1;
  const auto read = model::read(model.dump());
  REQUIRE(read.ok());
  const Faults& warnings = read.value().warnings;
  REQUIRE(warnings.size() == 5);
  CHECK(has(warnings, "field.unknown", "/parts/0/a~1b~0c"));
  for (const Fault& warning : warnings) {
    if (warning.where == "/prats") {
      CHECK(warning.cure == "did you mean \"parts\"?");
    } else if (warning.where == "/parts/0/wall_thicknes") {
      CHECK(warning.cure == "did you mean \"wall_thickness\"?");
    } else if (warning.where == "/parts/0/edges/0/Overhang") {
      CHECK(warning.cure == "did you mean \"overhang\"?");
    } else {
      CHECK(warning.cure.find("known are") == 0);
    }
  }
}

TEST_CASE("lengths that no roof has are doubted, and bounds are told in the model's unit") {
  for (const char* place :
       {"/parts/0/wall_thickness", "/parts/0/heel", "/parts/0/deck", "/parts/0/edges/0/overhang"}) {
    CAPTURE(place);
    const auto read = model::read(changed(tests::gable_house, place, "\"18 ft\""));
    REQUIRE(read.ok());
    CHECK(has(read.value().warnings, "field.unlikely", place));
  }
  const auto wide =
      model::read(changed(tests::gable_house, "/parts/0/framing", "{\"spacing\": 21}"));
  REQUIRE_FALSE(wide.ok());
  CHECK(wide.faults().front().cure == "give at least 3 7/8\", at most 20' 0\"");
  CHECK(model::read(changed(tests::gable_house, "/parts/0/framing", "{\"spacing\": 20}")).ok());
}

TEST_CASE("a key given twice and a pitch without use are warned about") {
  const auto twice =
      model::read(std::string("{\"name\": \"a\", \"name\": \"b\",") + (tests::gable_house + 1));
  REQUIRE(twice.ok());
  CHECK(twice.value().model.name == "b");
  CHECK(has(twice.value().warnings, "key.twice", ""));
  const auto unused =
      model::read(changed(tests::gable_house, "/parts/0/edges/1/pitch", "\"8/12\""));
  REQUIRE(unused.ok());
  CHECK(has(unused.value().warnings, "field.unused", "/parts/0/edges/1/pitch"));
  // No rafters stand over a gable: what was measured there is of another edge.
  const auto gable = model::read(
      changed(tests::gable_house, "/parts/0/framing", "{\"edges\": {\"1\": {\"at\": [2, 4]}}}"));
  REQUIRE(gable.ok());
  CHECK(has(gable.value().warnings, "field.unused", "/parts/0/framing/edges/1"));
}

TEST_CASE("defaults are assumed aloud") {
  const auto read = model::read(tests::gable_house);
  REQUIRE(read.ok());
  const model::RoofModel& house = read.value().model;
  CHECK(house.parts[0].plate_m == 2.4384);
  CHECK(house.parts[0].heel_m == 0.0);
  CHECK(house.parts[0].edges[0].overhang_m == 0.0);
  CHECK(house.parts[0].framing.spacing_m == 0.6096);
  CHECK(house.parts[0].fascia == model::Fascia::level);
  CHECK(house.site.code == "us-irc-2021");
  std::string all;
  for (const std::string& assumption : house.assumptions) {
    all += assumption + "\n";
  }
  for (const char* words : {"plate", "heel", "overhang", "24 in", "us-irc-2021", "No vents",
                            "wall thickness", "deck thickness"}) {
    INFO(words << " in\n" << all);
    CHECK(all.find(words) != std::string::npos);
  }
}
