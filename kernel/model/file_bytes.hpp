#pragma once
// The bytes of an input file, or the fault in words.

#include "base/fault.hpp"

#include <string>

namespace ridgeward::model {

/// Reads all of `path`. Faults (where is empty): file.missing, file.folder, file.unreadable,
/// file.too_large (over 64 MiB).
Result<std::string> file_bytes(const std::string& path);

}  // namespace ridgeward::model
