#pragma once
// How a raised roof compares with the planes that it was rebuilt from. Private to this folder.

#include "model/roof_model.hpp"

#include "rebuild/faces.hpp"

#include <optional>
#include <vector>

namespace ridgeward::rebuild {

/// The planes of a raised roof over the plan.
struct RaisedPlane {
  polygon::Loops plan;
  polygon::Box box;
  Slope slope;
  double area_m2 = 0.0;
};
using Raised = std::vector<RaisedPlane>;

/// Raises `parts` as one roof; none where they are no model or give no roof.
std::optional<Raised> raise_parts(const std::vector<model::Part>& parts);

/// The faces of `group` that the raised roof has: no point of theirs lies farther than the
/// tolerance above or below it.
Group matched(const Faces& all, const Group& group, const Raised& raised, double tolerance_m);

/// Whether the raised roof stands above the faces somewhere, or beside them where there is none.
bool stands_above(const Faces& all, const Raised& raised, double tolerance_m);

/// Largest distance from the faces of `group` to the raised roof.
double distance_m(const Faces& all, const Group& group, const Raised& raised);

}  // namespace ridgeward::rebuild
