#pragma once
// Which importers this program has, and which of them a file is for.

#include "base/fault.hpp"
#include "plugin/find.hpp"
#include "plugin/load.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::command {

/// Importers beside the executable, after those in `folders` (made full paths).
plugin::FoundAll importers_at_hand(const std::vector<std::string>& folders);

/// The importer called `name`, or, when that is empty, the one surest to read `bytes`.
/// Faults: importer.unknown, importer.none, and those of plugin::Importer::load.
Result<plugin::Importer> choose(const plugin::FoundAll& all, const std::string& name,
                                const std::string& file, std::string_view bytes);

}  // namespace ridgeward::command
