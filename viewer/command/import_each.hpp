#pragma once
// ridgeward import --each: a file of many buildings becomes one model a line.

#include "base/fault.hpp"
#include "plugin/find.hpp"
#include "plugin/guard.hpp"

#include "command/progress.hpp"

#include <string>

namespace ridgeward::command {

/// Reads `job` with `importer` and writes each building's model as a line of `output`, as they
/// come: memory stays that of a few buildings. A building that gives no model is told on stderr and
/// left out; at the end a summary. `progress`: the share of the file read and buildings done.
/// Returns the faults for which nothing was written.
Faults import_each(const plugin::Found& importer, const plugin::Job& job, const std::string& output,
                   unsigned jobs, Progress& progress);

}  // namespace ridgeward::command
