#include "command/load.hpp"

#include "model/read.hpp"

#include "command/places.hpp"

#include <iostream>

namespace ridgeward::command {

namespace {

Result<codes::CodeSet> code_set(const std::string& wanted) {
  const bool is_path = wanted.find('/') != std::string::npos ||
                       (wanted.size() > 5 && wanted.rfind(".json") == wanted.size() - 5);
  if (is_path) {
    return codes::read_code_set_file(wanted);
  }
  const std::string path = models_folder() + "/codes/" + wanted + ".json";
  if (!exists(path)) {
    return Fault{"name.unknown", "/site/code", "there is no code set \"" + wanted + "\"",
                 "use one of " + known_codes() + ", or name a file with --code"};
  }
  return codes::read_code_set_file(path);
}

}  // namespace

Result<Rules> load_rules(const std::string& code_of_model, const LoadOptions& options) {
  Result<model::Catalogue> catalogue = model::read_catalogue_file(
      options.catalogue.empty() ? models_folder() + "/catalogues/default.json" : options.catalogue);
  if (!catalogue) {
    return catalogue.faults();
  }
  Result<codes::CodeSet> code = code_set(options.code.empty() ? code_of_model : options.code);
  if (!code) {
    return code.faults();
  }
  return Rules{std::move(catalogue).value(), std::move(code).value()};
}

Result<Assessment> load_and_assess(const std::string& model_path, const LoadOptions& options) {
  Result<model::ReadModel> read = model::read_file(model_path);
  if (!read) {
    return read.faults();
  }
  for (const Fault& warning : read.value().warnings) {
    std::cerr << "warning: " << in_words(model_path, warning);
  }
  Result<Rules> rules = load_rules(read.value().model.site.code, options);
  if (!rules) {
    return rules.faults();
  }
  return assess(read.value().model, rules.value().catalogue, rules.value().code);
}

}  // namespace ridgeward::command
