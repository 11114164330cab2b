#pragma once
// What an import found and assumed, shown beside the imported roof before it is taken.

#include "units/length.hpp"

#include <glm/vec3.hpp>

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::panels {

/// What may be said to an importer, and what the person says.
struct ImportOption {
  std::string key;
  std::string what;
  std::string value;  ///< what may be given: "degrees or metres"
  std::string text;   ///< given; empty: as the importer does by itself
};
struct ImporterChoice {
  std::string name;
  std::string what;  ///< it reads
  std::vector<ImportOption> options;
};

struct ImportView {
  std::string file;
  std::string importer;  ///< that read it, or is to read it; empty: the surest one
  std::vector<ImporterChoice> importers;
  std::string trouble;  ///< why there is nothing to be taken
  std::vector<std::string> notes;
  std::vector<std::string> assumed;
  std::size_t buildings = 0;  ///< rebuilt from planes; none: the file's importer gave a model
  std::size_t planes_given = 0;
  std::size_t parts = 0;    ///< of the model
  std::size_t plain = 0;    ///< pieces kept as plain planes
  double distance_m = 0.0;  ///< largest, from the given planes to the roof
  double area_given_m2 = 0.0;
  double area_rebuilt_m2 = 0.0;
  std::vector<std::vector<glm::dvec3>> planes;  ///< loops as given, where they lie in the model
  bool shows_planes = true;
};

/// The options that are given, as "key=value".
std::vector<std::string> given_options(const ImportView& view);
/// Counts and fit, a row each.
std::vector<std::pair<std::string, std::string>> import_rows(const ImportView& view,
                                                             units::Style style);

}  // namespace ridgeward::panels
