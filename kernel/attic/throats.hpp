#pragma once
// The way in over the plate.

#include "attic/bays.hpp"

namespace ridgeward::attic {

/// Fills in throat and blocking of the bays whose foot is an eave, and adds the overhangs with
/// their joins over the plate.
void open_plates(const Plan& plan, Attic& attic);

}  // namespace ridgeward::attic
