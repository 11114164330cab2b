#pragma once
// Whole files or none.

#include "base/fault.hpp"

#include <string>

namespace ridgeward::papers {

/// Writes `bytes` beside `path` and renames, so that no half file is ever seen there; "-" is the
/// standard output. Faults: file.unwritable.
Result<bool> write_whole(const std::string& path, const std::string& bytes);

}  // namespace ridgeward::papers
