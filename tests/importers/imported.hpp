#pragma once
// What the importers make of bytes, and a house that they all know.
#include "model/file_bytes.hpp"
#include "plugin/guard.hpp"

#include "rebuild/stage.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <utility>

namespace ridgeward::tests {

inline std::string library(const std::string& name) {
  return RIDGEWARD_BUILD_DIR "/importers/" + name + ".so";
}

/// A file below importers/.
inline std::string sample(const std::string& path) {
  return model::file_bytes(RIDGEWARD_SOURCE_DIR "/importers/" + path).value();
}

inline rebuild::Rebuilt rebuilt(const std::string& importer, const std::string& bytes,
                                const std::string& options = "") {
  const auto given = plugin::read_apart(library(importer), {bytes, options, ""});
  INFO(tests::words(given));
  REQUIRE(given.ok());
  REQUIRE_FALSE(given.value().notes.empty());
  const auto planes = rebuild::read_planes(given.value().json);
  INFO(tests::words(planes));
  REQUIRE(planes.ok());
  auto result = rebuild::rebuild(planes.value());
  INFO(tests::words(result));
  REQUIRE(result.ok());
  return std::move(result).value();
}

inline Fault refused(const std::string& importer, const std::string& bytes,
                     const std::string& options = "") {
  INFO(bytes.substr(0, 100));
  const auto given = plugin::read_apart(library(importer), {bytes, options, ""});
  REQUIRE_FALSE(given.ok());
  CHECK(given.faults().front().code == "import.failed");
  CHECK_FALSE(given.faults().front().what.empty());
  CHECK_FALSE(given.faults().front().cure.empty());
  return given.faults().front();
}

/// "eave gable eave gable": each edge that is no eave counts as a gable.
inline std::string edge_words(const model::Part& part) {
  std::string kinds;
  for (const model::Edge& edge : part.edges) {
    kinds += kinds.empty() ? "" : " ";
    kinds += edge.kind == model::EdgeKind::eave ? "eave" : "gable";
  }
  return kinds;
}

/// Two planes of 12 m by 5 m: rise 3 in run 4.
inline constexpr double gable_area_m2 = 2 * 12 * 5.0;

inline void require_gable(const rebuild::Rebuilt& house, double within = 1e-4) {
  REQUIRE(house.model.parts.size() == 1);
  CHECK(house.fits[0].plain == 0);
  CHECK(house.fits[0].area_rebuilt_m2 == Approx(gable_area_m2).epsilon(within));
  for (const model::Edge& edge : house.model.parts[0].edges) {
    if (edge.kind == model::EdgeKind::eave) {
      CHECK(edge.pitch.tangent() == Approx(0.75).epsilon(10 * within));
    } else {
      CHECK(edge.kind == model::EdgeKind::gable);
    }
  }
}

}  // namespace ridgeward::tests
