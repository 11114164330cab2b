#pragma once
// From a path to an assessment, for all calls.

#include "assess.hpp"
#include "base/fault.hpp"

#include <string>

namespace ridgeward::command {

struct LoadOptions {
  std::string code;       ///< id of a code set or path to one; empty: the model's own
  std::string catalogue;  ///< path to a catalogue; empty: the one installed
};

/// Reads the model, its catalogue and its code set and assesses it. Faults of every stage.
Result<Assessment> load_and_assess(const std::string& model_path, const LoadOptions& options);

}  // namespace ridgeward::command
