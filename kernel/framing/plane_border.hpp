#pragma once
// The border within which a plane is framed.

#include "base/polygon.hpp"
#include "framing/layout.hpp"
#include "surface/surface.hpp"

#include <vector>

namespace ridgeward::framing {

/// The plane with the deck that goes on beneath overlaid parts and overhangs, as one polygon: its
/// sides with the lines that they lie on, none where it ends out of sight.
struct PlaneBorder {
  polygon::Loops loops;
  std::vector<BorderEdge> edges;
};
PlaneBorder border_of(const surface::Surface& surface, PlaneId id);

}  // namespace ridgeward::framing
