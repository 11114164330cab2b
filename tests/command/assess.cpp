// `ridgeward assess` as a user runs it: status, summary, JSON.
#include "units/area.hpp"
#include "units/length.hpp"

#include "support/json_schema.hpp"
#include "support/plans.hpp"
#include "support/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <regex>

using namespace ridgeward;
using namespace ridgeward::support;
using Json = nlohmann::json;

namespace {

/// All of them, or as many as cases are run, from first to last.
std::vector<std::string> demo_houses() {
  std::vector<std::string> all;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses")) {
    all.push_back(entry.path().string());
  }
  std::sort(all.begin(), all.end());
  const std::size_t most = cases_or(all.size());
  std::vector<std::string> some;
  for (std::size_t i = 0; i < std::min(most, all.size()); ++i) {
    some.push_back(all[most < all.size() ? i * all.size() / most : i]);
  }
  return some;
}

/// The one line that opens with `start`.
std::string line_with(const std::string& text, const std::string& start) {
  for (const std::string& line : lines_of(text)) {
    if (line.rfind(start, 0) == 0) {
      return line;
    }
  }
  FAIL("no line opens with \"" << start << "\"");
  return {};
}

Json json_of(const std::string& house, const std::vector<std::string>& options = {}) {
  std::vector<std::string> words{"assess", house, "--json", "-"};
  words.insert(words.end(), options.begin(), options.end());
  const Ran ran = run_program(words);
  REQUIRE_FALSE(ran.is_late);
  return Json::parse(ran.out);
}

Json schema(const std::string& format) {
  const Ran ran = run_program({"schema", format});
  REQUIRE(ran.status == 0);
  return Json::parse(ran.out);
}

/// The row of figures under "eave" in the table of planes, by plane; the cell ends where its head
/// ends, for figures stand right.
std::map<std::string, std::string> eaves_in(const std::string& summary) {
  std::map<std::string, std::string> eaves;
  std::size_t begin = 0;
  std::size_t end = 0;
  for (const std::string& line : lines_of(summary)) {
    if (line.rfind("  plane ", 0) == 0) {
      end = line.find(" eave") + 5;
      begin = line.find(" area") + 5;
    } else if (end > 0 && line.size() >= end) {
      std::string cell = line.substr(begin, end - begin);
      cell.erase(0, cell.find_first_not_of(' '));
      eaves[line.substr(2, line.find(' ', 2) - 2)] = cell;
      if (line.rfind("  all ", 0) == 0) {
        break;
      }
    }
  }
  return eaves;
}

constexpr double eighth_m = 0.125 * units::inch_m;

}  // namespace

TEST_CASE("every demo house is assessed, and nothing is at fault in it") {
  const std::vector<std::string> houses = demo_houses();
  REQUIRE_FALSE(houses.empty());
  for (const std::string& house : houses) {
    for (const std::string units : {"", "ft-in", "metric"}) {
      INFO(house << " " << units);
      std::vector<std::string> words{"assess", house};
      if (!units.empty()) {
        words.insert(words.end(), {"--units", units});
      }
      const Ran ran = run_program(words);
      CHECK(ran.status == 0);
      CHECK(ran.err.empty());
      for (const std::string& line : lines_of(ran.out)) {
        CAPTURE(line);
        CHECK(line.size() <= 80);  // where no terminal says how wide it is
        CHECK((line.empty() || line.back() != ' '));
      }
      CHECK(has(ran.out, units == "metric" ? " m2" : units.empty() ? "area" : " ft2"));
    }
  }
}

TEST_CASE("findings speak in the units that are asked for, whatever the model is drawn in") {
  const std::regex metric("[0-9] (m|mm|cm2|deg)( |$|[,.])");
  const std::regex feet(R"re([0-9]["']|[0-9] in2|[0-9]/12)re");
  for (const std::string units : {"ft-in", "metric"}) {
    const Json found = json_of(demo_house("quarry-rise"), {"--units", units});
    std::size_t measured = 0;
    for (const Json& one : found["conflicts"]) {
      for (const char* field : {"measured", "needed", "message", "remedy"}) {
        const std::string words = one[field].is_null() ? "" : std::string(one[field]);
        CAPTURE(units, words);
        CHECK_FALSE(std::regex_search(words, units == "metric" ? feet : metric));
        measured += std::regex_search(words, units == "metric" ? metric : feet) ? 1U : 0U;
      }
    }
    CHECK(measured > 4);
  }
}

TEST_CASE("the summary names every eave with its length, in feet and in metres") {
  for (const std::string& house : demo_houses()) {
    const Json found = json_of(house);
    for (const std::string units : {"ft-in", "metric"}) {
      const auto eaves = eaves_in(run_program({"assess", house, "--units", units}).out);
      CHECK(eaves.size() == found["planes"].size() + 1);
      for (const Json& plane : found["planes"]) {
        const std::string id = plane["id"];
        INFO(house << " " << units << " " << id);
        REQUIRE(eaves.count(id) == 1);
        const double length_m = plane["eave_m"];
        if (length_m == 0) {
          CHECK(eaves.at(id) == "-");
          continue;
        }
        const auto shown_m = units::parse_length(eaves.at(id), units::LengthUnit::m);
        REQUIRE(shown_m.has_value());
        CHECK(std::abs(*shown_m - length_m) <= (units == "metric" ? 0.00051 : eighth_m / 2 + 1e-9));
      }
    }
  }
}

TEST_CASE("the summary names every slot, exhaust and compartment with its free area") {
  for (const std::string& house : demo_houses()) {
    const Json found = json_of(house);
    for (const std::string units : {"ft-in", "metric"}) {
      INFO(house << " " << units);
      const auto style = units == "metric" ? units::Style::metric : units::Style::feet_inches;
      const std::string text = run_program({"assess", house, "--units", units}).out;
      REQUIRE_FALSE(found["slots"].empty());
      for (const char* list : {"slots", "exhausts"}) {
        for (const Json& vent : found[list]) {
          const std::string line = line_with(text, "  " + vent["id"].get<std::string>() + " ");
          CHECK(has(line, units::show_free_area(vent["free_area_m2"], style)));
        }
      }
      for (const Json& slot : found["slots"]) {
        CHECK(has(text, "opens onto " + std::to_string(slot["bays"].size()) + " bays"));
        const std::string first = slot["bays"][0]["bay"];
        CHECK(has(text, first.substr(first.rfind('/') + 1)));
      }
      std::size_t told = 0;
      for (const Json& space : found["compartments"]) {
        if (!has(text, "\n  " + space["id"].get<std::string>() + ": ")) {
          continue;
        }
        ++told;
        const std::string line = line_with(text, "  " + space["id"].get<std::string>() + ": ");
        CHECK(has(line, units::show_free_area(space["required_m2"], style)));
        CHECK(has(text, units::show_free_area(space["intake_m2"], style)));
        CHECK(has(text, units::show_free_area(space["exhaust_m2"], style)));
      }
      // Rafter spaces that are alike are told together: "22 rafter spaces under ...".
      for (const std::string& line : lines_of(text)) {
        if (line.find(" rafter spaces under ") != std::string::npos && line.rfind("  ", 0) == 0 &&
            line[2] != ' ') {
          told += std::stoul(line);
        }
      }
      CHECK(told == found["compartments"].size());
    }
  }
}

TEST_CASE("the summary fits the terminal that it stands on, from 60 to 100 columns") {
  const Folder folder;
  const std::string house = demo_house("sorrel-lane");
  const auto words_in = [](const std::string& text) {
    std::string words;
    std::copy_if(text.begin(), text.end(), std::back_inserter(words),
                 [](char c) { return c != ' ' && c != '\n' && c != '#'; });
    return words;
  };
  struct Terminal {
    int columns;
    std::size_t used;
  };
  for (const Terminal& t : {Terminal{40, 60}, {60, 60}, {73, 73}, {100, 100}, {220, 100}}) {
    CAPTURE(t.columns);
    const std::string file = folder.file("shown");
    const std::string call = "script -qec 'stty cols " + std::to_string(t.columns) + "; " +
                             RIDGEWARD_EXECUTABLE + " assess " + house +
                             "' /dev/null </dev/null >" + file;
    REQUIRE(std::system(call.c_str()) == 0);
    std::string text = bytes_of(file);
    std::erase(text, '\r');
    std::size_t widest = 0;
    for (const std::string& line : lines_of(text)) {
      widest = std::max(widest, line.size());
    }
    CHECK(widest <= t.used);
    CHECK(widest > t.used - 3);  // the room is used
    // Only the breaks differ, and tables that go on below themselves: the sentences are the same.
    const std::string all = words_in(run_program({"assess", house}).out);
    const std::string found = all.substr(all.find("FOUND"));
    CHECK(words_in(text.substr(text.find("\nFOUND"))) == found);
  }
}

TEST_CASE("no measure is broken over two lines") {
  for (const std::string& house : demo_houses()) {
    for (const std::string units : {"ft-in", "metric"}) {
      for (const std::string& line :
           lines_of(run_program({"assess", house, "--units", units}).out)) {
        CAPTURE(house, line);
        const std::string start = line.substr(std::min(line.find_first_not_of(' '), line.size()));
        for (const char* unit : {"mm ", "mm,", "m ", "in2 ", "in2,", "cm2 ", "1/2\"", "1/4\""}) {
          CHECK(start.rfind(unit, 0) != 0);
        }
      }
    }
  }
}

TEST_CASE("the JSON has every key from the start and is what its schema says, no key more") {
  SchemaJudge judge(schema("assessment"));
  for (const std::string& house : demo_houses()) {
    INFO(house);
    const Json found = json_of(house);
    for (const char* key :
         {"ridgeward", "model", "code", "planes", "lines", "members", "bays", "slots", "exhausts",
          "compartments", "conflicts", "airflow", "takeoff", "totals", "assumptions", "cautions"}) {
      CHECK(found.contains(key));
    }
    CHECK(judge.complaints(found).empty());
    for (const std::string& complaint : judge.complaints(found)) {
      UNSCOPED_INFO(complaint);
    }
  }
}

TEST_CASE("the judge of schemas sees what is wrong") {
  SchemaJudge judge(schema("assessment"));
  Json found = json_of(demo_house("plain-gable"));
  REQUIRE(judge.complaints(found).empty());
  SECTION("a key too many") { found["planes"][0]["colour"] = "red"; }
  SECTION("a key too few") { found["slots"][0].erase("width_m"); }
  SECTION("another type") { found["bays"][0]["live"] = "yes"; }
  SECTION("an unknown word") { found["lines"][0]["kind"] = "gutter"; }
  SECTION("another version") { found["ridgeward"] = 2; }
  SECTION("a point of two numbers") { found["lines"][0]["from"].erase(0); }
  CHECK(judge.complaints(found).size() == 1);
}

TEST_CASE("to a file the JSON is the same as to standard output, beside the summary") {
  const Folder folder;
  const std::string house = demo_house("sorrel-lane");
  const std::string file = folder.file("found.json");
  const Ran ran = run_program({"assess", house, "--json", file});
  CHECK(ran.status == 0);
  CHECK(ran.out == run_program({"assess", house}).out);
  CHECK(bytes_of(file) == run_program({"assess", house, "--json", "-"}).out);
  CHECK(folder.names() == std::vector<std::string>{"found.json"});
  // An older file gives way to the new one.
  folder.write("found.json", "old");
  CHECK(run_program({"assess", house, "--json", file}).status == 0);
  CHECK(Json::parse(bytes_of(file))["ridgeward"] == 1);
  CHECK(folder.names() == std::vector<std::string>{"found.json"});
}

TEST_CASE("the model in the answer is a model that gives the same answer") {
  for (const std::string& house : demo_houses()) {
    INFO(house);
    const Folder folder;
    const Json found = json_of(house);
    const Json again = json_of(folder.write("again.roof.json", found["model"].dump()));
    for (const char* key : {"planes", "lines", "members", "bays", "slots", "exhausts",
                            "compartments", "conflicts", "totals"}) {
      CHECK(found[key] == again[key]);
    }
  }
}

TEST_CASE("a house that fails its code gives status 1 and says what fails") {
  const Folder folder;
  Json model = Json::parse(bytes_of(demo_house("sorrel-lane")));
  model.erase("vents");
  const std::string house = folder.write("no-vents.roof.json", model.dump());
  const Ran ran = run_program({"assess", house});
  CHECK(ran.status == 1);
  CHECK(has(ran.out, "FAILS"));
  CHECK(has(ran.out, "LESS than required"));
  const Json found = json_of(house);
  bool fails = false;
  for (const Json& test : found["compartments"][0]["tests"]) {
    fails = fails ||
            (test["holds"] == false && test["is_advice"] == false && test["is_condition"] == false);
  }
  CHECK(fails);
  CHECK(found["compartments"][0]["intake_m2"] == 0);
  CHECK(SchemaJudge(schema("assessment")).complaints(found).empty());
}

TEST_CASE("a model of walls and pitches alone is assessed as far as it goes") {
  const Folder folder;
  const std::string house = folder.write("bare.roof.json", R"json({"ridgeward": 1, "parts": [
    {"outline": [[0, 0], [40, 0], [40, 28], [0, 28]],
     "edges": [{"pitch": "8/12"}, {"pitch": "8/12"}, {"pitch": "8/12"}, {"pitch": "8/12"}]}]})json");
  const Ran ran = run_program({"assess", house});
  CHECK(ran.status == 1);
  CHECK(has(ran.out, "ASSUMED"));
  const Json found = json_of(house);
  CHECK(found["planes"].size() == 4);
  CHECK(found["compartments"].size() == 1);
  CHECK_FALSE(found["bays"].empty());
  CHECK_FALSE(found["assumptions"].empty());
}

TEST_CASE("another code set is taken by its name or from a file") {
  const std::string house = demo_house("plain-gable");
  CHECK(json_of(house)["code"] == "us-irc-2021");
  const Ran by_name = run_program({"assess", house, "--json", "-", "--code", "us-irc-2009"});
  CHECK(Json::parse(by_name.out)["code"] == "us-irc-2009");
  const std::string file = std::string(RIDGEWARD_SOURCE_DIR) + "/models/codes/us-irc-2009.json";
  CHECK(run_program({"assess", house, "--json", "-", "--code", file}).out == by_name.out);
  const Ran unknown = run_program({"assess", house, "--code", "us-irc-1066"});
  CHECK(unknown.status == 2);
  CHECK(has(unknown.err, "us-irc-2021"));
}

TEST_CASE("what is unknown in a catalogue or a code set is warned of, by its own file's name") {
  const Folder folder;
  const std::string models = std::string(RIDGEWARD_SOURCE_DIR) + "/models";
  Json catalogue = Json::parse(bytes_of(models + "/catalogues/default.json"));
  catalogue["prodcts"] = 1;
  Json code = Json::parse(bytes_of(models + "/codes/us-irc-2021.json"));
  code["editon"] = 1;
  const std::string products = folder.write("mine.json", catalogue.dump());
  const std::string rules = folder.write("county.json", code.dump());
  const Ran ran =
      run_program({"assess", demo_house("sorrel-lane"), "--catalogue", products, "--code", rules});
  CHECK(ran.status == 0);
  CHECK(has(ran.err, products + " at /prodcts: "));
  CHECK(has(ran.err, "\"products\""));
  CHECK(has(ran.err, rules + " at /editon: "));
  CHECK(has(ran.err, "\"edition\""));
  for (const std::string& line : lines_of(ran.err)) {
    CHECK((line.rfind("ridgeward: warning: ", 0) == 0 || line.rfind("  cure: ", 0) == 0));
  }
}

#ifdef RIDGEWARD_HAS_SOLID

TEST_CASE("assess writes the report for browsers as one file") {
  const Folder folder;
  const std::string house = RIDGEWARD_SOURCE_DIR "/models/houses/plain-gable.roof.json";
  const std::string page = folder.file("report.html");
  const Ran ran = run_program({"assess", house, "--html", page});
  REQUIRE(ran.status == 0);
  CHECK(has(ran.out, "COMPARTMENTS"));
  CHECK(folder.names() == std::vector<std::string>{"report.html"});
  const std::string bytes = bytes_of(page);
  CHECK(bytes.substr(0, 15) == "<!DOCTYPE html>");
  CHECK(has(bytes, "12' "));
  const Ran out = run_program({"assess", house, "--html", "-"});
  CHECK(out.status == 0);
  CHECK(out.out == bytes);
  const Ran metric = run_program({"assess", house, "--html", "-", "--units", "metric"});
  CHECK(has(metric.out, " m2"));
  CHECK(!has(metric.out, " in2<"));
  CHECK(run_program({"assess", house, "--html", house}).status == 2);
}

#endif

TEST_CASE("assess writes the papers asked for, and the table for spreadsheets") {
  const Folder folder;
  const std::string house = RIDGEWARD_SOURCE_DIR "/models/houses/plain-gable.roof.json";
  const std::string pdf = folder.file("papers.pdf");
  const std::string csv = folder.file("takeoff.csv");
  REQUIRE(run_program({"assess", house, "--pdf", pdf, "--csv", csv}).status == 0);
  CHECK(bytes_of(pdf).substr(0, 5) == "%PDF-");
  CHECK(bytes_of(csv).substr(0, 13) == "record,plane,");
  const Ran lesson = run_program({"assess", house, "--pdf", "-", "--sheets", "lesson"});
  REQUIRE(lesson.status == 0);
  CHECK(lesson.out.substr(0, 5) == "%PDF-");
  CHECK(lesson.out.size() < bytes_of(pdf).size());
  CHECK(run_program({"assess", house, "--pdf", "-", "--sheets", "crew,inspector"}).status == 0);
  const Ran wrong = run_program({"assess", house, "--pdf", pdf, "--sheets", "plumber"});
  CHECK(wrong.status == 2);
  CHECK(wrong.err.find("crew") != std::string::npos);
  // A model is never replaced.
  CHECK(run_program({"assess", house, "--csv", house}).status == 2);
}

TEST_CASE("the README shows what the program prints, and each call once") {
  const std::string readme = bytes_of(RIDGEWARD_SOURCE_DIR "/README.md");
  const std::size_t start = readme.find("```\n14 Sorrel Lane") + 4;
  REQUIRE(start > 4);
  REQUIRE(start < readme.size());
  const std::string shown = readme.substr(start, readme.find("```", start) - start);
  const Ran ran = run_program({"assess", demo_house("sorrel-lane")});
  const std::vector<std::string> printed = lines_of(ran.out);
  for (const std::string& line : lines_of(shown)) {
    INFO(line);
    CHECK((line.empty() || std::find(printed.begin(), printed.end(), line) != printed.end()));
  }
  for (const char* call :
       {"assess", "view", "picture", "lesson", "export", "import", "place", "batch", "schema"}) {
    const std::string row = std::string("\n| `ridgeward ") + call;
    INFO(call);
    const std::size_t first = readme.find(row);
    REQUIRE(first != std::string::npos);
    CHECK(readme.find(row, first + 1) == std::string::npos);
  }
}
