#pragma once
// What a call is asked to write, judged before any work is done.

#include "base/fault.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::command {

/// One file that a call is asked to write.
struct Output {
  std::string option;                     ///< that asks for it: "--json"
  std::string path;                       ///< empty: not asked for; "-": the standard output
  std::vector<std::string_view> endings;  ///< of its kind, the usual one first; empty: any
};

/// What stands in the way of writing them, found out without writing anything: nothing is left half
/// done for a name that could have been refused at once. An ending is right or left out.
/// Faults: file.same (it is what is read, `input`), output.twice, output.ending, file.unwritable.
Faults misdirected(const std::string& input, const std::vector<Output>& outputs);

/// The ending of a file's name with its dot, in small letters; of two endings (".city.json") the
/// last one; empty where there is none.
std::string ending_of(const std::string& file);

/// Columns for text on the standard output: those of the terminal there, at least 60 and at most
/// 100; 80 where there is none.
std::size_t columns_of_output();

}  // namespace ridgeward::command
