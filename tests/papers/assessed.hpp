#pragma once
// A house of the demo models, assessed as the program does it.

#include "assess.hpp"
#include "model/read.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <filesystem>

namespace ridgeward::tests {

inline Assessment assessed(const model::RoofModel& model) {
  const auto catalogue =
      model::read_catalogue_file(RIDGEWARD_SOURCE_DIR "/models/catalogues/default.json");
  REQUIRE(catalogue.ok());
  const auto set = codes::read_code_set_file(
      fmt::format("{}/models/codes/{}.json", RIDGEWARD_SOURCE_DIR, model.site.code));
  REQUIRE(set.ok());
  auto result = assess(model, catalogue.value(), set.value());
  REQUIRE(result.ok());
  return std::move(result).value();
}

inline model::RoofModel house(const std::filesystem::path& path) {
  const auto read = model::read_file(path.string());
  REQUIRE(read.ok());
  return read.value().model;
}

inline Assessment assessed(const std::filesystem::path& path) { return assessed(house(path)); }

/// One of the demo houses by name.
inline std::filesystem::path demo(const std::string& name) {
  return fmt::format("{}/models/houses/{}.roof.json", RIDGEWARD_SOURCE_DIR, name);
}

}  // namespace ridgeward::tests
