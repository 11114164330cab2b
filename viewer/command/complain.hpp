#pragma once
// Faults in words for people.

#include "base/fault.hpp"

#include <string>

namespace ridgeward::command {

/// One fault on two lines: "FILE at /parts/0: what" and, indented, "cure".
std::string in_words(const std::string& file, const Fault& fault);
/// All of them to stderr.
void complain(const std::string& file, const Faults& faults);

}  // namespace ridgeward::command
