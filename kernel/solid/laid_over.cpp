#include "solid/laid_over.hpp"

namespace ridgeward::solid {

bool is_laid_on(const model::RoofModel& model, const surface::Surface& surface, PlaneId own,
                PlaneId other) {
  if (own.is_none() || other.is_none()) {
    return false;
  }
  const surface::Plane& upper = surface.planes[own];
  const surface::Plane& lower = surface.planes[other];
  if (!upper.cricket.empty() || !lower.cricket.empty()) {
    return lower.cricket.empty();
  }
  return upper.part > lower.part && model.parts[upper.part].valleys == model::Valleys::overlaid;
}

}  // namespace ridgeward::solid
