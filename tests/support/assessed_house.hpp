#pragma once
// Demo houses assessed without a code, and what exporters write of them.

#include "exports/exporter.hpp"
#include "model/read.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <utility>

namespace ridgeward::support {

inline Assessment assessed(const std::string& house) {
  const auto read = model::read_file(RIDGEWARD_SOURCE_DIR "/models/houses/" + house + ".roof.json");
  const auto catalogue =
      model::read_catalogue_file(RIDGEWARD_SOURCE_DIR "/models/catalogues/default.json");
  REQUIRE(read.ok());
  REQUIRE(catalogue.ok());
  auto result = assess(read.value().model, catalogue.value(), codes::CodeSet{});
  REQUIRE(result.ok());
  return std::move(result).value();
}

/// The exporter is chosen by the ending of `file`; nothing is written to disk.
inline std::string written(const Assessment& assessment, const char* file,
                           const exports::Content& content = {}) {
  const auto bytes = exports::exporter_for(file)->write(assessment, content);
  if (!bytes) {
    FAIL(bytes.faults()[0].what);
  }
  return bytes.value();
}

}  // namespace ridgeward::support
