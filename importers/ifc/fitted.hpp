#pragma once
// An IFC file put right for the library that makes its geometry.

#include <array>
#include <string>
#include <string_view>

namespace ridgeward::ifc {

/// The file as the library takes it.
struct Fitted {
  std::string bytes;  ///< empty: as it was
  /// What was taken from all places in plan, in the file's unit.
  std::array<double, 2> moved{0.0, 0.0};
};

/// 1. IFC4 may leave the owner history of an object out; the library wants one (IFC 2x3), so it
///    is given one.
/// 2. The library reckons places in single precision. Where an object's place lies farther than
///    `far` from the origin in plan, every IfcLocalPlacement is reckoned here and written as one
///    that hangs on no other, less a common distance. An object whose shape itself lies so far from
///    its place gets a shape that is nearer, written anew beside the old one, and a place that is
///    farther by as much.
Fitted fitted(std::string_view text, double far);

}  // namespace ridgeward::ifc
