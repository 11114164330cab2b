#pragma once
// Writing results: beside the target first, then renamed, so that nothing is half overwritten.

#include "base/fault.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace ridgeward::command {

/// Writes `bytes` to `path`, "-" for stdout. Fault: file.unwritable.
std::optional<Fault> write_output(const std::string& path, std::string_view bytes);

}  // namespace ridgeward::command
