#pragma once
// Solids. The only folder that sees Open CASCADE; its types never leave it.

#include "base/fault.hpp"
#include "surface/surface.hpp"

#include <glm/vec3.hpp>

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

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

/// Triangles that cover the faces, anticlockwise seen from outside; corners of one face share
/// points and its normal, those of different faces don't.
struct Mesh {
  std::vector<glm::dvec3> points;
  std::vector<glm::dvec3> normals;     ///< one for each point, of length 1
  std::vector<std::uint32_t> corners;  ///< three for each triangle
};
/// Exact, since all faces are flat. Faults: solid.mesh_failed.
Result<Mesh> mesh_of(const Shape& shape);

/// A thing of the roof with its name: "deck/main/0". Names are ids of the assessment after the word
/// of their group.
struct Body {
  std::string name;
  Shape shape;  ///< one solid, or several where the thing is in pieces
};

/// STEP (AP214, millimetres): an assembly named `name`, in it one for each group in the order in
/// which they come ("deck", "members"), in these the bodies under their whole names; a body without
/// a group stands in the first. Bodies in pieces are assemblies of "name#1", "name#2". No clock in
/// it: equal bodies give equal bytes. Calls are serialised: the STEP writer is not thread-safe.
/// Faults: solid.write_failed, solid.nothing.
Result<std::string> to_step(const std::vector<Body>& bodies, const std::string& name);
/// BREP text (metres): one compound, in it one for each group, in these the bodies in their order;
/// the format has no names. A single body stands by itself. Faults as above.
Result<std::string> to_brep(const std::vector<Body>& bodies);

}  // namespace ridgeward::solid
