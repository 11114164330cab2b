// What can't be used: status 2, and the file, the place in it, what is wrong and what would be
// right, on standard error; nothing on standard output, no file written, never a crash or a hang.
#include "support/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <functional>

using namespace ridgeward;
using namespace ridgeward::support;
using Json = nlohmann::json;

namespace {

Json gable_house() {
  return Json::parse(R"json({"ridgeward": 1, "units": "ft", "parts": [
    {"id": "main", "outline": [[0, 0], [40, 0], [40, 28], [0, 28]],
     "edges": [{"kind": "eave", "pitch": "8/12"}, {"kind": "gable"},
               {"kind": "eave", "pitch": "8/12"}, {"kind": "gable"}]}]})json");
}

const Json eave = {{"kind", "eave"}, {"pitch", "8/12"}};

struct Bad {
  const char* name;
  std::function<void(Json& part)> spoil;
  const char* place;  ///< the JSON pointer told
  const char* what;   ///< words that must be told
};

const std::vector<Bad>& bad_parts() {
  static const std::vector<Bad> all{
      {"crosses itself",
       [](Json& part) {
         part["outline"] = {{0, 0}, {40, 28}, {40, 0}, {0, 28}};
       },
       "/parts/0/outline/", "side 2"},
      {"clockwise",
       [](Json& part) {
         part["outline"] = {{0, 0}, {0, 28}, {40, 28}, {40, 0}};
       },
       "/parts/0/outline", "clockwise"},
      {"edge of no length",
       [](Json& part) {
         part["outline"] = {{0, 0}, {40, 0}, {40, 0}, {0, 28}};
       },
       "/parts/0/outline/1", "the same point"},
      {"spike",
       [](Json& part) {
         part["outline"] = {{0, 0}, {60, 0}, {40, 0}, {40, 28}, {0, 28}};
         part["edges"] = {eave, eave, eave, eave, eave};
       },
       "/parts/0/outline/1", "turns back"},
      {"two corners",
       [](Json& part) {
         part["outline"] = {{0, 0}, {40, 0}};
       },
       "/parts/0/outline", "2 corners"},
      {"hole outside",
       [](Json& part) {
         part["holes"] = {{{"outline", {{50, 5}, {50, 10}, {55, 10}, {55, 5}}},
                           {"edges", {eave, eave, eave, eave}}}};
       },
       "/parts/0/holes/0/outline", "inside"},
      {"gables only",
       [](Json& part) {
         for (Json& edge : part["edges"]) {
           edge = {{"kind", "gable"}};
         }
       },
       "/parts/0/edges", "plane"},
      {"pitch 0", [](Json& part) { part["edges"][0]["pitch"] = "0/12"; }, "/parts/0/edges/0/pitch",
       "0/12"},
      {"pitch 90", [](Json& part) { part["edges"][2]["pitch"] = "90 deg"; },
       "/parts/0/edges/2/pitch", "90 deg"},
      {"pitch of no number", [](Json& part) { part["edges"][0]["pitch"] = "NaN/12"; },
       "/parts/0/edges/0/pitch", "NaN/12"},
      {"pitch without its form", [](Json& part) { part["edges"][0]["pitch"] = 8; },
       "/parts/0/edges/0/pitch", "8/12"},
      {"corner at 1e300", [](Json& part) { part["outline"][1][0] = 1e300; }, "/parts/0/outline/1/0",
       "1e+300"},
      {"plate at 1e300", [](Json& part) { part["plate"] = 1e300; }, "/parts/0/plate", "1e+300"},
      {"length of no number", [](Json& part) { part["plate"] = "NaN ft"; }, "/parts/0/plate",
       "NaN ft"},
      {"an edge too few", [](Json& part) { part["edges"].erase(3); }, "/parts/0/edges", "4 sides"},
      {"an edge too many", [](Json& part) { part["edges"].push_back(eave); }, "/parts/0/edges",
       "4 sides"},
      {"an unknown kind", [](Json& part) { part["edges"][1]["kind"] = "gabel"; },
       "/parts/0/edges/1/kind", "gable"},
  };
  return all;
}

/// Runs every call that reads a model on `model`, each with a file to write, and holds each to what
/// stands at the head of this file. Gives what was said.
std::string refused(const Folder& folder, const std::string& model) {
  const std::vector<std::string> before = folder.names();
  std::vector<std::vector<std::string>> calls{{"assess", model},
                                              {"place", model, "-o", folder.file("placed.json")},
                                              {"assess", model, "--json", "-"},
                                              {"assess", model, "--json", folder.file("o.json")}};
#ifdef RIDGEWARD_HAS_SOLID
  calls.push_back({"export", model, "-o", folder.file("o.step")});
#endif
#ifdef RIDGEWARD_HAS_VIEWER
  calls.push_back({"picture", model, "-o", folder.file("o.png")});
  calls.push_back({"view", model});
#endif
  std::string said;
  for (const auto& words : calls) {
    CAPTURE(words);
    const Ran ran = run_program(words);
    CHECK_FALSE(ran.is_late);
    CAPTURE(ran.err);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, "\n  cure: "));
    CHECK(has(ran.err, "ridgeward: " + model));
    CHECK((said.empty() || said == ran.err));
    CHECK(folder.names() == before);
    said = ran.err;
  }
  return said;
}

}  // namespace

TEST_CASE("each kind of bad part is refused with file, place, fault and cure, by every call") {
  for (const Bad& bad : bad_parts()) {
    INFO(bad.name);
    const Folder folder;
    Json model = gable_house();
    bad.spoil(model["parts"][0]);
    const std::string file = folder.write("bad.roof.json", model.dump());
    const std::string said = refused(folder, file);
    CHECK(has(said, file + " at " + bad.place));
    CHECK(has(said, bad.what));
  }
}

TEST_CASE("all faults of a file are told in one go") {
  Json model = gable_house();
  model["parts"][0]["plate"] = "high";
  model["parts"][0]["edges"][0]["pitch"] = "steep";
  model["site"]["north_deg"] = "up";
  const Folder folder;
  const Ran ran = run_program({"assess", folder.write("bad.roof.json", model.dump())});
  CHECK(ran.status == 2);
  for (const char* place : {"/parts/0/plate", "/parts/0/edges/0/pitch", "/site/north_deg"}) {
    CHECK(has(ran.err, place));
  }
}

TEST_CASE("numbers that JSON does not have are refused by line and column") {
  for (const char* number : {"NaN", "Infinity", "-Infinity", "1e999", "0x10", "+1", "1,5"}) {
    INFO(number);
    const Folder folder;
    std::string text = gable_house().dump(1);
    const std::size_t at = text.find("28");
    text.replace(at, 2, number);
    const std::string file = folder.write("bad.roof.json", text);
    const std::string said = refused(folder, file);
    CHECK_FALSE(has(said, "program failed"));
  }
}

TEST_CASE("a file cut off anywhere is refused, and said to be cut off") {
  const std::string whole = bytes_of(demo_house("sorrel-lane"));
  REQUIRE(whole.size() > 1000);
  const std::size_t last = whole.rfind('}');
  for (const std::size_t size : {std::size_t{1}, std::size_t{2}, whole.size() / 7, whole.size() / 3,
                                 whole.size() / 2, whole.size() * 9 / 10, last}) {
    INFO(size << " bytes of " << whole.size());
    const Folder folder;
    const std::string file = folder.write("half.roof.json", whole.substr(0, size));
    const Ran ran = run_program({"assess", file, "--json", folder.file("o.json")});
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, "ridgeward: " + file));
    CHECK(has(ran.err, "cut off"));
    CHECK(folder.names() == std::vector<std::string>{"half.roof.json"});
  }
}

TEST_CASE("what is no model file at all is refused") {
  const Folder folder;
  SECTION("empty") { CHECK(has(refused(folder, folder.write("x.roof.json", "")), "empty")); }
  SECTION("missing") { CHECK(has(refused(folder, folder.file("nowhere.roof.json")), "no file")); }
  SECTION("a folder") {
    std::filesystem::create_directory(folder.file("sub"));
    CHECK(has(refused(folder, folder.file("sub")), "folder"));
  }
  SECTION("a list") { refused(folder, folder.write("x.roof.json", "[1, 2]")); }
  SECTION("a word") { refused(folder, folder.write("x.roof.json", "roof")); }
  SECTION("bytes of another kind") {
    refused(folder, folder.write("x.roof.json", std::string("\x89PNG\r\n\x1a\n\0\0\0", 11)));
  }
  SECTION("not UTF-8") {
    CHECK(has(refused(folder, folder.write("x.roof.json", "{\"name\": \"\xff\"}")), "UTF-8"));
  }
  SECTION("nested without end") {
    refused(folder, folder.write("x.roof.json", std::string(200000, '[')));
  }
  SECTION("without its version") {
    Json model = gable_house();
    model.erase("ridgeward");
    const std::string said = refused(folder, folder.write("x.roof.json", model.dump()));
    CHECK(has(said, "\"ridgeward\": 1"));
  }
  SECTION("of a version to come") {
    Json model = gable_house();
    model["ridgeward"] = 2;
    CHECK(has(refused(folder, folder.write("x.roof.json", model.dump())), "/ridgeward"));
  }
  SECTION("of a code set that is not there") {
    Json model = gable_house();
    model["site"]["code"] = "us-irc-1066";
    const std::string file = folder.write("x.roof.json", model.dump());
    CHECK(has(refused(folder, file), file + " at /site/code"));
  }
  SECTION("of a code set by a path: a model names sets, it does not open files") {
    Json model = gable_house();
    model["site"]["code"] = "../codes/us-irc-2021";
    const std::string file = folder.write("x.roof.json", model.dump());
    CHECK(has(refused(folder, file), file + " at /site/code"));
  }
}

TEST_CASE("an unknown key is warned of with the nearest known one, and the roof is assessed") {
  const Folder folder;
  Json model = Json::parse(bytes_of(demo_house("sorrel-lane")));
  model["parts"][0]["framing"]["spacng"] = "16 in";
  model["prizes"] = Json::object();
  const std::string file = folder.write("typo.roof.json", model.dump());
  const Ran ran = run_program({"assess", file, "--json", folder.file("o.json")});
  CHECK(ran.status == 0);
  CHECK(has(ran.out, "COMPARTMENTS"));
  CHECK(has(ran.err, "warning: " + file + " at /parts/0/framing/spacng: "));
  CHECK(has(ran.err, "\"spacing\""));
  CHECK(has(ran.err, "warning: " + file + " at /prizes: "));
  CHECK(has(ran.err, "\"prices\""));
  CHECK(lines_of(ran.err).size() == 4);
  CHECK(folder.names() == std::vector<std::string>{"o.json", "typo.roof.json"});
}

TEST_CASE("a mistyped key is told beside what is missing for it") {
  const Folder folder;
  Json model = gable_house();
  model["parts"][0]["outlne"] = model["parts"][0]["outline"];
  model["parts"][0].erase("outline");
  model["parts"][0]["edges"][0]["pich"] = "8/12";
  model["parts"][0]["edges"][0].erase("pitch");
  model["parts"][0]["shoe"] = 1;  // near to nothing: no reason for what is missing
  const std::string file = folder.write("typo.roof.json", model.dump());
  const Ran ran = run_program({"assess", file});
  CHECK(ran.status == 2);
  CHECK(has(ran.err, file + " at /parts/0/outline: this field is missing"));
  CHECK(has(ran.err, file + " at /parts/0/outlne: the key \"outlne\" is not known here\n"
                            "  cure: did you mean \"outline\"?"));
  CHECK(has(ran.err, "at /parts/0/edges/0/pich: "));
  CHECK(has(ran.err, "did you mean \"pitch\"?"));
  CHECK_FALSE(has(ran.err, "shoe"));
}

TEST_CASE("a price of nothing that is sold or ordered is warned of, with the nearest name") {
  const Folder folder;
  Json model = Json::parse(bytes_of(demo_house("sorrel-lane")));
  const Ran before = run_program({"assess", demo_house("sorrel-lane")});
  CHECK(before.err.empty());
  // A product that is not ordered, an item of the order that is no product, and two of neither.
  model["prices"] = {{"over-deck-101", 21.5}, {"box-50", 30.0}, {"drip edge", 2.0}, {"a/cat", 1.0}};
  const std::string file = folder.write("typo.roof.json", model.dump());
  const Ran ran = run_program({"assess", file});
  CAPTURE(ran.err);
  CHECK(ran.status == 0);
  CHECK(has(ran.err, "ridgeward: warning: " + file + " at /prices/over-deck-101: "));
  CHECK(has(ran.err, "did you mean \"over-deck-10\"?"));
  CHECK(has(ran.err, " at /prices/a~1cat: "));
  CHECK_FALSE(has(ran.err, "/prices/box-50"));
  CHECK_FALSE(has(ran.err, "/prices/drip edge"));
  CHECK(lines_of(ran.err).size() == 4);
}

TEST_CASE("a bad catalogue or code set is told by its own name") {
  const Folder folder;
  const std::string house = demo_house("plain-gable");
  const std::string bad = folder.write("bad.json", "{\"ridgeward\": 1}");
  for (const std::string option : {"--catalogue", "--code"}) {
    for (const std::string& file : {bad, folder.file("nowhere.json"),
                                    folder.write("half.json", "{\"ridgeward\": 1, \"prod")}) {
      CAPTURE(option, file);
      const Ran ran = run_program({"assess", house, option, file});
      CAPTURE(ran.err);
      CHECK(ran.status == 2);
      CHECK(ran.out.empty());
      CHECK(ran.err.rfind("ridgeward: " + file, 0) == 0);
      CHECK(has(ran.err, "\n  cure: "));
      CHECK_FALSE(has(ran.err, house));
    }
  }
}

TEST_CASE("words that the command line does not know are refused, with help") {
  const std::string house = demo_house("plain-gable");
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{},
                                             {"asess", house},
                                             {"assess"},
                                             {"assess", house, house},
                                             {"assess", house, "--jsn", "x"},
                                             {"assess", house, "--json"},
                                             {"assess", house, "--units", "furlong"},
                                             {"schema", "roof"},
                                             {"batch", "--jobs", "0"},
                                             {"batch", "--jobs", "many"},
                                             {"import", house}}) {
    CAPTURE(words);
    const Ran ran = run_program(words);
    CAPTURE(ran.err);
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, "--help"));
    CHECK(ran.err.rfind("ridgeward: ", 0) == 0);
    CHECK(has(ran.err, "\n  cure: "));
    CHECK(lines_of(ran.err).size() == 2);
  }
  CHECK(has(run_program({"asess"}).err, "did you mean \"assess\"? use one of assess, "));
}

TEST_CASE("a misused option is named, with the nearest that is known") {
  const std::string house = demo_house("plain-gable");
  struct Misuse {
    std::vector<std::string> words;
    const char* what;
    const char* cure;
  };
  const std::vector<Misuse> all{
      {{"assess", house, "--pfd", "x.pdf"},
       "assess has no option --pfd",
       "did you mean \"--pdf\"? ridgeward assess --help"},
      {{"assess", house, "--jsn=x"}, "no option --jsn", "did you mean \"--json\"?"},
      {{"assess", house, "-o", "x"}, "assess has no option -o", "cure: ridgeward assess --help"},
      {{"assess", house, "x.pdf"}, "one word too many: \"x.pdf\"", "ridgeward assess --help"},
      {{"assess", house, "--json"}, "--json needs a value", "ridgeward assess --help"},
      {{"--units", "metric", "assess", house}, "--units stands before the call", "first"},
      {{"place", house}, "--output is required", "ridgeward place --help"},
      {{"--versoin"}, "no option --versoin", "did you mean \"--version\"?"},
      {{"assess", house, "--sheets", "crew"}, "--sheets requires --pdf", "ridgeward assess --help"},
      {{"assess", house, "--paper", "a4"}, "--paper requires --pdf", "ridgeward assess --help"}};
  for (const Misuse& misuse : all) {
    CAPTURE(misuse.words);
    const Ran ran = run_program(misuse.words);
    CAPTURE(ran.err);
    CHECK(ran.status == 2);
    CHECK(ran.err.rfind("ridgeward: ", 0) == 0);
    CHECK(has(ran.err, misuse.what));
    CHECK(has(ran.err, "\n  cure: "));
    CHECK(has(ran.err, misuse.cure));
  }
}
