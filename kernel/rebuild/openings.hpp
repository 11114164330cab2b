#pragma once
// Openings in roof planes: chimneys, skylights, pipes. Private to this folder.

#include "rebuild/planes.hpp"

#include <cstddef>

namespace ridgeward::rebuild {

struct Filled {
  Building building;
  std::size_t openings = 0;
  double area_m2 = 0.0;  ///< true, of what no other polygon covers of the openings
};

/// The building with its planes whole. A hole of a plane is an opening where it is up to 4 m2 in
/// plan and other polygons cover less than half of it; a larger one is a courtyard, a covered one
/// holds another roof, a dormer's.
Filled without_openings(Building building);

}  // namespace ridgeward::rebuild
