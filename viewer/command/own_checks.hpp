#pragma once
// Checks of the user's own, from plugin folders.

#include "assess.hpp"
#include "base/fault.hpp"

#include <string>
#include <vector>

namespace ridgeward::command {

/// Runs every check in `folders` on the assessment as it is and adds what they find to it, check by
/// check. Ids that the assessment does not know are left out. Faults: those of plugin::OwnCheck.
Faults add_own_checks(const std::vector<std::string>& folders, Assessment& assessment);

}  // namespace ridgeward::command
