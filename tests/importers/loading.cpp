// Finding and loading importers, good ones and wrong ones.
#include "plugin/find.hpp"
#include "plugin/guard.hpp"
#include "plugin/load.hpp"

#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>

using namespace ridgeward;
namespace fs = std::filesystem;

namespace {

const fs::path built = fs::path(RIDGEWARD_BUILD_DIR) / "importers";
const fs::path wrong = RIDGEWARD_TEST_PLUGINS;

std::string code_of(const fs::path& path) {
  const auto loaded = plugin::Importer::load(path.string());
  REQUIRE_FALSE(loaded.ok());
  CHECK_FALSE(loaded.faults().front().what.empty());
  CHECK_FALSE(loaded.faults().front().cure.empty());
  return loaded.faults().front().code;
}

/// A folder of its own that goes away again.
struct Folder {
  Folder() {
    std::string name = (fs::temp_directory_path() / "importers-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);  // tests run at the same time
    path = name;
  }
  ~Folder() { fs::remove_all(path); }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream(path / name) << text;
  }
  fs::path path;
};

}  // namespace

TEST_CASE("the built importer is found without loading it") {
  const plugin::FoundAll all = plugin::find({built.string()});
  CHECK(all.faults.empty());
  REQUIRE_FALSE(all.importers.empty());
  const auto at = std::find_if(all.importers.begin(), all.importers.end(),
                               [](const plugin::Found& f) { return f.name == "geojson"; });
  REQUIRE(at != all.importers.end());
  const plugin::Found& geojson = *at;
  REQUIRE(geojson.options.size() == 3);
  CHECK(geojson.options[0].key == "feature");
  CHECK(geojson.name == "geojson");
  CHECK(geojson.endings == std::vector<std::string>{".geojson", ".json"});
  CHECK(fs::exists(geojson.library));
}

TEST_CASE("what the description says is what the library says") {
  for (const plugin::Found& found : plugin::find({built.string()}).importers) {
    const auto loaded = plugin::Importer::load(found.library);
    INFO(found.name << tests::words(loaded));
    REQUIRE(loaded.ok());
    CHECK(loaded.value().name() == found.name);
    CHECK(loaded.value().what() == found.what);
  }
}

TEST_CASE("wrong libraries are refused, each with its reason") {
  CHECK(code_of(wrong / "wrong_version.so") == "importer.version");
  CHECK(code_of(wrong / "refuses.so") == "importer.version");
  CHECK(code_of(wrong / "no_symbol.so") == "importer.symbol");
  CHECK(code_of(wrong / "none.so") == "importer.missing");
  CHECK(code_of(wrong) == "importer.missing");
  CHECK(code_of("importers/geojson.so") == "importer.folder");
  CHECK(code_of("geojson.so") == "importer.folder");
  CHECK(code_of("") == "importer.folder");
  const Folder folder;
  folder.write("text.so", "this is no library");
  CHECK(code_of(folder.path / "text.so") == "importer.unloadable");
  folder.write("empty.so", "");
  CHECK(code_of(folder.path / "empty.so") == "importer.unloadable");
}

TEST_CASE("descriptions that describe nothing are told, the others serve") {
  const Folder folder;
  folder.write("bad.json", R"({"ridgeward_importer": 1, "name")");
  folder.write("outside.json", R"({"ridgeward_importer": 1, "name": "x", "library": "../x.so"})");
  folder.write("later.json", R"({"ridgeward_importer": 2, "name": "y", "library": "y.so"})");
  folder.write("list.json", R"(["ridgeward_importer"])");
  folder.write("stray.json", R"({"type": "FeatureCollection"})");
  folder.write("empty.json", "");
  folder.write("large.json", R"(["ridgeward_importer")" + std::string(100000, ' '));
  folder.write(
      "good.json",
      R"({"ridgeward_importer": 1, "name": "good", "endings": [".g"], "library": "g.so"})");
  folder.write("g.so", "not looked into before it is used");
  folder.write(
      "gone.json",
      R"({"ridgeward_importer": 1, "name": "gone", "endings": [".g"], "library": "gone.so"})");
  folder.write("note.txt", "no description");
  const plugin::FoundAll all = plugin::find({folder.path.string()});
  REQUIRE(all.importers.size() == 1);
  CHECK(all.importers[0].name == "good");
  CHECK(all.faults.size() == 5);
  for (const Fault& fault : all.faults) {
    const bool is_gone = fault.where == (folder.path / "gone.json").string();
    CHECK(fault.code == (is_gone ? "importer.missing" : "importer.description"));
    CHECK(fault.where.find(folder.path.string()) == 0);  // the file, then the place in it
  }
}

TEST_CASE("the first folder's importer counts, and no folder depends on where one stands") {
  const Folder folder;
  folder.write("g.json", R"({"ridgeward_importer": 1, "name": "geojson", "library": "mine.so"})");
  folder.write("mine.so", "");
  const plugin::FoundAll all = plugin::find({folder.path.string(), built.string()});
  REQUIRE(all.importers.size() == plugin::find({built.string()}).importers.size());
  CHECK(std::count_if(all.importers.begin(), all.importers.end(), [](const plugin::Found& f) {
          return f.name == "geojson" && fs::path(f.library).filename() == "mine.so";
        }) == 1);
  const fs::path before = fs::current_path();
  fs::current_path(built.parent_path());
  const plugin::FoundAll relative = plugin::find({"importers", "", "."});
  fs::current_path(before);
  CHECK(relative.importers.empty());
  CHECK(relative.faults.size() == 3);
  CHECK(plugin::find({(folder.path / "none").string()}).importers.empty());
  CHECK(plugin::folders_beside("ridgeward").empty());
  CHECK(plugin::folders_beside("/opt/r/bin/ridgeward") ==
        std::vector<std::string>{"/opt/r/bin/importers", "/opt/r/lib/ridgeward/importers"});
}

TEST_CASE("a careless importer does no harm") {
  const auto loaded = plugin::Importer::load((wrong / "odd.so").string());
  INFO(tests::words(loaded));
  REQUIRE(loaded.ok());
  const plugin::Importer& odd = loaded.value();
  CHECK(odd.sniff("x", "a.odd") == 100);
  CHECK(odd.sniff("", "a.odd") == 0);
  const auto echoed = odd.read("{}", "", "");
  REQUIRE(echoed.ok());
  CHECK(echoed.value().json == "{}");
  CHECK(echoed.value().notes == std::vector<std::string>{"gave back what it got"});
  const auto code = [&](const std::string& option) {
    const auto read = odd.read("{}", option, "");
    REQUIRE_FALSE(read.ok());
    CHECK(read.faults().size() <= 200);
    CHECK_FALSE(read.faults().front().what.empty());
    return read.faults().front().code;
  };
  CHECK(code("silent") == "import.nothing");
  CHECK(code("fails") == "import.failed");
  CHECK(code("nulls") == "import.failed");
  CHECK(code("floods") == "import.failed");
  CHECK(code("huge") == "too_large");
}

TEST_CASE("side files come from the folder of the input and from nowhere else") {
  const Folder folder;
  folder.write("side.txt", "beside");
  fs::create_directories(folder.path / "deeper");
  const auto loaded = plugin::Importer::load((wrong / "odd.so").string());
  REQUIRE(loaded.ok());
  const plugin::Importer& odd = loaded.value();
  const auto beside = odd.read("{}", "side=side.txt", folder.path.string());
  REQUIRE(beside.ok());
  CHECK(beside.value().json == "beside");
  const std::string outside = (folder.path / "side.txt").string();
  for (const std::string& name :
       {outside, std::string("deeper/../side.txt"), std::string(".."), std::string("."),
        std::string(""), std::string("deeper"), std::string("none.txt")}) {
    INFO(name);
    CHECK_FALSE(odd.read("{}", "side=" + name, folder.path.string()).ok());
  }
  CHECK_FALSE(odd.read("{}", "side=side.txt", "").ok());
}

TEST_CASE("what an importer does in its own process can't harm the host") {
  const std::string hostile = (wrong / "hostile.so").string();
  const plugin::Limits tight{
      .wall_s = 20.0, .cpu_s = 20.0, .memory_bytes = std::size_t{128} << 20U};
  const auto code = [&](const std::string& option, const plugin::Limits& limits) {
    const auto read = plugin::read_apart(hostile, {"{}", option, ""}, limits);
    INFO(option);
    REQUIRE_FALSE(read.ok());
    CHECK(read.faults().front().what.find("hostile.so") != std::string::npos);
    CHECK_FALSE(read.faults().front().cure.empty());
    return read.faults().front().code + ": " + read.faults().front().what;
  };
  using Catch::Contains;
  CHECK_THAT(code("crash", tight), Contains("importer.crashed") && Contains("Segmentation fault") &&
                                       Contains("most likely the file is damaged or cut short"));
  CHECK_THAT(code("exit", tight), Contains("importer.garbled"));
  CHECK_THAT(code("garbage", tight), Contains("importer.garbled"));
  CHECK_THAT(code("memory", tight), Contains("importer.memory") && Contains("128 MiB"));
  CHECK_THAT(code("hang", {.wall_s = 0.2}), Contains("importer.hung") && Contains("0.2 s"));
  CHECK_THAT(code("hang", {.wall_s = 20.0, .cpu_s = 1.0}), Contains("importer.hung"));
  CHECK_THAT(code("deaf", {.wall_s = 20.0, .cpu_s = 1.0}), Contains("importer.hung"));
  // The host goes on, and a well-behaved answer comes through whole, whatever is printed.
  const auto large =
      plugin::read_apart(hostile, {std::string(5'000'000, 'x'), "chatter", ""}, tight);
  REQUIRE(large.ok());
  CHECK(large.value().json == std::string(5'000'000, 'x'));
}

TEST_CASE("an importer changes no file and reaches no other process") {
  const std::string hostile = (wrong / "hostile.so").string();
  const Folder folder;
  const fs::path victim = folder.path / "victim.txt";
  folder.write("victim.txt", "whole");
  for (const char* how : {"write", "overwrite", "remove", "move", "signal", "start", "reach"}) {
    INFO(how);
    const auto read =
        plugin::read_apart(hostile, {"{}", std::string("harm=") + how + "," + victim.string(), ""});
    INFO(tests::words(read));
    CHECK(read.ok());  // it tells when it got away with it
    std::string left;
    std::ifstream(victim) >> left;
    CHECK(left == "whole");
    CHECK(std::distance(fs::directory_iterator(folder.path), {}) == 1);
  }
}

TEST_CASE("what an importer tells can't pass for the program's own words") {
  const auto read = plugin::read_apart((wrong / "hostile.so").string(), {"{}", "notes", ""});
  REQUIRE(read.ok());
  const std::vector<std::string>& notes = read.value().notes;
  CHECK(notes.front() == "?? red  [31m bell   next  line note: forged   m");
  CHECK(notes.size() == 201);
  CHECK(notes.back() == "101 more notes of the importer are left out");
}

TEST_CASE("progress comes through whatever an importer says, and stopping ends it") {
  const std::string hostile = (wrong / "hostile.so").string();
  std::vector<double> told;
  plugin::Job job{"{}", "shares", "", [&](double share) {
                    told.push_back(share);
                    return true;
                  }};
  REQUIRE(plugin::read_apart(hostile, job).ok());
  REQUIRE(told.size() == 51);  // from half on, each hundredth once
  for (std::size_t i = 0; i < told.size(); ++i) {
    CHECK(told[i] == Approx(0.5 + 0.01 * static_cast<double>(i)));
  }
  job.go_on = [](double share) { return share < 0.7; };
  const auto stopped = plugin::read_apart(hostile, job);
  REQUIRE_FALSE(stopped.ok());
  CHECK(stopped.faults().front().code == "importer.stopped");
  const auto each =
      plugin::read_each_apart(hostile, job, {}, [](const std::string&) { return true; });
  REQUIRE_FALSE(each.ok());
  CHECK(each.faults().front().code == "importer.stopped");
}

TEST_CASE("loading and sniffing happen in a process of their own too") {
  const auto code = [](const fs::path& path, const char* file) {
    const auto sure = plugin::sniff_apart(path.string(), "{}", file);
    REQUIRE_FALSE(sure.ok());
    return sure.faults().front().code;
  };
  CHECK(code(wrong / "deadly" / "dies_on_load.so", "a") == "importer.crashed");
  CHECK(code(wrong / "hostile.so", "crash.hostile") == "importer.crashed");
  CHECK(code(wrong / "wrong_version.so", "a") == "importer.version");
  CHECK(code(wrong / "no_symbol.so", "a") == "importer.symbol");
  CHECK(code(wrong / "none.so", "a") == "importer.missing");
  const auto sure = plugin::sniff_apart((wrong / "hostile.so").string(), "{}", "calm.hostile");
  REQUIRE(sure.ok());
  CHECK(sure.value() == 60);
}
