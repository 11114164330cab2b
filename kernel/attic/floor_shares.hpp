#pragma once
// Shares a sloped ceiling's floor out to the rafter spaces over it.

#include "attic/bays.hpp"

namespace ridgeward::attic {

/// A rafter space of the plane at hand.
struct RafterSpace {
  SpaceId space;
  BayId bay;
  std::size_t floor = 0;
  double low_v_m = 0.0;
  double high_v_m = 0.0;
};

/// Each rafter space gets the floor up to the middle of the rafters beside it. Where a rafter has a
/// bay on one side only, all of it; what no bay lies beside (headers, openings) goes to all spaces
/// of the plane under one ceiling in proportion. A strip that a divider leaves without a bay goes
/// to the spaces across it. Law: the floors of the spaces of a plane sum to what it covers of the
/// sloped ceilings.
void share_floor(const Plan& plan, PlaneId plane, const std::vector<RafterSpace>& spaces,
                 Attic& attic);

}  // namespace ridgeward::attic
