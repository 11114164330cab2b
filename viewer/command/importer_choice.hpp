#pragma once
// Which importers this program has, and which of them a file is for.

#include "base/fault.hpp"
#include "plugin/find.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::command {

/// Importers beside the executable, after those in `folders` (made full paths).
plugin::FoundAll importers_at_hand(const std::vector<std::string>& folders);

/// The importer called `name`, or, when that is empty, the one surest to read `bytes`.
/// Importers look at it each in a process of its own; those that the file's ending names come
/// first, and where one of them is sure enough the others are not asked. Faults: importer.unknown,
/// importer.none with those of plugin::sniff_apart before it.
Result<plugin::Found> choose(const plugin::FoundAll& all, const std::string& name,
                             const std::string& file, std::string_view bytes);

}  // namespace ridgeward::command
