#pragma once
// From the shape of a roof, as open maps name it, to the edges of a part.

#include "geojson/footprint.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::geojson {

/// An edge as the model file wants it; slopes as rise per run.
struct EdgeSaid {
  std::string kind = "eave";
  double slope = 0.0;          ///< 0: its kind bears no plane
  double from_height_m = 0.0;  ///< half hips
  double break_height_m = 0.0;
  double break_slope = 0.0;  ///< 0: the slope goes on to the top
};

struct Shaped {
  std::vector<EdgeSaid> edges;  ///< of the outer ring
  double slope = 0.0;           ///< of eaves; mean one of broken slopes; that of courtyards
  double rise_m = 0.0;          ///< from the plate to the top
  bool is_understood = true;    ///< false: the outline allows no such roof, it is hipped
  bool slope_is_assumed = false;
  bool levels_are_assumed = false;  ///< the rise is counted in storeys
};

/// Slope where none is given, and of level roofs; heights of storeys (common practice, no source).
inline constexpr double assumed_slope_deg = 30.0;
inline constexpr double assumed_broken_slope_deg = 45.0;
inline constexpr double level_slope_deg = 0.1;
inline constexpr double storey_m = 3.0;
inline constexpr double roof_storey_m = 2.5;

/// The edges of a footprint. Ends (gables, half hips) are short sides between two square outer
/// corners with a house behind them that is as deep as half their length, from the shortest on,
/// never two in a row; of four sides the shorter pair, or the longer
/// one where the ridge runs across. Slope, in this order: as given; from the height of the roof
/// over half the greatest width between eaves; by its storeys; assumed, and then at most what half
/// of the whole height gives. REQUIRES tidy().
Shaped shaped(const Footprint& footprint);

}  // namespace ridgeward::geojson
