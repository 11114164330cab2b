#pragma once
// What joins the spaces to each other.

#include "attic/bays.hpp"
#include "attic/borders.hpp"

namespace ridgeward::attic {

/// Adds the joins across borders, at the ends of rafter spaces, at pitch breaks, through headers
/// and along dropped or drilled hips and valleys, the gaps along those, and the contacts of rafter
/// spaces. `floor_of` tells the floor of each space that there is.
void join_spaces(const Plan& plan, const std::vector<Border>& borders,
                 const IndexedVector<SpaceId, std::size_t>& floor_of, Attic& attic);

/// Sorts spaces that open joins connect into compartments and tells each bay its own.
void make_compartments(Attic& attic);

}  // namespace ridgeward::attic
