#pragma once
// Compartments: air spaces that exchange no air with each other. Value types only.

#include "base/ids.hpp"

#include <glm/vec2.hpp>

#include <string>
#include <vector>

namespace ridgeward::attic {

struct Compartment {
  std::string id;                                ///< the ceiling's id; "attic" for the default one
  std::vector<std::vector<glm::dvec2>> outline;  ///< in plan, outer loop first
  double floor_area_m2 = 0.0;
  double volume_m3 = 0.0;  ///< between ceiling and roof surface
  double top_m = 0.0;      ///< highest point of the space
  double bottom_m = 0.0;   ///< height of its ceiling
  double insulation_m = 0.0;
  bool baffles = false;  ///< keep an air space open between insulation and deck at the eaves
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
