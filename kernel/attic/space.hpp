#pragma once
// The space between a level ceiling and the roof over it.

#include "attic/attic.hpp"
#include "base/polygon.hpp"
#include "surface/surface.hpp"

namespace ridgeward::attic {

/// A plane's height in plan: z = base + dot(gradient, p).
struct Rise {
  glm::dvec2 gradient{0.0};
  double base = 0.0;
  double at(glm::dvec2 plan) const;
  /// Where the plane lies above height `z`.
  polygon::HalfPlane above(double z) const { return {gradient, z - base}; }
};
Rise rise_of(const surface::Plane& plane);

/// Convex plan pieces, each with its box, for many overlaps with the same polygon.
struct Pieces {
  explicit Pieces(const polygon::Loops& outline);
  struct One {
    polygon::Loop corners;
    polygon::Box box;
  };
  std::vector<One> all;
  polygon::Box box;
};

/// What a roof encloses over a ceiling.
struct Enclosed {
  double volume_m3 = 0.0;
  double top_m = 0.0;
  bool is_any = false;
};
Enclosed enclosed(const surface::Surface& surface, const Pieces& ceiling, double ceiling_m);

}  // namespace ridgeward::attic
