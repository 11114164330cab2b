#pragma once
// Which roof lies on the deck of which; seen only inside this folder.

#include "model/roof_model.hpp"
#include "surface/surface.hpp"

namespace ridgeward::solid {

/// Whether the plane `own` stands on the deck of `other` in a valley between them: its part is laid
/// over the earlier roof, or it is a cricket's.
bool is_laid_on(const model::RoofModel& model, const surface::Surface& surface, PlaneId own,
                PlaneId other);

}  // namespace ridgeward::solid
