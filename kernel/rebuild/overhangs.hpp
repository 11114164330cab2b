#pragma once
// How far a rebuilt roof hangs over the walls that were given with its planes. Private to this
// folder.

#include "model/roof_model.hpp"

#include <glm/vec2.hpp>

#include <cstddef>
#include <span>
#include <vector>

namespace ridgeward::rebuild {

struct Overhangs {
  std::size_t edges = 0;  ///< that hang over a wall, or end flush with one
  std::size_t parts = 0;  ///< whose plates the walls told
  /// Eaves whose wall was given elsewhere than the model has it, since their part has one plate.
  std::size_t uneven = 0;
};

/// Gives parts drawn to drip lines the overhangs and plates that walls beneath them tell: of each
/// edge by the nearest walls that run along it, at most 2 m inward and beside half of it or more.
/// A part has one plate: that which the longest of its eaves agree on within 1 cm; the others hang
/// out as their heights then ask. Roof planes stay as they were: a part whose planes would not, or
/// of which no eave has a wall, is left alone.
Overhangs take_overhangs(std::span<model::Part> parts,
                         const std::vector<std::vector<glm::dvec2>>& walls);

}  // namespace ridgeward::rebuild
