#pragma once
// What a process that works for a library of somebody else may no longer do. Private to this
// folder.

#include "plugin/limits.hpp"

namespace ridgeward::plugin {

/// Shuts this process in, for good: own group, dies with its parent, no output, no open file but
/// the pipe, which becomes number 3; time and memory bounded; refused by the system from here on
/// (the call fails): to write, make, move or remove files, to start processes or programs, to reach
/// other processes, the network, the terminal's input or the machine's settings. Files may be read
/// and threads started. A kernel without filters of calls (seccomp) leaves the bounds alone.
void shut_in(int pipe, const Limits& limits);

}  // namespace ridgeward::plugin
