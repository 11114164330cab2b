#pragma once
// From a path to an assessment, for all calls.

#include "assess.hpp"
#include "base/fault.hpp"
#include "model/read.hpp"

#include "command/complain.hpp"

#include <string>

namespace ridgeward::command {

struct LoadOptions {
  std::string code;       ///< id of a code set or path to one; empty: the model's own
  std::string catalogue;  ///< path to a catalogue; empty: the one installed
  std::string units;      ///< "metric" or "ft-in": what is told; empty: as the model is drawn
};

/// The model in a file. Faults are placed; those of model::read_file, and import.needed where the
/// file is no model but one that an importer reads: the cure is the command line that does it.
/// Warnings are not told.
Result<model::ReadModel> load_model(const std::string& path);

/// The catalogue of `options` or the installed one; its warnings go to stderr. Faults are placed:
/// their `where` opens with the file.
Result<model::Catalogue> load_catalogue(const LoadOptions& options);

/// The code set that `options` name, or else the model's own; warnings and faults as above.
/// `asked_at` says where the model asks for it, "FILE at /site/code". Also faults name.unknown.
Result<codes::CodeSet> load_code(const std::string& code_of_model, const std::string& asked_at,
                                 const LoadOptions& options);

/// Reads the model, its catalogue and its code set and assesses it. Faults of every stage, placed;
/// warnings go to stderr.
Result<Assessment> load_and_assess(const std::string& model_path, const LoadOptions& options,
                                   Depth depth = Depth::whole);

/// Warnings, price.unused: prices of the model that are for nothing that is in the catalogue or in
/// the order, with the nearest name that is.
Faults unused_prices(const Assessment& assessment, const model::Catalogue& catalogue);

}  // namespace ridgeward::command
