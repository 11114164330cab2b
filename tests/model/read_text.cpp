// Texts and files that hold no model at all.
#include "model/read.hpp"

#include "support/gable_house.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <string>

using namespace ridgeward;
using nlohmann::json;
using tests::gable_house;

namespace {

void check_text(const std::string& text, const std::string& code) {
  INFO(text.substr(0, 60));
  const auto read = model::read(text);
  REQUIRE_FALSE(read.ok());
  INFO(tests::words(read));
  CHECK(read.faults().front().code == code);
}

}  // namespace

TEST_CASE("texts that are no JSON") {
  check_text("", "json.empty");
  check_text(" \n\t", "json.empty");
  check_text("\xEF\xBB\xBF", "json.empty");
  check_text("not json", "json.syntax");
  check_text(std::string("\0\0\0", 3), "json.syntax");
  check_text("\xFF\xFE{\0}\0", "json.not_utf8");
  check_text("{\"name\": \"\xC3\x28\"}", "json.not_utf8");
  check_text("{\"name\": \"\xED\xA0\x80\"}", "json.not_utf8");
  check_text("{\"name\": \"\xC0\xAF\"}", "json.not_utf8");
  check_text("{\"name\": \"\xF5\x80\x80\x80\"}", "json.not_utf8");
  check_text("{\"name\": \"\xE2\x82", "json.not_utf8");
  check_text(std::string(100000, '['), "json.too_deep");
  check_text(std::string(100000, '[') + std::string(100000, ']'), "json.too_deep");
  std::string nest;
  for (int i = 0; i < 100000; ++i) {
    nest += "{\"a\":";
  }
  check_text(nest, "json.too_deep");
  check_text("{\"ridgeward\": NaN}", "number.not_finite");
  check_text("{\"ridgeward\": Infinity}", "number.not_finite");
  check_text("{\"ridgeward\": -Infinity}", "number.not_finite");
  check_text("{\"ridgeward\": 1e999}", "number.not_finite");
  check_text("{\"ridgeward\": 1,}", "json.syntax");
  check_text("{'ridgeward': 1}", "json.syntax");
  check_text("{\"ridgeward\": 1} trailing", "json.syntax");
  check_text("[1, 2]", "field.type");
  check_text("null", "field.type");
  check_text("12", "field.type");
}

TEST_CASE("a text within brackets in strings nests nothing") {
  json named = json::parse(gable_house);
  named["name"] = std::string(300, '[');
  CHECK(model::read(named.dump()).ok());
}

TEST_CASE("a file cut off anywhere is a fault and says so") {
  const std::string whole = gable_house;
  REQUIRE(model::read(whole).ok());
  for (std::size_t n = 0; n < whole.size(); ++n) {
    REQUIRE_FALSE(model::read(whole.substr(0, n)).ok());
  }
  const auto half = model::read(whole.substr(0, whole.size() / 2));
  CHECK(half.faults().front().cure.find("cut off") != std::string::npos);
}

TEST_CASE("syntax faults name line and column") {
  const auto read = model::read("{\n  \"ridgeward\": 1,\n  \"name\" 3\n}");
  REQUIRE_FALSE(read.ok());
  CHECK(read.faults().front().what.find("line 3, column 10") != std::string::npos);
}

TEST_CASE("a byte order mark is passed over") {
  CHECK(model::read(std::string("\xEF\xBB\xBF") + gable_house).ok());
}

TEST_CASE("files that are none") {
  std::string name = (std::filesystem::temp_directory_path() / "read-XXXXXX").string();
  REQUIRE(mkdtemp(name.data()) != nullptr);
  const std::filesystem::path folder = name;
  CHECK(model::read_file((folder / "none.json").string()).faults().front().code == "file.missing");
  CHECK(model::read_file(folder.string()).faults().front().code == "file.folder");
  CHECK(model::read_file("").faults().front().code == "file.missing");
  const std::string path = (folder / "house.roof.json").string();
  std::ofstream(path) << gable_house;
  CHECK(model::read_file(path).ok());
  CHECK(model::read_file(path + "/deeper").faults().front().code == "file.missing");
  std::filesystem::remove_all(folder);
}
