#pragma once
// Where along the eave the rafters of one plane stand.

#include "framing/framing.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <vector>

namespace ridgeward::framing {

/// The timber of one part, known sizes filled in.
struct PartStock {
  double rafter_m = 0.0;  ///< thicknesses
  double ridge_m = 0.0;
  double hip_m = 0.0;
  double valley_m = 0.0;
  double rafter_depth_m = 0.0;
  double ridge_depth_m = 0.0;
  double hip_depth_m = 0.0;
  double valley_depth_m = 0.0;
};

/// One side of a plane's polygon in plane coordinates, the plane on its left hand.
struct BorderEdge {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  LineId line;
};

/// Centres of the rafters of `plane` in its u, rising, no two overlapping.
/// Measured positions if the model has some for the edge; otherwise origin + k * spacing along the
/// wall from its left end seen from outside. At a gable-end wall a rafter stands flush within the
/// wall's outer face, at an upright wall border flush against it; marks that would overlap such a
/// rafter, or stand in a rake's overhang, are left out. Where positions are measured, they hold and
/// the end rafters give way.
std::vector<double> lay_out(const model::Part& part, const surface::Surface& surface,
                            const surface::Plane& plane, const std::vector<BorderEdge>& border,
                            double thickness_m);

}  // namespace ridgeward::framing
