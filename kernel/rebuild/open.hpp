#pragma once
// What of the given faces lies open to the sky. Private to this folder.

#include "rebuild/faces.hpp"

namespace ridgeward::rebuild {

/// The same faces less what lies under others: where solids run into each other, a piece of one's
/// roof lies inside the other. `plan` becomes convex pieces, none where all of it is hidden, and
/// `area_m2` theirs; `loops` stay. A face counts as over another only where it rises more than the
/// tolerance over it. `hidden_m2`: what was taken away, true.
Faces open_to_sky(const Faces& all, double tolerance_m, double& hidden_m2);

/// The faces' pieces as polygons in space, with the walls and the ground of `given`.
Building building_of(const Faces& open, const Building& given, glm::dvec2 origin);

}  // namespace ridgeward::rebuild
