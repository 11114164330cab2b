#pragma once
// Which parts share one attic.

#include "base/polygon.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <string>
#include <vector>

namespace ridgeward::attic {

/// Parts whose attics are open to each other, and the plan that they have.
struct Group {
  std::vector<std::size_t> parts;  ///< rising
  polygon::Loops outline;
};

/// Every place within the walls of a part in just one group, in the order of their first parts.
///
/// Two parts are open to each other when their walls overlap or run along each other, their roofs
/// meet there (planes that cut each other, or lie in one), and the later one is not overlaid. Where
/// the walls of two groups lie over each other, the place belongs to the one whose roof is on top;
/// under a blind deck to the one whose deck it is.
/// A group of which nothing is left is none. Of several groups the assumptions tell why.
std::vector<Group> groups_of(const model::RoofModel& model, const surface::Surface& surface,
                             std::vector<std::string>& assumptions);

}  // namespace ridgeward::attic
