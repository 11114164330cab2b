// Laws of reading and writing, on every demo house, on damaged ones, on the schemas.
#include "codes/code_set.hpp"
#include "codes/keys.hpp"
#include "model/catalogue.hpp"
#include "model/file_bytes.hpp"
#include "model/keys.hpp"
#include "model/outline_check.hpp"
#include "model/read.hpp"

#include "support/full_model.hpp"
#include "support/plans.hpp"
#include "support/same_model.hpp"
#include "support/seed.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <random>
#include <set>
#include <string>

using namespace ridgeward;
using nlohmann::json;

namespace {

std::vector<std::string> sample_texts() {
  std::vector<std::string> texts{tests::full_model};
  const auto houses = std::filesystem::path(RIDGEWARD_SOURCE_DIR) / "models" / "houses";
  for (const auto& entry : std::filesystem::directory_iterator(houses)) {
    texts.push_back(model::file_bytes(entry.path().string()).value());
  }
  return texts;
}

/// What model::read promises of every model.
void check_laws(const model::RoofModel& roof) {
  REQUIRE_FALSE(roof.parts.empty());
  for (const model::Part& part : roof.parts) {
    REQUIRE(part.edges.size() == part.outline.size());
    REQUIRE(model::check_simple({part.outline, ""}).empty());
    REQUIRE(model::is_counter_clockwise(part.outline));
    bool bears = false;
    for (std::size_t i = 0; i < part.edge_count(); ++i) {
      const model::Edge& edge = part.edge(i);
      bears = bears || model::bears_plane(edge.kind);
      if (model::bears_plane(edge.kind)) {
        REQUIRE(edge.pitch.tangent() > 0.0);
      }
      REQUIRE(edge.overhang_m >= 0.0);
    }
    REQUIRE(bears);
    for (const glm::dvec2 corner : part.outline) {
      REQUIRE(units::on_grid(corner.x) == corner.x);
      REQUIRE(units::on_grid(corner.y) == corner.y);
      REQUIRE(std::abs(corner.x) <= 10000.0);
    }
    for (const model::Hole& hole : part.holes) {
      REQUIRE(hole.edges.size() == hole.outline.size());
      REQUIRE_FALSE(model::is_counter_clockwise(hole.outline));
    }
  }
}

/// Whether the text was read.
bool check_any(const std::string& text) {
  const auto read = model::read(text);
  if (read.ok()) {
    check_laws(read.value().model);
    const auto again = model::read(model::write(read.value().model));
    INFO(text.substr(0, 3000) << tests::words(again));
    REQUIRE(again.ok());
    REQUIRE(tests::difference(read.value().model, again.value().model).empty());
    return true;
  }
  REQUIRE_FALSE(read.faults().empty());
  for (const Fault& fault : read.faults()) {
    REQUIRE_FALSE(fault.code.empty());
    REQUIRE_FALSE(fault.what.empty());
    REQUIRE_FALSE(fault.cure.empty());
  }
  return false;
}

using Random = std::mt19937_64;

std::size_t below(Random& random, std::size_t n) {
  return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
}

/// A value that some reader will not like, or that is merely odd.
json odd_value(Random& random) {
  static const std::vector<json> odd{
      nullptr,
      true,
      -1,
      0,
      1,
      1e300,
      -1e300,
      1e-300,
      3.5,
      1e17,
      "",
      "8/12",
      "0/12",
      "90 deg",
      "9 1/4 in",
      "-2'",
      "main/0",
      "main/0|main/2",
      "a/b|c",
      "eave",
      "gable",
      "half_hip",
      "wall",
      json::array(),
      json::object(),
      json::array({0, 0}),
      json::array({1, 2, 3}),
      json::array({json::array({0, 0}), json::array({5, 0}), json::array({0, 5})}),
      json::object({{"pitch", "8/12"}}),
      std::string(500, 'x'),
      "\u2032",
      12345678901234567890ULL};
  return odd[below(random, odd.size())];
}

/// Pointers to every value of `value`.
void places(const json& value, const json::json_pointer& at, std::vector<json::json_pointer>& all) {
  all.push_back(at);
  if (value.is_object()) {
    for (const auto& [name, inner] : value.items()) {
      places(inner, at / name, all);
    }
  } else if (value.is_array()) {
    for (std::size_t i = 0; i < value.size(); ++i) {
      places(value[i], at / i, all);
    }
  }
}

void damage(json& model, Random& random) {
  std::vector<json::json_pointer> all;
  places(model, json::json_pointer(), all);
  const json::json_pointer at = all[below(random, all.size())];
  const json::json_pointer other = all[below(random, all.size())];
  switch (below(random, 5)) {
    case 0:
      model[at] = odd_value(random);
      break;
    case 1:
      model[at] = json(model[other]);
      break;
    case 2:
      if (!at.empty() && model[at.parent_pointer()].is_object()) {
        model[at.parent_pointer()].erase(at.back());
      }
      break;
    case 3:
      if (model[at].is_array()) {
        model[at].push_back(odd_value(random));
      } else if (model[at].is_object()) {
        model[at]["wrong"] = odd_value(random);
      }
      break;
    default:
      if (model[at].is_array() && !model[at].empty()) {
        model[at].erase(below(random, model[at].size()));
      } else if (model[at].is_number()) {
        model[at] = std::uniform_real_distribution<double>(-100, 100)(random);
      }
  }
}

std::set<std::string> names_of(const json& properties) {
  std::set<std::string> names;
  for (const auto& [name, value] : properties.items()) {
    names.insert(name);
  }
  return names;
}

void compare_keys(const std::string& schema_text, std::span<const model::ObjectKeys* const> all) {
  const json schema = json::parse(schema_text);
  CHECK(schema.at("$schema") == "https://json-schema.org/draft/2020-12/schema");
  std::set<std::string> objects;
  for (const model::ObjectKeys* object : all) {
    const std::string name(object->object);
    INFO(name);
    const bool is_root = object == all.front();
    const json& described = is_root ? schema : schema.at("$defs").at(name);
    const std::set<std::string> known(object->keys.begin(), object->keys.end());
    CHECK(known.size() == object->keys.size());
    CHECK(names_of(described.at("properties")) == known);
    CHECK(described.at("additionalProperties") == false);
    for (const json& required : described.value("required", json::array())) {
      CHECK(known.count(required.get<std::string>()) == 1);
    }
    objects.insert(name);
  }
  for (const auto& [name, described] : schema.at("$defs").items()) {
    INFO(name);
    CHECK((!described.contains("properties") || objects.count(name) == 1));
  }
}

/// Every key of every object in `value`.
void keys_in(const json& value, std::set<std::string>& all) {
  for (const auto& [name, inner] : value.items()) {
    if (value.is_object()) {
      all.insert(name);
    }
    if (inner.is_structured()) {
      keys_in(inner, all);
    }
  }
}

}  // namespace

TEST_CASE("what is written is read back the same to the bit") {
  for (const std::string& text : sample_texts()) {
    const auto read = model::read(text);
    INFO(text.substr(0, 100) << tests::words(read));
    REQUIRE(read.ok());
    CHECK(read.value().warnings.empty());
    check_laws(read.value().model);
    const std::string written = model::write(read.value().model);
    const auto again = model::read(written);
    INFO(tests::words(again));
    REQUIRE(again.ok());
    CHECK(again.value().warnings.empty());
    CHECK(tests::difference(read.value().model, again.value().model).empty());
    CHECK(model::write(again.value().model) == written);
  }
}

TEST_CASE("the difference of two models is seen") {
  auto one = model::read(tests::full_model).value().model;
  auto two = one;
  CHECK(tests::difference(one, two).empty());
  two.parts[0].edges[0].breaks[1].height_m += 1e-6;
  CHECK(tests::difference(one, two) == "break.height");
}

TEST_CASE("damaged JSON gives a model within the laws, or faults") {
  Random random(tests::seed());
  const std::vector<std::string> texts = sample_texts();
  std::size_t read_well = 0;
  const std::size_t cases = 100 * support::cases_or(60);
  for (std::size_t i = 0; i < cases; ++i) {
    json model = json::parse(texts[below(random, texts.size())]);
    const std::size_t times = 1 + below(random, 4);
    for (std::size_t n = 0; n < times; ++n) {
      damage(model, random);
    }
    read_well += check_any(model.dump()) ? 1 : 0;
  }
  CHECK(support::is_share_at_least(0.05, read_well, cases));
  CHECK(support::is_share_at_least(0.17, cases - read_well, cases));
}

TEST_CASE("damaged bytes give a model within the laws, or faults") {
  Random random(tests::seed() + 1);
  const std::vector<std::string> texts = sample_texts();
  std::size_t read_well = 0;
  const std::size_t cases = 100 * support::cases_or(60);
  for (std::size_t i = 0; i < cases; ++i) {
    std::string text = texts[below(random, texts.size())];
    const std::size_t times = 1 + below(random, 8);
    for (std::size_t n = 0; n < times && !text.empty(); ++n) {
      const std::size_t at = below(random, text.size());
      switch (below(random, 4)) {
        case 0:
          text[at] = static_cast<char>(below(random, 256));
          break;
        case 1:
          text.erase(at, 1 + below(random, 20));
          break;
        case 2:
          text.insert(at, 1, "[]{}\",:0159-.e/'|"[below(random, 17)]);
          break;
        default:
          text.resize(at);
      }
    }
    read_well += check_any(text) ? 1 : 0;
  }
  CHECK(support::is_share_at_least(0.01, read_well, cases));
  CHECK(support::is_share_at_least(0.17, cases - read_well, cases));
}

TEST_CASE("schemas list the keys that readers know, and no others") {
  compare_keys(model::schema(), model::model_keys());
  compare_keys(model::catalogue_schema(), model::catalogue_keys());
  compare_keys(codes::code_set_schema(), codes::code_set_keys());
}

TEST_CASE("the full model uses every key, and write gives every key back") {
  std::set<std::string> known;
  for (const model::ObjectKeys* object : model::model_keys()) {
    known.insert(object->keys.begin(), object->keys.end());
  }
  std::set<std::string> used;
  keys_in(json::parse(tests::full_model), used);
  std::set<std::string> written;
  keys_in(json::parse(model::write(model::read(tests::full_model).value().model)), written);
  for (const std::string& key : known) {
    INFO(key);
    CHECK(used.count(key) == 1);
    CHECK((written.count(key) == 1 || key == "$schema"));
  }
}

TEST_CASE("the schema's words are the reader's words") {
  // Each word of an enum of the schema is accepted in place of the one in the full model.
  const json schema = json::parse(model::schema());
  const json full = json::parse(tests::full_model);
  const std::vector<std::pair<const char*, const char*>> places{
      {"/$defs/site/properties/exposure/enum", "/site/exposure"},
      {"/$defs/part/properties/drawn_to/enum", "/parts/0/drawn_to"},
      {"/$defs/part/properties/fascia/enum", "/parts/0/fascia"},
      {"/$defs/part/properties/valleys/enum", "/parts/0/valleys"},
      {"/$defs/edge/properties/soffit/enum", "/parts/0/edges/0/soffit"},
      {"/$defs/framing/properties/kind/enum", "/parts/0/framing/kind"},
      {"/$defs/framing/properties/blocking/enum", "/parts/0/framing/blocking"},
      {"/$defs/way/enum", "/parts/0/framing/air_past/hips"},
      {"/$defs/way/enum", "/parts/0/framing/air_past/valleys"},
      {"/$defs/way/enum", "/parts/0/framing/air_past/headers"},
      {"/$defs/ceiling/properties/kind/enum", "/ceilings/0/kind"},
      {"/$defs/obstacle/properties/kind/enum", "/obstacles/0/kind"},
      {"/$defs/intake/properties/position/enum", "/vents/intake/0/position"},
      {"/properties/units/enum", "/units"}};
  for (const auto& [words, place] : places) {
    for (const json& word : schema.at(json::json_pointer(words))) {
      json model = full;
      model[json::json_pointer(place)] = word;
      const auto read = model::read(model.dump());
      INFO(place << " := " << word << tests::words(read));
      if (place == std::string("/units")) {
        // In other units some lengths of the file are out of range, but the word is known.
        bool is_known = true;
        if (!read.ok()) {
          for (const Fault& fault : read.faults()) {
            is_known = is_known && fault.where != "/units";
          }
        }
        CHECK(is_known);
      } else {
        CHECK(read.ok());
      }
    }
  }
}
