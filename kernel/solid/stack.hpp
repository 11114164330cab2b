#pragma once
// Solids between floors and roofs over regions of the plan; seen only inside this folder.

#include "base/polygon.hpp"
#include "solid/net.hpp"

#include <glm/vec2.hpp>

#include <cstdint>
#include <vector>

namespace ridgeward::solid {

/// z = base + dot(gradient, plan).
struct Slope {
  glm::dvec2 gradient{0.0};
  double base = 0.0;
  double at(glm::dvec2 plan) const { return base + gradient.x * plan.x + gradient.y * plan.y; }
};

/// What lies over a region of the plan between its floor and its roof.
struct Block {
  polygon::Loops plan;
  Slope floor;
  Slope roof;
  std::uint32_t floor_face = 0;  ///< equal for blocks whose floors are one face
  std::uint32_t roof_face = 0;
};

/// The faces around all blocks: roofs, floors, and upright walls where one block stands free of the
/// next. REQUIRES plans that don't overlap, floors nowhere above their roofs. Borders that agree
/// within two micrometres are one.
Facets stacked(const std::vector<Block>& blocks);

}  // namespace ridgeward::solid
