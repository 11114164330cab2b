// The body of the roof: each roof down to its own lowest eave.
#include "solid/blocks.hpp"
#include "solid/bodies.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace ridgeward::solid {

namespace {

/// Lowest point of all planes that hang together, plane by plane: those of one part, and those that
/// meet in a line of the roof.
class Bases {
 public:
  explicit Bases(const surface::Surface& surface);
  double of(std::size_t plane) const { return base_m_[root(plane)]; }
  bool is_one() const;

 private:
  std::size_t root(std::size_t i) const {
    while (owner_[i] != i) {
      i = owner_[i];
    }
    return i;
  }
  void join(std::size_t one, std::size_t other) {
    const std::size_t a = root(one);
    const std::size_t b = root(other);
    owner_[std::max(a, b)] = std::min(a, b);
  }

  std::vector<std::size_t> owner_;
  std::vector<double> base_m_;
};

bool joins_roofs(surface::LineKind kind) {
  return kind == surface::LineKind::ridge || kind == surface::LineKind::hip ||
         kind == surface::LineKind::valley || kind == surface::LineKind::pitch_break;
}

Bases::Bases(const surface::Surface& surface)
    : owner_(surface.planes.size()), base_m_(surface.planes.size(), HUGE_VAL) {
  std::iota(owner_.begin(), owner_.end(), 0U);
  for (const surface::Line& line : surface.lines) {
    const PlaneId left = line.left_plane();
    const PlaneId right = line.right_plane();
    if (!left.is_none() && !right.is_none() && joins_roofs(line.kind)) {
      join(left.value, right.value);
    }
  }
  std::map<std::size_t, std::size_t> first_of_part;
  for (const PlaneId id : surface.planes.ids()) {
    const auto [first, is_new] = first_of_part.emplace(surface.planes[id].part, id.value);
    join(first->second, id.value);
  }
  for (const PlaneId id : surface.planes.ids()) {
    double& base = base_m_[root(id.value)];
    for (const surface::Loop& loop : surface.planes[id].loops) {
      for (const glm::dvec3& corner : surface::corners(surface, loop)) {
        base = std::min(base, corner.z);
      }
    }
  }
}

bool Bases::is_one() const {
  for (std::size_t i = 0; i < owner_.size(); ++i) {
    if (std::abs(of(i) - of(0)) > 1e-9) {
      return false;
    }
  }
  return true;
}

}  // namespace

Slope slope_of(const surface::Plane& plane) {
  const glm::dvec3& n = plane.frame.normal;
  const glm::dvec3& o = plane.frame.origin;
  const glm::dvec2 gradient = -glm::dvec2{n.x, n.y} / n.z;
  return {gradient, o.z - gradient.x * o.x - gradient.y * o.y};
}

Result<Bodies> roof_body(const surface::Surface& surface) {
  const Bases bases(surface);
  const auto shape = [&] {
    if (bases.is_one()) {
      return build(surface);
    }
    std::vector<Block> blocks;
    std::map<double, std::uint32_t> faces;
    for (const PlaneId id : surface.planes.ids()) {
      const surface::Plane& plane = surface.planes[id];
      const double base = bases.of(id.value);
      const auto face = faces.emplace(base, static_cast<std::uint32_t>(faces.size())).first->second;
      blocks.push_back({plan_of(surface, plane), level_at(base), slope_of(plane), face, id.value});
    }
    return built(stacked(blocks), "the solid of this roof");
  };
  Result<Shape> body = shape();
  if (!body) {
    return body.faults();
  }
  Bodies bodies;
  bodies.all.push_back({"roof", std::move(body).value()});
  return bodies;
}

}  // namespace ridgeward::solid
