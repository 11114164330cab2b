#include "command/load.hpp"

#include "model/file_bytes.hpp"
#include "model/nearest.hpp"
#include "model/read.hpp"

#include "command/importer_choice.hpp"
#include "command/places.hpp"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <string_view>
#include <vector>

namespace ridgeward::command {

namespace {

bool is_path(const std::string& wanted) {
  return wanted.find('/') != std::string::npos ||
         (wanted.size() > 5 && wanted.rfind(".json") == wanted.size() - 5);
}

/// In single quotes where a shell would part or read it.
std::string for_shell(const std::string& word) {
  const bool is_plain = std::all_of(word.begin(), word.end(), [](unsigned char c) {
    return std::isalnum(c) != 0 || c > 0x7FU ||
           std::string_view("/._-+,=@%").find(static_cast<char>(c)) != std::string_view::npos;
  });
  if (is_plain && !word.empty()) {
    return word;
  }
  std::string quoted = "'";
  for (const char c : word) {
    quoted += c == '\'' ? "'\\''" : std::string(1, c);
  }
  return quoted + "'";
}

/// Whether a file that can't be read as a model is one for an importer; empty where it is none.
Faults for_importer(const std::string& path) {
  const Result<model::FileView> file = model::FileView::open(path);
  if (!file || starts_as_model(file.value().bytes())) {
    return {};
  }
  const Result<plugin::Found> importer =
      choose(importers_at_hand({}), "", path, file.value().bytes());
  if (!importer) {
    return {};
  }
  const std::string model =
      std::filesystem::path(path).filename().replace_extension(".roof.json").string();
  return {{"import.needed", "",
           "this is no model file but one for the importer " + importer.value().name + " (" +
               importer.value().what + ")",
           "make a model of it first: ridgeward import " + for_shell(path) + " -o " +
               for_shell(model)}};
}

}  // namespace

Result<model::ReadModel> load_model(const std::string& path) {
  Result<model::ReadModel> read = model::read_file(path);
  if (read) {
    return read;
  }
  Faults faults;
  if (!read.faults().front().code.starts_with("file.")) {
    faults = for_importer(path);
  }
  return placed(path, faults.empty() ? read.faults() : faults);
}

Result<model::Catalogue> load_catalogue(const LoadOptions& options) {
  const std::string path =
      options.catalogue.empty() ? models_folder() + "/catalogues/default.json" : options.catalogue;
  Result<model::Catalogue> catalogue = model::read_catalogue_file(path);
  if (!catalogue) {
    return placed(path, catalogue.faults());
  }
  warn(placed(path, catalogue.value().warnings));
  return catalogue;
}

Result<codes::CodeSet> load_code(const std::string& code_of_model, const std::string& asked_at,
                                 const LoadOptions& options) {
  const bool is_by_option = !options.code.empty();
  const std::string& wanted = is_by_option ? options.code : code_of_model;
  const bool is_file = is_by_option && is_path(wanted);
  const std::string path = is_file ? wanted : models_folder() + "/codes/" + wanted + ".json";
  if (!is_file && (is_path(wanted) || !exists(path))) {
    return Fault{"name.unknown", is_by_option ? "--code" : asked_at,
                 "there is no code set \"" + wanted + "\"",
                 "use one of " + known_codes() + ", or name a file with --code"};
  }
  Result<codes::CodeSet> code = codes::read_code_set_file(path);
  if (!code) {
    return placed(path, code.faults());
  }
  warn(placed(path, code.value().warnings));
  return code;
}

Result<Assessment> load_and_assess(const std::string& model_path, const LoadOptions& options,
                                   Depth depth) {
  const Result<model::ReadModel> read = load_model(model_path);
  if (!read) {
    return read.faults();
  }
  warn(placed(model_path, read.value().warnings));
  const Result<model::Catalogue> catalogue = load_catalogue(options);
  if (!catalogue) {
    return catalogue.faults();
  }
  const Result<codes::CodeSet> code =
      load_code(read.value().model.site.code, model_path + " at /site/code", options);
  if (!code) {
    return code.faults();
  }
  model::RoofModel model = read.value().model;
  // Findings speak in the unit of the model's bare numbers.
  const bool is_metric = units::style_of(model.unit) == units::Style::metric;
  if (!options.units.empty() && is_metric != (options.units == "metric")) {
    model.unit = is_metric ? units::LengthUnit::ft : units::LengthUnit::m;
  }
  Result<Assessment> assessment = assess(model, catalogue.value(), code.value(), depth);
  if (!assessment) {
    return placed(model_path, assessment.faults());
  }
  if (depth == Depth::whole) {
    warn(placed(model_path, unused_prices(assessment.value(), catalogue.value())));
  }
  return assessment;
}

Faults unused_prices(const Assessment& assessment, const model::Catalogue& catalogue) {
  std::vector<std::string_view> known;
  known.reserve(catalogue.products.size() + assessment.takeoff.order.size());
  for (const auto& [id, product] : catalogue.products) {
    known.emplace_back(id);
  }
  for (const takeoff::OrderLine& line : assessment.takeoff.order) {
    known.emplace_back(line.item);
  }
  Faults warnings;
  for (const auto& [name, price] : assessment.model.prices) {
    if (std::find(known.begin(), known.end(), name) != known.end()) {
      continue;
    }
    const std::string near = model::nearest(name, known);
    warnings.push_back({"price.unused", "/prices/" + model::pointer_step(name),
                        "no product and nothing in the order is called \"" + name + "\"",
                        near.empty() ? "take the name from the order, or drop the price"
                                     : "did you mean \"" + near + "\"?"});
  }
  return warnings;
}

}  // namespace ridgeward::command
