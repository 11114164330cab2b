#pragma once
// From a path to an assessment, for all calls.

#include "assess.hpp"
#include "base/fault.hpp"

#include "command/complain.hpp"

#include <string>

namespace ridgeward::command {

struct LoadOptions {
  std::string code;       ///< id of a code set or path to one; empty: the model's own
  std::string catalogue;  ///< path to a catalogue; empty: the one installed
};

/// What a model is assessed by.
struct Rules {
  model::Catalogue catalogue;
  codes::CodeSet code;
};
/// Faults: name.unknown and those of the readers.
Result<Rules> load_rules(const std::string& code_of_model, const LoadOptions& options);

/// Reads the model, its catalogue and its code set and assesses it. Faults of every stage; warnings
/// go to stderr.
Result<Assessment> load_and_assess(const std::string& model_path, const LoadOptions& options);

}  // namespace ridgeward::command
