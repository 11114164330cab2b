#pragma once
// What lies under the pointer, and what the eye can see.

#include "scene/camera.hpp"
#include "scene/scene.hpp"

#include <optional>
#include <vector>

namespace ridgeward::scene {

/// At most one of the two is set.
struct Picked {
  PlaneId plane;
  LineId line;
  glm::dvec3 at{0.0};
  bool is_nothing() const { return plane.is_none() && line.is_none(); }
  bool operator==(const Picked& other) const { return plane == other.plane && line == other.line; }
};

struct Hit {
  double distance_m = 0.0;
  std::size_t face = 0;  ///< index into Scene::faces
};

/// The nearest face that stops sight (roof, wall, trim, obstacle) along a ray, from either side;
/// where the house is cut open, of what is left standing.
std::optional<Hit> first_hit(const Scene& scene, const Ray& ray,
                             const std::optional<HalfSpace>& keeps = std::nullopt);

/// The same for many pixels of one picture: every question looks only at what is drawn near the
/// pixel. `scene` and `lens` must outlive it.
class Seen {
 public:
  Seen(const Scene& scene, const Lens& lens);
  /// The nearest face that stops sight at a pixel.
  std::optional<Hit> at(glm::dvec2 pixel) const;
  bool is_in_sight(glm::dvec3 point) const;

 private:
  struct Piece {
    std::size_t face = 0;
    const Triangle* triangle = nullptr;
    glm::dvec2 low{0.0};  ///< of its pixels
    glm::dvec2 high{0.0};
  };
  void add(std::size_t face, const Triangle& triangle);
  const std::vector<std::size_t>& near(glm::dvec2 pixel) const;
  std::size_t column(double x) const;
  std::size_t row(double y) const;

  const Lens& lens_;
  std::vector<Piece> pieces_;
  std::size_t columns_ = 1;
  std::size_t rows_ = 1;
  std::vector<std::vector<std::size_t>> cells_;  ///< of the viewport, pieces by index
};

/// Whether nothing stands between the eye and `point` (which may lie on a face).
bool is_in_sight(const Scene& scene, const Lens& lens, glm::dvec3 point);

/// A line of the roof in sight within `reach_px` of the pixel, else the roof plane under it, else
/// nothing.
Picked pick(const Scene& scene, const Lens& lens, glm::dvec2 pixel, double reach_px);

/// A good direction to look from: of eight that look at the house from above its corners, the one
/// that sees most of the slots and of the lines. Earlier ones win ties, so equal input gives equal
/// output.
Camera best_view(const Scene& scene);

}  // namespace ridgeward::scene
