#pragma once
// Compartments: air spaces that exchange no air with each other. Value types only.

#include "base/ids.hpp"

#include <glm/vec2.hpp>

#include <string>
#include <vector>

namespace ridgeward::attic {

/// The ceiling over the walls of one part.
struct Level {
  std::size_t part = 0;                          ///< index into RoofModel::parts
  std::vector<std::vector<glm::dvec2>> outline;  ///< its walls in plan
  double height_m = 0.0;
};

struct Compartment {
  std::string id;                                ///< the ceiling's id; "attic" for the default one
  std::vector<std::vector<glm::dvec2>> outline;  ///< in plan, outer loop first
  double floor_area_m2 = 0.0;
  double volume_m3 = 0.0;  ///< between ceiling and roof surface
  double top_m = 0.0;      ///< highest point of the space
  double bottom_m = 0.0;   ///< height of its ceiling; of the lowest where there are several
  double insulation_m = 0.0;
  bool baffles = false;  ///< keep an air space open between insulation and deck at the eaves
  /// Of attics of several parts that are open to each other: ceilings part by part. Where the walls
  /// of two lie over each other, that of the part whose roof is on top holds, else the earlier's.
  /// Empty: one ceiling at `bottom_m`.
  std::vector<Level> levels;

  /// Height of the ceiling at a point in plan over which a plane of `part` lies.
  double ceiling_at(glm::dvec2 plan, std::size_t part) const;
};

/// Which compartment a bay opens to; none with the reason when it opens to none.
struct BayPlace {
  CompartmentId compartment;
  std::string why;  ///< a foreman's words: "only over the overhang"
};

struct Attic {
  IndexedVector<CompartmentId, Compartment> compartments;
  IndexedVector<BayId, BayPlace> bays;  ///< one for each bay of the framing
  std::vector<std::string> assumptions;

  /// The compartment whose outline holds the point in plan; none when no ceiling lies under it. On
  /// a border that two share, the first.
  CompartmentId under(glm::dvec2 plan) const;
};

}  // namespace ridgeward::attic
