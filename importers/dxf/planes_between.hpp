#pragma once
// The planes of a roof between its lines in space.

#include "dxf/drawing.hpp"
#include "support/planes.hpp"

#include <vector>

namespace ridgeward::dxf {

struct Between {
  std::vector<importing::Polygon> planes;
  std::size_t sides = 0;  ///< of all lines: one of an eave, two of a ridge
  std::size_t open = 0;   ///< of those, how many no plane was found for
};

/// Metres, z up. Ends closer than half a millimetre are one; an end on another line parts it. A
/// plane is a loop of lines flat to 2 mm and less steep than 87 degrees; which loops are planes
/// follows from the sides: each side of a ridge, hip, valley or break bears one plane, of all other
/// lines one side does. Loops of borders alone that lie level are voids. Nothing where all is
/// level. At most 4000 lines; more give nothing, and so do lines at nodes where more than 32 meet.
Between planes_between(const std::vector<RoofLine>& lines);

}  // namespace ridgeward::dxf
