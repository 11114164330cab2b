#pragma once
// Which importers this program has, and which of them a file is for.

#include "base/fault.hpp"
#include "plugin/find.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::command {

/// Whether a text starts as a model file does: an object that gives "ridgeward" as a key.
bool starts_as_model(std::string_view bytes);

/// Importers beside the executable, after those in `folders`, which the user named: a path that is
/// not full counts from where one stands.
plugin::FoundAll importers_at_hand(const std::vector<std::string>& folders);

/// Faults, importer.folder: folders that the user named and that are not there.
Faults missing(const std::vector<std::string>& folders);

/// What is wrong with options "key=value" by the importer's description; their values are its own
/// to judge. Faults: option.form, option.unknown, option.twice.
Faults misfits(const plugin::Found& importer, const std::vector<std::string>& options);

/// The importer called `name`, or, when that is empty, the one surest to read `bytes`.
/// Importers look at it each in a process of its own; those that the file's ending names come
/// first, and where one of them is sure enough the others are not asked. Faults: importer.unknown;
/// importer.none with those of plugin::sniff_apart before it; import.model for a model file;
/// import.empty. Where none of them knows the bytes but just one has the ending, it is taken: it
/// can say what is wrong with them.
Result<plugin::Found> choose(const plugin::FoundAll& all, const std::string& name,
                             const std::string& file, std::string_view bytes);

}  // namespace ridgeward::command
