// ridgeward place, and checks of one's own, as a user runs them.
#include "support/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace ridgeward;
using namespace ridgeward::support;
using Json = nlohmann::json;

namespace {

/// A house without vents, so many feet long and wide; `kind` of its short sides.
std::string house(double length, double width, const char* kind) {
  Json eave{{"kind", "eave"}, {"pitch", "8/12"}, {"overhang", 1}, {"soffit", "closed"}};
  Json side{{"kind", kind}, {"pitch", "8/12"}, {"overhang", 1}};
  Json part{{"outline", {{0, 0}, {length, 0}, {length, width}, {0, width}}},
            {"plate", 9},
            {"heel", "12 in"},
            {"edges", {eave, side, eave, side}}};
  return Json{{"ridgeward", 1}, {"units", "ft"}, {"parts", {part}}}.dump();
}

}  // namespace

TEST_CASE("place writes a model that is sound, and leaves its input as it was") {
  const Folder folder;
  const std::string model = folder.write("house.roof.json", house(40, 28, "gable"));
  const std::string before = bytes_of(model);
  const std::string placed = folder.file("placed.roof.json");
  const Ran ran = run_program({"place", model, "-o", placed});
  INFO(ran.out << ran.err);
  REQUIRE(ran.status == 0);
  CHECK(has(ran.out, "proven the least"));
  CHECK(has(ran.out, " of intake, "));
  CHECK_FALSE(has(ran.out, "(s)"));
  CHECK(bytes_of(model) == before);
  const Ran assessed = run_program({"assess", placed});
  INFO(assessed.out);
  CHECK(assessed.status == 0);
  CHECK_FALSE(has(assessed.out, "FAILS"));
  // What the assessment says of it: areas needed and placed, the tests, the whole.
  const std::string& summary = assessed.out;
  const auto after = [&](const std::string& words) {
    const std::size_t at = summary.find(words);
    REQUIRE(at != std::string::npos);
    const std::string rest = summary.substr(at + words.size());
    return rest.substr(rest.find_first_not_of(' '), rest.find("in2") - rest.find_first_not_of(' '));
  };
  CHECK(has(ran.out, "free area needed " + after("required free area") + "in2, placed " +
                         after("    both ") + "in2\n"));
  std::size_t tests = 0;
  for (const std::string& line : lines_of(summary)) {
    tests += line.rfind("    holds ", 0) == 0 ? 1 : 0;
  }
  CHECK(tests > 3);
  CHECK(has(ran.out, "the code by the assessment: all "));
  CHECK(has(ran.out, "The assessment finds nothing at fault.\n"));
  CHECK(has(ran.out, "Written: " + placed + "\n"));
  CHECK(has(ran.out, "CAUTIONS\n  Protect against falls"));
  CHECK(has(ran.out, "licensed professional decide"));
  // Standard output holds the model alone, words go beside it.
  const Ran piped = run_program({"place", model, "-o", "-"});
  CHECK(piped.status == 0);
  CHECK(Json::parse(piped.out) == Json::parse(bytes_of(placed)));
  CHECK(has(piped.err, "proven the least"));
  CHECK_FALSE(has(piped.err, "Written: "));
  // What can't be written is found out before anything is said to be placed.
  for (const std::string& target : {folder.file(""), folder.file("nowhere/x.roof.json")}) {
    const Ran failed = run_program({"place", model, "-o", target});
    CHECK(failed.status == 2);
    CHECK(failed.out.empty());
    CHECK(has(failed.err, target + ": can't be written"));
  }
}

TEST_CASE("a vault under a ridge and hips gets an exhaust for each of its spaces, and says which") {
  const Folder folder;
  const std::string hall =
      std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/plover-hall.roof.json";
  const std::string placed = folder.file("placed.roof.json");
  const Ran ran = run_program({"place", hall, "-o", placed});
  INFO(ran.out << ran.err);
  REQUIRE(ran.status == 0);
  CHECK(has(ran.out, "exhaust: hip-9 over hall main/0/b16 and 29 more"));
  CHECK(has(ran.out, "exhaust: ridge-18 over 8 rafter spaces under hall (main/0/b12-b15"));
  CHECK_FALSE(has(ran.out, "NOT proven"));
  // Every vent is listed with its place; the ridge vent lies over the divider's side of the hall.
  CHECK(has(ran.out, "in-1 "));
  CHECK(has(ran.out, "ridge-18 on main/0|main/2, from "));
  CHECK(run_program({"assess", placed}).status == 0);
}

TEST_CASE("where nothing can be placed nothing is written, and it is said why") {
  const Folder folder;
  const std::string model = folder.write("wide.roof.json", house(44, 40, "eave"));
  const std::string catalogue = folder.write("catalogue.json", R"json({
    "ridgeward": 1, "products": [
      {"id": "slot", "kind": "over_deck_intake", "free_area_per_length": "10 in2/ft",
       "length": "4 ft", "depth": "14 in", "slot": {"lower_line": "6 1/2 in", "width": "1 1/2 in"}},
      {"id": "ridge", "kind": "ridge_vent", "free_area_per_length": "12 in2/ft", "length": "4 ft",
       "slot": {"width": "3/4 in"}}]})json");
  const std::string placed = folder.file("placed.roof.json");
  const Ran ran = run_program({"place", model, "-o", placed, "--catalogue", catalogue});
  INFO(ran.out << ran.err);
  CHECK(ran.status == 1);
  CHECK(has(ran.out, "in the way"));
  CHECK(has(ran.out, "lacks"));
  CHECK(has(ran.err, "nothing is written"));
  CHECK(bytes_of(placed).empty());
  // Ten rafter spaces of a lean-to end at its headwall: told once.
  const std::string lean = folder.write("lean.roof.json", R"json({"ridgeward": 1, "units": "ft",
    "parts": [{"id": "lean", "outline": [[0, 0], [20, 0], [20, 10], [0, 10]], "heel": 1,
      "edges": [{"kind": "eave", "pitch": "4/12", "overhang": 1}, {"kind": "gable"},
                {"kind": "wall"}, {"kind": "gable"}]}],
    "ceilings": [{"id": "slope", "kind": "sloped", "insulation": "4 in",
                  "outline": [[0, 0], [20, 0], [20, 10], [0, 10]]}]})json");
  const Ran ten = run_program({"place", lean, "-o", placed});
  INFO(ten.out);
  CHECK(ten.status == 1);
  CHECK(has(ten.out, ", and 9 more alike"));
  const std::size_t first = ten.out.find("no placement meets the code");
  REQUIRE(first != std::string::npos);
  CHECK(ten.out.find("no placement meets the code", first + 1) == std::string::npos);
}

TEST_CASE("place never writes over what it reads, and takes a code by name") {
  const Folder folder;
  const std::string model = folder.write("house.roof.json", house(40, 28, "gable"));
  CHECK(run_program({"place", model, "-o", model}).status == 2);
  CHECK(run_program({"place", model, "-o", folder.file("o.json"), "--code", "none"}).status == 2);
  const Ran ran =
      run_program({"place", model, "-o", folder.file("placed.roof.json"), "--code", "us-irc-2009"});
  CHECK(ran.status == 0);
  CHECK(run_program({"assess", folder.file("placed.roof.json"), "--code", "us-irc-2009"}).status ==
        0);
}
