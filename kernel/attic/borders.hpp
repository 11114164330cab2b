#pragma once
// Where ceilings share a border with no wall on it.

#include "attic/ceilings.hpp"

#include <glm/vec2.hpp>

#include <vector>

namespace ridgeward::attic {

/// A stretch of border between two floors, from which dividers and the walls between parts whose
/// attics are shut off from each other are taken out.
struct Border {
  std::size_t one = 0;  ///< index of the floor, the lesser
  std::size_t other = 0;
  glm::dvec2 from{0.0};
  glm::dvec2 to{0.0};
};

/// All of them between ceilings, and those of spaces over blind decks with ceilings under the same
/// part's roof. Borders up to a centimetre apart count as shared.
/// Cost: pairs of floors whose boxes touch, times their sides.
std::vector<Border> borders_between(const model::RoofModel& model, const surface::Surface& surface,
                                    const std::vector<Floor>& floors);

}  // namespace ridgeward::attic
