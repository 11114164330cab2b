#pragma once
// Meshes far from the origin, brought near it before they go through single precision.

#include "support/planes.hpp"

#include <string>
#include <string_view>

namespace ridgeward::mesh {

struct Near {
  std::string bytes;                      ///< empty: as they were
  importing::Point moved{0.0, 0.0, 0.0};  ///< what was taken from all corners, in the file's axes
};

/// The library keeps corners in single precision, which far from the origin is too coarse: where a
/// text ("obj", "stl" or "ply" as ASCII), or a PLY file of doubles, has its middle farther out than
/// `far`, all corners are written anew less a common whole number, reckoned in double precision.
/// Of glTF ("glb", "gltf") the corners are of single precision themselves, but the places of its
/// nodes are not: where those lie so far out, each mesh gets a node of its own below the one that
/// had it, with the place that it has in the scene, less a common whole number.
Near brought_near(std::string_view bytes, const std::string& kind, double far);

/// The same of the places of a scene alone. Private to this folder.
Near scene_brought_near(std::string_view bytes, bool is_binary, double far);

/// Whole numbers for the middle of some points; none where no axis has it farther out than `far`,
/// or where they reach as far as that: what is as large as its distance stays far from some origin.
class Middle {
 public:
  void add(const importing::Point& p);
  /// REQUIRES points.
  importing::Point at() const;
  bool is_beyond(double far) const;

 private:
  importing::Point low_{1e300, 1e300, 1e300};
  importing::Point high_{-1e300, -1e300, -1e300};
};

}  // namespace ridgeward::mesh
