#pragma once
// Where the rafters beside a bay stand.

#include "framing/framing.hpp"

namespace ridgeward::framing {

/// Along the plane's u, metres.
struct Centres {
  double left_m = 0.0;
  double right_m = 0.0;
};

/// The middles of the rafters on both sides of a bay; the bay's own border where there is none.
inline Centres centres_beside(const Framing& framing, const Bay& bay) {
  return {bay.left.is_none() ? bay.from_u_m : framing.members[bay.left].at_m,
          bay.right.is_none() ? bay.to_u_m : framing.members[bay.right].at_m};
}

}  // namespace ridgeward::framing
