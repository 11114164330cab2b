#pragma once
// What of a plane goes on, out of sight from above, beneath another part's overhang.

#include "base/polygon.hpp"
#include "surface/surface.hpp"

#include <vector>

namespace ridgeward::surface {

struct Sheltered {
  PlaneId plane;        ///< that goes on here
  PlaneId above;        ///< of another part, that hangs over it
  polygon::Loops plan;  ///< outer loop, then holes
  /// Headwalls and sidewalls at which the plane is drawn to end.
  std::vector<LineId> lines;
};

/// Where a plane hangs out past its own part's walls over the roof of a part that ends there, that
/// roof goes on beneath it up to the wall. Of several planes the lowest does. What is nowhere on
/// such a line (roofs that meet in a valley) is left out, and what is told as a blind deck. Empty
/// for one part.
std::vector<Sheltered> sheltered_decks(const Surface& surface);

/// What is sheltered of a plane, piece by piece, in its coordinates: v up the slope.
std::vector<polygon::Loops> sheltered_uv(const Surface& surface,
                                         const std::vector<Sheltered>& sheltered, PlaneId id);

}  // namespace ridgeward::surface
