#pragma once
// Whole files or none.

#include "base/fault.hpp"

#include <string>

namespace ridgeward::papers {

/// Writes `bytes` beside `path` and renames, so that no half file is ever seen there; "-" is the
/// standard output. A pipe or a device is written to directly; where `path` is a link, the file it
/// points to is replaced. Faults: file.unwritable, its `where` being `path`.
Result<bool> write_whole(const std::string& path, const std::string& bytes);

}  // namespace ridgeward::papers
