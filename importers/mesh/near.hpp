#pragma once
// Meshes written as text, far from the origin.

#include "support/planes.hpp"

#include <string>
#include <string_view>

namespace ridgeward::mesh {

struct Near {
  std::string bytes;                      ///< empty: as they were
  importing::Point moved{0.0, 0.0, 0.0};  ///< what was taken from all corners, in the file's axes
};

/// The library keeps corners in single precision, which far from the origin is too coarse: where a
/// text ("obj", "ply" or "stl" as ASCII) has its middle farther out than `far`, all corners are
/// written anew less a common whole number, reckoned in double precision.
Near brought_near(std::string_view bytes, const std::string& kind, double far);

}  // namespace ridgeward::mesh
