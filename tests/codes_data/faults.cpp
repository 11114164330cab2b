// Catalogues and code sets that can't be used.
#include "codes/code_set.hpp"
#include "model/catalogue.hpp"
#include "model/file_bytes.hpp"

#include "support/seed.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

using namespace ridgeward;
using nlohmann::json;

namespace {

const std::filesystem::path models = std::filesystem::path(RIDGEWARD_SOURCE_DIR) / "models";

constexpr const char* small_catalogue = R"json({"ridgeward": 1, "name": "two", "units": "in",
  "products": [
    {"id": "deck", "what": "intake", "kind": "over_deck_intake", "free_area_per_length": "10 in2/ft",
     "length": 48, "depth": 14, "pitch_min": "2/12", "pitch_max": "20/12", "positions": ["eave"],
     "slot": {"lower_line": 6.5, "width": 1.5, "hold_back": 6}, "least_piece": 6, "nails_each": 16},
    {"id": "box", "kind": "box_vent", "free_area_each": "50 in2"}]})json";

constexpr const char* small_code = R"json({"ridgeward": 1, "id": "home", "name": "Home rule",
  "required": {"ratio": 150, "section": "1", "words": "one"},
  "reduced": {"ratio": 300, "section": "2", "words": "two", "needs": "any", "conditions": [
    {"id": "high", "section": "2", "words": "high", "measure": "high_share_of_required",
     "least": "40 %", "most": 0.5}]},
  "rules": [{"id": "gap", "section": "3", "words": "gap", "measure": "space_over_insulation",
             "least": "1 in", "from_memory": true},
            {"id": "slope", "section": "4", "words": "slope", "measure": "lowest_slope",
             "least": "1:6", "is_advice": true}],
  "notes": ["note"]})json";

struct Case {
  const char* pointer;
  const char* value;
  const char* code;
  const char* where;
};

std::string changed(const char* base, const Case& test) {
  json data = json::parse(base);
  const json::json_pointer at(test.pointer);
  if (std::string(test.value) == "-") {
    data.at(at.parent_pointer()).erase(at.back());
  } else {
    data[at] = json::parse(test.value);
  }
  return data.dump();
}

template <class T>
void check(const Result<T>& read, const Case& test) {
  INFO(test.pointer << " := " << test.value << tests::words(read));
  REQUIRE_FALSE(read.ok());
  const Faults& faults = read.faults();
  CHECK(std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
    return fault.code == test.code && fault.where == test.where;
  }));
}

}  // namespace

TEST_CASE("a small catalogue is read, with defaults where it is silent") {
  const auto read = model::read_catalogue(small_catalogue);
  INFO(tests::words(read));
  REQUIRE(read.ok());
  CHECK(read.value().warnings.empty());
  const model::Product& deck = read.value().products.at("deck");
  CHECK(deck.slot.hold_back_hip_m == deck.slot.hold_back_m);
  CHECK(deck.positions == std::vector<model::Position>{model::Position::eave});
  CHECK(deck.nails_each == 16);
  const model::Product& box = read.value().products.at("box");
  CHECK(box.pitch_min.tangent() == 0.0);
  CHECK(box.pitch_max.tangent() > 50.0);
  CHECK(std::string(model::word(box.kind)) == "box_vent");
  CHECK_FALSE(model::is_intake(box.kind));
}

TEST_CASE("faults of catalogues") {
  for (const Case& test : std::vector<Case>{
           {"/ridgeward", "-", "version.missing", "/ridgeward"},
           {"/products", "-", "field.missing", "/products"},
           {"/products/0/id", "-", "field.missing", "/products/0/id"},
           {"/products/1/id", "\"deck\"", "id.twice", "/products/1/id"},
           {"/products/0/kind", "-", "field.missing", "/products/0/kind"},
           {"/products/0/kind", "\"ridge\"", "field.unknown_word", "/products/0/kind"},
           {"/products/0/free_area_per_length", "-", "field.missing",
            "/products/0/free_area_per_length"},
           {"/products/0/free_area_per_length", "10", "field.type",
            "/products/0/free_area_per_length"},
           {"/products/0/free_area_per_length", "\"10 in2\"", "field.type",
            "/products/0/free_area_per_length"},
           {"/products/0/free_area_per_length", "\"0 in2/ft\"", "field.range",
            "/products/0/free_area_per_length"},
           {"/products/1/free_area_each", "-", "field.missing", "/products/1/free_area_each"},
           {"/products/0/length", "-", "field.missing", "/products/0/length"},
           {"/products/0/length", "0", "field.range", "/products/0/length"},
           {"/products/0/slot", "-", "field.missing", "/products/0/slot"},
           {"/products/0/slot/width", "-", "field.missing", "/products/0/slot/width"},
           {"/products/0/slot/lower_line", "-", "field.missing", "/products/0/slot/lower_line"},
           {"/products/0/pitch_max", "\"1/12\"", "field.range", "/products/0/pitch_max"},
           {"/products/0/positions", "[\"roof\"]", "field.unknown_word", "/products/0/positions/0"},
           {"/products/0/nails_each", "2.5", "field.range", "/products/0/nails_each"}}) {
    check(model::read_catalogue(changed(small_catalogue, test)), test);
  }
}

TEST_CASE("misspelt keys of a catalogue are warned about") {
  const auto read =
      model::read_catalogue(changed(small_catalogue, {"/products/0/slot/hold_bak", "6", "", ""}));
  REQUIRE(read.ok());
  REQUIRE(read.value().warnings.size() == 1);
  CHECK(read.value().warnings[0].cure == "did you mean \"hold_back\"?");
}

TEST_CASE("a small code set is read") {
  const auto read = codes::read_code_set(small_code);
  INFO(tests::words(read));
  REQUIRE(read.ok());
  const codes::CodeSet& code = read.value();
  CHECK(code.warnings.empty());
  CHECK_FALSE(code.reduced_needs_all);
  CHECK(code.conditions.at(0).bounds.least == Approx(0.4));
  CHECK(code.rules.at(0).bounds.least == 0.0254);
  CHECK(code.rules[0].from_memory);
  CHECK_FALSE(code.rules[0].bounds.most.has_value());
  CHECK(code.rules.at(1).is_advice);
  // Without a reduced ratio there is none.
  const auto plain = codes::read_code_set(changed(small_code, {"/reduced", "-", "", ""}));
  REQUIRE(plain.ok());
  CHECK(plain.value().reduced_ratio == 0.0);
}

TEST_CASE("faults of code sets") {
  for (const Case& test : std::vector<Case>{
           {"/id", "-", "field.missing", "/id"},
           {"/name", "-", "field.missing", "/name"},
           {"/required", "-", "field.missing", "/required"},
           {"/required/ratio", "0", "field.range", "/required/ratio"},
           {"/required/section", "-", "field.missing", "/required/section"},
           {"/reduced/ratio", "100", "field.range", "/reduced/ratio"},
           {"/reduced/needs", "\"some\"", "field.unknown_word", "/reduced/needs"},
           {"/reduced/conditions", "-", "field.missing", "/reduced/conditions"},
           {"/rules/0/id", "\"high\"", "id.twice", "/rules/0/id"},
           {"/rules/0/measure", "\"space\"", "field.unknown_word", "/rules/0/measure"},
           {"/rules/0/least", "-", "field.missing", "/rules/0"},
           {"/rules/0/least", "\"40 %\"", "length.unreadable", "/rules/0/least"},
           {"/rules/1/least", "0.2", "pitch.unreadable", "/rules/1/least"},
           {"/reduced/conditions/0/least", "\"60 %\"", "field.range", "/reduced/conditions/0/most"},
           {"/reduced/conditions/0/least", "\"3 ft\"", "field.type", "/reduced/conditions/0/least"},
           {"/notes", "[1]", "field.type", "/notes/0"}}) {
    check(codes::read_code_set(changed(small_code, test)), test);
  }
}

TEST_CASE("damaged data files give data or faults") {
  std::mt19937_64 random(tests::seed());
  const auto below = [&](std::size_t n) {
    return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
  };
  const std::vector<std::string> whole{
      model::file_bytes((models / "catalogues" / "default.json").string()).value(),
      model::file_bytes((models / "codes" / "us-irc-2021.json").string()).value()};
  for (int i = 0; i < 2000; ++i) {
    std::string text = whole[below(2)];
    for (std::size_t n = 1 + below(6); n > 0; --n) {
      const std::size_t at = below(text.size());
      if (below(2) == 0) {
        text[at] = "0159[]{},:\"-x "[below(14)];
      } else {
        text.erase(at, 1 + below(6));
      }
    }
    const auto catalogue = model::read_catalogue(text);
    REQUIRE((catalogue.ok() || !catalogue.faults().front().what.empty()));
    const auto code = codes::read_code_set(text);
    REQUIRE((code.ok() || !code.faults().front().what.empty()));
  }
  CHECK(model::read_catalogue_file((models / "codes").string()).faults().front().code ==
        "file.folder");
  CHECK(codes::read_code_set_file((models / "none.json").string()).faults().front().code ==
        "file.missing");
}
