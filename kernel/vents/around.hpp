#pragma once
// Keeps slots out of chimneys, skylights, pipes, solar arrays and the headers beside them.

#include "vents/band.hpp"
#include "vents/pieces.hpp"

#include <vector>

namespace ridgeward::vents {

/// The stretches less what obstacles take of the band from `low_m` to `high_m` up the slope: their
/// clear outlines with `hold_back_m` on each side, and headers as long as they are. A stretch with
/// an obstacle within becomes two.
/// Law: what comes out lies within what went in, and clear of every obstacle by the hold-back.
std::vector<BandStretch> around_obstacles(const Site& site, PlaneId plane, double low_m,
                                          double high_m, double hold_back_m,
                                          std::vector<BandStretch> all);

/// A stretch of a line, from its measuring end.
struct Along {
  double from_m = 0.0;
  double to_m = 0.0;
};

/// What of `asked` on a ridge or hip is left beside obstacles that need a place within the slot's
/// width of it, less the hold-back at obstacles on each side. `start` and `along` are the line's
/// measuring end and its direction.
std::vector<Along> along_clear_of_obstacles(const Site& site, LineId line, glm::dvec3 start,
                                            glm::dvec3 along, const Along& asked,
                                            const model::SlotGeometry& slot);

}  // namespace ridgeward::vents
