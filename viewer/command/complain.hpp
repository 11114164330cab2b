#pragma once
// Faults in words for people.

#include "base/fault.hpp"

#include <string>

namespace ridgeward::command {

/// The faults of `file`: their places become "FILE at /parts/0".
Faults placed(const std::string& file, Faults faults);
/// One fault on two lines: "FILE at /parts/0: what" and, indented, "cure: ...".
std::string in_words(const Fault& fault);
/// Likewise for who sees the thing and no file: without the place in the file,
/// unless the file itself is at fault.
std::string in_plain_words(const Fault& fault);
/// All of them to stderr.
void complain(const Faults& faults);
/// Likewise, as warnings: the input serves.
void warn(const Faults& warnings);

/// Faults, file.same: writing `output` would replace `input`.
Faults would_replace(const std::string& input, const std::string& output);

}  // namespace ridgeward::command
