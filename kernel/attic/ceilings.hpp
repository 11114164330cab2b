#pragma once
// The model's ceilings and dividers as compartments, before the roof is looked at.

#include "attic/attic.hpp"
#include "base/fault.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

namespace ridgeward::attic {

/// A compartment to be, and where in the model it comes from.
struct Floor {
  Compartment compartment;
  std::string where;  ///< JSON pointer of its ceiling, or of the part it was assumed over
};

/// One floor for each ceiling of the model; without ceilings one over the walls of the parts whose
/// attics are open to each other, each part at its own plate, told in `assumptions`.
/// Faults: ceiling.kind_not_yet, ceiling.overlaps.
Result<std::vector<Floor>> floors_of(const model::RoofModel& model, const surface::Surface& surface,
                                     std::vector<std::string>& assumptions);

/// Splits the floors along the model's dividers.
Result<std::vector<Floor>> divided(const model::RoofModel& model, std::vector<Floor> floors,
                                   std::vector<std::string>& assumptions);

}  // namespace ridgeward::attic
