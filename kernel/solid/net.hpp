#pragma once
// Flat faces over shared points, before the modelling kernel sees them; seen only inside this
// folder.

#include "solid/shape.hpp"

#include <glm/vec3.hpp>

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace ridgeward::solid {

/// Edges as pairs of points; faces as loops of edges, the face on the left hand seen from outside,
/// outer loops before the holes that lie in them. A face in several pieces has several outer loops.
struct Net {
  struct Step {
    std::uint32_t edge = 0;
    bool forward = true;
  };
  struct Face {
    std::vector<std::vector<Step>> loops;
    glm::dvec3 normal{0.0};  ///< outward
  };
  std::vector<glm::dvec3> points;
  std::vector<std::array<std::uint32_t, 2>> edges;
  std::vector<Face> faces;
};

/// One solid for the faces that hang together by their edges; several are a compound. Each point
/// becomes one vertex, each edge one edge: nothing is sewn. Vertices and edges carry as tolerance
/// how far they lie off the faces beside them. Doesn't ask the checker.
Shape shape_of(const Net& net);

/// The same faces as loops of points; which edges they share is found from the points.
struct Facets {
  struct Face {
    std::vector<std::vector<std::uint32_t>> loops;
    glm::dvec3 normal{0.0};
  };
  std::vector<glm::dvec3> points;
  std::vector<Face> faces;

  /// A face of one loop; points that repeat are taken once, fewer than three are no face.
  void add(std::vector<std::uint32_t> loop, const glm::dvec3& normal);
};

/// Where more than two faces meet in an edge, the two about one sector of the solid share it, so
/// that solids only touch there.
Net net_of(const Facets& facets);

/// The shape, or why it is none: solid.not_closed, solid.invalid. `what` names it in the fault.
Result<Shape> checked(const Shape& shape, const std::string& what);
/// The net's shape, checked. Parts that miss each other by hairs leave edges about as short as
/// their ends are unsure, and the checker finds borders that meet themselves: where it does, edges
/// under 0.05 mm are taken out and it is asked again.
Result<Shape> sound(const Net& net, const std::string& what);
/// Building and checking; failures of the modelling kernel become faults.
Result<Shape> built(const Facets& facets, const std::string& what);

/// What is left of one solid: one solid, else a fault (solid.invalid).
Result<Shape> difference(const Shape& from, const Shape& tool, const std::string& what);

}  // namespace ridgeward::solid
