#pragma once
// Timber as carpenters make it: a straight piece, cut by planes. Seen only inside this folder.

#include "solid/net.hpp"

#include <glm/vec3.hpp>

#include <array>
#include <vector>

namespace ridgeward::solid {

/// Points with dot(normal, p) <= offset are kept.
struct Cut {
  glm::dvec3 normal{0.0};
  double offset = 0.0;
};
/// Keeps what lies against `normal` from a point.
Cut cut_at(const glm::dvec3& point, const glm::dvec3& normal);

/// A body by its faces: a prism, then cut.
class Timber {
 public:
  /// From `origin` along three edges that are right-handed.
  Timber(const glm::dvec3& origin, const std::array<glm::dvec3, 3>& edges);
  /// `base`, anticlockwise seen from where `way` points to, carried along `way`.
  Timber(const std::vector<glm::dvec3>& base, const glm::dvec3& way);

  /// REQUIRES that the cut runs through no notch of the base.
  void keep(const Cut& cut);
  bool is_empty() const { return faces_.size() < 4; }
  /// Corners closer than a micrometre are one.
  Facets facets() const;

 private:
  struct Face {
    glm::dvec3 normal{0.0};
    std::vector<glm::dvec3> loop;
  };
  std::vector<Face> faces_;
};

}  // namespace ridgeward::solid
