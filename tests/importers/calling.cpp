// The calls `import` and `importers` as a user runs them, with importers of the user's own.
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "importers/imported.hpp"
#include "support/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <map>
#include <string>
#include <sys/stat.h>
#include <unistd.h>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::support;
namespace fs = std::filesystem;
using Json = nlohmann::json;

namespace {

const fs::path example = RIDGEWARD_SOURCE_DIR "/docs/examples/importer";

/// The worked example, built outside the source tree as docs/own-importers.md says.
class Example {
 public:
  Example() {
    for (const auto& entry : fs::directory_iterator(example)) {
      fs::copy_file(entry.path(), folder_.file(entry.path().filename().string()));
    }
    fs::copy_file(RIDGEWARD_SOURCE_DIR "/kernel/plugin/importer_abi.h",
                  folder_.file("importer_abi.h"));
    fs::create_directory(plugins());
    const std::string build = "cd '" + folder_.file("") +
                              "' && '" RIDGEWARD_C_COMPILER
                              "' -std=c99 -Wall -Wextra -pedantic -Werror -shared -fPIC sketch.c "
                              "-o plugins/sketch.so && cp sketch.json plugins/";
    is_built_ = std::system(build.c_str()) == 0;
  }
  bool is_built() const { return is_built_; }
  const Folder& folder() const { return folder_; }
  std::string plugins() const { return folder_.file("plugins"); }
  std::string model() const { return folder_.file("made.roof.json"); }
  /// Imports a file with it; `more` are further words.
  Ran import(const std::string& file, const std::vector<std::string>& more = {}) const {
    std::vector<std::string> words{"import", file, "-o", model(), "--plugins", plugins()};
    words.insert(words.end(), more.begin(), more.end());
    return run_program(words);
  }

 private:
  Folder folder_;
  bool is_built_ = false;
};

}  // namespace

TEST_CASE("the worked example is built with one header outside the tree, and imports") {
  const std::string source = bytes_of(example / "sketch.c");
  std::string own_includes;
  for (const std::string& line : lines_of(source)) {
    own_includes += line.rfind("#include \"", 0) == 0 ? line : "";
  }
  CHECK(own_includes == "#include \"importer_abi.h\"");

  const Example sketch;
  REQUIRE(sketch.is_built());
  const Ran list = run_program({"importers", "--plugins", sketch.plugins()});
  CHECK(has(list.out, "sketches of houses"));
  CHECK(has(list.out, "--option plate=METRES"));

  const Ran made = sketch.import(sketch.folder().file("house.sketch"));
  INFO(made.err);
  REQUIRE(made.status == 0);
  CHECK(has(made.err, "note: the sketch gives no wall plate: 2.5 m is taken"));
  const Ran found = run_program({"assess", sketch.model(), "--json", "-"});
  const Json answer = Json::parse(found.out);
  // Walls of 12 m by 8 m with 3 m of the porch's 4 m by 6 m in front of them, no overhangs.
  CHECK(answer["totals"]["plan_area_m2"].get<double>() == Approx(12.0 * 8.0 + 4.0 * 3.0));
  REQUIRE(answer["planes"].size() == 4);
  for (const Json& plane : answer["planes"]) {
    CHECK(plane["slope_deg"].get<double>() == Approx(plane["part"] == "main" ? 35.0 : 20.0));
  }
  CHECK(answer["model"]["parts"].size() == 2);
}

TEST_CASE("the worked example refuses what is no sketch, with line and cure") {
  const Example sketch;
  REQUIRE(sketch.is_built());
  struct Bad {
    const char* text;
    const char* where;
  };
  for (const Bad& bad : {Bad{"sketch 1\nmain 0 0 12 8 35\n", "line 2"}, Bad{"sketch 1\n", "line 1"},
                         Bad{"sketch 1\n\nmain 0 0 nan 8 35 hip\n", "line 3"},
                         Bad{"sketch 1\nmain 0 0 12 8 35 hip more\n", "line 2"},
                         Bad{"sketch 1\na/b 0 0 12 8 35 hip\n", "line 2"},
                         Bad{"sketch 1\nmain 0 0 12 8 95 hip\n", "line 2"},
                         Bad{"sketch 1\nmain 0 0 12 8 35 domes\n", "line 2"}}) {
    const Ran ran = sketch.import(sketch.folder().write("bad.sketch", bad.text));
    INFO(bad.text << ran.err);
    CHECK(ran.status == 2);
    CHECK(has(ran.err, std::string("bad.sketch at ") + bad.where + ": "));
    CHECK(has(ran.err, "\n  cure: "));
    CHECK_FALSE(fs::exists(sketch.model()));
  }
  const std::string long_line = "sketch 1\n" + std::string(5000, 'x') + "\n";
  CHECK(sketch.import(sketch.folder().write("long.sketch", long_line)).status == 2);
  const std::string good = sketch.folder().file("house.sketch");
  CHECK(has(sketch.import(good, {"--option", "plate=high"}).err, "at option plate: "));
  const Ran higher = sketch.import(good, {"--option", "plate=3.2"});
  CHECK(higher.status == 0);
  CHECK(Json::parse(bytes_of(sketch.model()))["parts"][0]["plate"].get<double>() == Approx(3.2));
}

TEST_CASE("options and folders may stand before the file: each takes one value") {
  const Folder folder;
  const std::string houses = RIDGEWARD_SOURCE_DIR "/importers/geojson/samples/two-houses.geojson";
  const std::string model = folder.file("made.roof.json");
  const Ran made = run_program({"import", "--option", "feature=0", "--option",
                                "coordinates=degrees", "--plugins", folder.file(""), "--plugins",
                                folder.file(""), houses, "-o", model});
  INFO(made.err);
  REQUIRE(made.status == 0);
  CHECK(Json::parse(bytes_of(model))["parts"].size() == 1);
  CHECK(run_program({"assess", "--plugins", folder.file(""), model}).status == 1);  // no vents
}

TEST_CASE("options are held against the importer's description") {
  const Folder folder;
  const std::string houses = RIDGEWARD_SOURCE_DIR "/importers/geojson/samples/two-houses.geojson";
  const auto tried = [&](const std::vector<std::string>& options) {
    std::vector<std::string> words{"import", houses, "-o", folder.file("made.roof.json")};
    for (const std::string& option : options) {
      words.insert(words.end(), {"--option", option});
    }
    const Ran ran = run_program(words);
    INFO(ran.err);
    CHECK(ran.status == 2);
    CHECK(folder.names().empty());
    return ran.err;
  };
  const std::string unknown = tried({"bogus=9"});
  CHECK(has(unknown, "no option \"bogus\""));
  CHECK(has(unknown, "feature=N"));
  CHECK(has(unknown, "coordinates=degrees or metres"));
  CHECK(has(tried({"feature"}), "no key=value"));
  CHECK(has(tried({"feature="}), "no key=value"));
  CHECK(has(tried({"=9"}), "no option \"\""));
  CHECK(has(tried({"feature=0", "feature=1"}), "given twice"));
  CHECK(has(tried({"feature=0\nbogus=1"}), "no key=value"));
}

TEST_CASE("a folder of importers that is not there is told") {
  const Folder folder;
  const std::string houses = RIDGEWARD_SOURCE_DIR "/importers/geojson/samples/two-houses.geojson";
  for (const std::string& none : {folder.file("none"), std::string("no-such-folder"), houses}) {
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"importers", "--plugins", none},
          std::vector<std::string>{"import", houses, "-o", folder.file("made.roof.json"),
                                   "--plugins", none}}) {
      const Ran ran = run_program(words);
      INFO(ran.err);
      CHECK(ran.status == 2);
      CHECK(has(ran.err, "there is no folder \"" + none + "\""));
      CHECK(ran.out.empty());
    }
  }
  CHECK(folder.names().empty());
  // Where one stands counts when the user says so, and only then.
  CHECK(run_program({"importers", "--plugins", "."}).status == 0);
}

TEST_CASE("faults of importers name the file that is wrong and what would be right") {
  const Folder folder;
  fs::create_directory(folder.file("plugins"));
  const std::string house = folder.write("house.dat", "nobody reads this");
  folder.write("plugins/stray.json", R"({"type": "FeatureCollection"})");
  folder.write("plugins/wrong.json", R"({"ridgeward_importer": "one"})");
  folder.write("plugins/gone.json",
               R"({"ridgeward_importer": 1, "name": "gone", "library": "gone.so"})");
  const Ran ran = run_program(
      {"import", house, "-o", folder.file("made.json"), "--plugins", folder.file("plugins")});
  INFO(ran.err);
  CHECK(ran.status == 2);
  CHECK(
      has(ran.err, "warning: " + folder.file("plugins/wrong.json") + " at /ridgeward_importer: "));
  CHECK(has(ran.err, "warning: " + folder.file("plugins/gone.json") + ": "));
  CHECK_FALSE(has(ran.err, "stray.json"));
  CHECK_FALSE(has(ran.err, "gone, mesh"));  // not among those that there are
  const Ran model = run_program({"import", demo_house("plain-gable"), "-o", folder.file("x.json")});
  CHECK(model.status == 2);
  CHECK(has(model.err, "a model file already"));
  CHECK(has(model.err, "ridgeward assess"));
  CHECK_FALSE(has(run_program({"import", "--help"}).out, "the roof is at fault"));
  const Ran number = run_program({"import", RIDGEWARD_SOURCE_DIR "/importers/xyz/samples/gable.xyz",
                                  "-o", folder.file("x.json"), "--option", "tolerance=7"});
  CHECK(number.status == 2);
  CHECK(has(number.err, "give a number from 0.01 to 1\n"));
}

TEST_CASE("the importer whose ending it is says what is wrong with a file") {
  const Folder folder;
  struct Bad {
    const char* name;
    std::string bytes;
    const char* said;
  };
  std::vector<Bad> all{
      {"bad.xyz", "1 2 3\n4 5 six\n7 8 9\n", "line 2"},
      {"bad.ifc", "nothing of the kind", "this is no IFC file"},
      {"bad.dxf", "nothing of the kind", "this is no DXF"},
      {"bad.gml", "nothing of the kind", ""},
      {"bad.obj", "nothing of the kind", "no OBJ"},
      {"cut.glb", std::string("glTF\2\0\0\0\0\20\0\0", 12) + "then", "of 4096 bytes it has 16"},
      {"empty.dxf", " \n", "the file is empty"},
      {"empty.dat", "", "the file is empty"}};
#ifdef RIDGEWARD_HAS_SOLID
  all.push_back({"bad.step", "nothing of the kind", "this is no STEP file"});
#endif
  for (const Bad& bad : all) {
    const std::string file = folder.write(bad.name, bad.bytes);
    const Ran ran = run_program({"import", file, "-o", folder.file("made.json")});
    CAPTURE(bad.name, ran.err);
    CHECK(ran.status == 2);
    CHECK(has(ran.err, "ridgeward: " + file));
    CHECK(has(ran.err, bad.said));
    CHECK(has(ran.err, "\n  cure: "));
    CHECK_FALSE(has(ran.err, "no importer reads"));
    CHECK_FALSE(has(ran.err, "$$$"));
    CHECK_FALSE(fs::exists(folder.file("made.json")));
  }
}

TEST_CASE("what nobody gave is told of planes as of plans, each thing once") {
  const Folder folder;
  const std::string told = folder.file("told.json");
  const auto assumed = [&](const std::string& file) {
    const Ran ran =
        run_program({"import", file, "-o", folder.file("made.roof.json"), "--found", told});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    const auto all = Json::parse(bytes_of(told))["assumed"].get<std::vector<std::string>>();
    std::string lines;
    for (const std::string& line : all) {
      CHECK(has(ran.err, "assumed: " + line + "\n"));
      lines += line + "\n";
    }
    return lines;
  };
  // A city's house and shed give planes only, two parts that lack the same.
  const std::string planes =
      assumed(RIDGEWARD_SOURCE_DIR "/importers/cityjson/samples/house-and-shed.city.json");
  for (const char* words :
       {"No code set is given: us-irc-2021", "All 2 parts: no wall thickness is given, 6 in",
        "All 2 parts: no heel is given", "All 2 parts: no deck thickness", "no overhang is given",
        "All 2 parts: no framing is given, rafters at 24 in", "rafters 2x8", "-10 C (14 F)",
        "33 C (91 F)", "suburb", "without snow", "north", "ceiling", "No vents are given"}) {
    INFO(words << " in " << planes);
    CHECK(has(planes, words));
  }
  CHECK_FALSE(has(planes, "no plate"));  // heights are in the file
  // What the JSON of an importer says is not assumed.
  const Example sketch;
  REQUIRE(sketch.is_built());
  const Ran made = sketch.import(sketch.folder().file("house.sketch"));
  CHECK(has(made.err, "assumed: All 2 parts: no wall thickness"));
  CHECK_FALSE(has(made.err, "assumed: No units"));
}

namespace {

/// Sums of the roof's lines by their words.
std::map<std::string, double> lengths_of(const std::string& model_file) {
  const auto read = model::read_file(model_file);
  INFO(tests::words(read));
  REQUIRE(read.ok());
  const auto surface = surface::raise(read.value().model);
  REQUIRE(surface.ok());
  std::map<std::string, double> sums;
  for (const surface::Line& line : surface.value().lines) {
    if (line.kind != surface::LineKind::wall_edge) {
      sums[surface::word(line.kind)] += line.length_m;
    }
  }
  return sums;
}

}  // namespace

TEST_CASE("a plan with roof lines in space gives gables, overhangs, pitches and plates") {
  // Sorrel Lane but for its cricket: areas and lines as drawn (README).
  const Folder folder;
  const std::string plan = folder.file("plan.dxf");
  const std::string made = folder.file("made.roof.json");
  REQUIRE(run_program({"export", demo_house("sorrel-lane"), "-o", plan}).status == 0);
  const Ran ran = run_program({"import", plan, "-o", made, "--option", "from=outlines"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(has(ran.err, "its unit is in"));
  CHECK(has(ran.err, "the overhangs of 6 edges and the pitches of 5 eaves"));
  const auto before = lengths_of(demo_house("sorrel-lane"));
  auto after = lengths_of(made);
  for (const char* kind : {"eave", "rake", "hip"}) {
    CHECK(after[kind] == Approx(before.at(kind)).margin(0.001));
  }
  // Options that are given win.
  REQUIRE(run_program({"import", plan, "-o", made, "--option", "overhang=2 ft", "--option",
                       "pitch=6/12", "--option", "plate=9 ft"})
              .status == 0);
  const Json part = Json::parse(bytes_of(made))["parts"][0];
  CHECK(part["plate"].get<double>() == Approx(9 * 12));
  for (const Json& edge : part["edges"]) {
    CHECK(edge["overhang"].get<double>() == Approx(24));
    CHECK((edge["kind"] == "gable" || edge["pitch"] == "6/12"));
  }
}

TEST_CASE("calls that want a model say how a file for an importer becomes one") {
  const Folder folder;
  const std::string plan = RIDGEWARD_SOURCE_DIR "/importers/tape/samples/ell.csv";
  const std::string houses = RIDGEWARD_SOURCE_DIR "/importers/geojson/samples/two-houses.geojson";
  const std::vector<std::vector<std::string>> calls{
      {"assess", plan},
      {"picture", houses, "-o", folder.file("x.png")},
      {"view", plan},
      {"place", houses, "-o", folder.file("x.roof.json")}};
  for (const std::vector<std::string>& words : calls) {
    const Ran ran = run_program(words);
    CAPTURE(words[0], ran.err);
    CHECK(ran.status == 2);
    CHECK(has(ran.err, "no model file"));
    CHECK(has(ran.err, "ridgeward import " + words[1] + " -o "));
    CHECK_FALSE(has(ran.err, "comma"));
  }
  // The command line is one to copy, whatever the file is called; and it works.
  const std::string odd = folder.file("it's a plan.csv");
  fs::copy_file(plan, odd);
  const Ran ran = run_program({"assess", odd});
  const std::size_t at = ran.err.find("ridgeward import ");
  INFO(ran.err);
  REQUIRE(at != std::string::npos);
  const std::string line = ran.err.substr(at + 9, ran.err.find('\n', at) - at - 9);
  const std::string call = "cd '" + folder.file("") + "' && '" + RIDGEWARD_BUILD_DIR "/ridgeward'" +
                           line + " 2> /dev/null";
  CHECK(std::system(call.c_str()) == 0);
  CHECK(fs::exists(folder.file("it's a plan.roof.json")));
  // A model with a slip stays a model with a slip.
  const std::string slip = folder.write("slip.roof.json", "{\"ridgeward\": 1,, \"parts\": []}");
  CHECK(has(run_program({"assess", slip}).err, "comma"));
  CHECK_FALSE(has(run_program({"assess", folder.write("empty.json", "")}).err, "import"));
}

TEST_CASE("what can't be imported at all is refused at once") {
  const Folder folder;
  const std::string made = folder.file("made.jsonl");
  // 65 MiB of nothing; only importers that part the buildings take as much.
  for (const auto& [name, cure] :
       {std::pair("big.dxf", "as a whole"), std::pair("big.csv", "as a whole")}) {
    const std::string big = folder.write(name, "0");
    fs::resize_file(big, std::uintmax_t{65} << 20U);
    for (const bool each : {false, true}) {
      std::vector<std::string> words{"import", big, "-o", each ? made : folder.file("made.json")};
      if (each) {
        words.emplace_back("--each");
      }
      const Ran ran = run_program(words);
      CAPTURE(name, ran.err);
      CHECK(ran.status == 2);
      CHECK(has(ran.err, "larger than 64 MiB"));
      CHECK(has(ran.err, cure));
      CHECK_FALSE(has(ran.err, "one by one with --each"));
    }
  }
  const std::string city = folder.write("big.gml", "<?xml version=\"1.0\"?><CityModel>");
  fs::resize_file(city, std::uintmax_t{65} << 20U);
  CHECK(has(run_program({"import", city, "-o", folder.file("made.json")}).err,
            "one by one with --each"));
  const std::string pipe = folder.file("pipe.dxf");
  REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
  const int held = open(pipe.c_str(), O_RDWR | O_CLOEXEC);  // whoever opens it then never waits
  const Ran piped = run_program({"import", pipe, "-o", folder.file("made.json")});
  close(held);
  CHECK(piped.status == 2);
  CHECK(has(piped.err, "is a pipe"));
  const std::string houses = RIDGEWARD_SOURCE_DIR "/importers/geojson/samples/two-houses.geojson";
  const Ran jobs = run_program({"import", houses, "-o", folder.file("x.json"), "--jobs", "2"});
  CHECK(jobs.status != 0);
  CHECK(has(jobs.err, "--each"));
  CHECK_FALSE(fs::exists(folder.file("x.json")));
  CHECK(has(run_program({"import", houses, "-o", made, "--each", "--jobs", "2"}).err,
            "1 model written: 1 whole, 0 with plain planes; 0 buildings left out"));
}
