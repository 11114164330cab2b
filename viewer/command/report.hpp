#pragma once
// The HTML report of an assessment, put together from its parts.

#include "assess.hpp"
#include "base/tell.hpp"
#include "units/length.hpp"

#include <string>

namespace ridgeward::command {

/// What this build lacks to write a report; empty when it lacks nothing.
/// Faults: report.no_library (three.js was not there when the program was built), report.no_solids.
Faults missing_for_report();

/// The page. `tell` counts the pieces of its solids. Faults: those of missing_for_report() and of
/// papers::to_html().
Result<std::string> report_of(const Assessment& assessment, units::Style style, const Tell& tell);

}  // namespace ridgeward::command
