#pragma once
// Solids. The only folder that sees Open CASCADE; its types never leave it.

#include "base/fault.hpp"
#include "surface/surface.hpp"

#include <glm/vec3.hpp>

#include <memory>
#include <string>

namespace ridgeward::solid {

/// A shape of the modelling kernel; copies share it.
class Shape {
 public:
  struct Held;
  explicit Shape(std::shared_ptr<const Held> held) : held_(std::move(held)) {}
  const Held& held() const { return *held_; }

 private:
  std::shared_ptr<const Held> held_;
};

/// The closed solid between the roof surface and the level of its lowest eave, built from the
/// surface's own nodes and lines (each becomes one vertex, one edge), without sewing.
/// Faults: solid.not_closed, solid.invalid.
Result<Shape> build(const surface::Surface& surface);

/// The same without asking the checker, which takes many times longer than building. Only where
/// what comes out is examined anyway. REQUIRES a sound surface.
Shape build_unchecked(const surface::Surface& surface);

/// What the modelling kernel itself says of a shape.
struct Report {
  bool is_valid = false;   ///< its own checker finds nothing
  bool is_closed = false;  ///< every edge lies in two faces
  int solids = 0;
  int faces = 0;
  double volume_m3 = 0.0;  ///< signed: negative when inside out
  double area_m2 = 0.0;
  glm::dvec3 low{0.0};  ///< corners of the box around all vertices
  glm::dvec3 high{0.0};
};
Report examine(const Shape& shape);

/// STEP (AP214, millimetres) and BREP text. Calls are serialised: the STEP writer is not
/// thread-safe. Faults: solid.write_failed.
Result<std::string> to_step(const Shape& shape, const std::string& name);
Result<std::string> to_brep(const Shape& shape);

}  // namespace ridgeward::solid
