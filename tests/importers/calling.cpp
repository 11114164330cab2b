// The calls `import` and `importers` as a user runs them, with importers of the user's own.
#include "importers/imported.hpp"
#include "support/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <filesystem>
#include <string>

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
