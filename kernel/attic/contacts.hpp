#pragma once
// Where bays come to the lines at their plane's border.

#include "attic/bays.hpp"

namespace ridgeward::attic {

/// The contacts of all spaces under bays, bay by bay: only where the space lies under the line.
std::vector<Contact> contacts_of(const Plan& plan,
                                 const IndexedVector<SpaceId, std::size_t>& floor_of,
                                 const Attic& attic);

}  // namespace ridgeward::attic
