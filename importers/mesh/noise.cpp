#include "mesh/noise.hpp"

#include "support/vectors.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace ridgeward::mesh {
namespace {

using importing::cross;
using importing::dot;
using importing::length;
using importing::minus;
using importing::plus;
using importing::Point;
using importing::scaled;

/// The triangles around a corner: their other two corners, in their own turn.
using Fan = std::vector<std::pair<std::uint32_t, std::uint32_t>>;

/// Whether they close a ring: each of its corners ends one side and begins another.
bool is_closed(const Fan& fan) {
  std::vector<std::uint32_t> begins;
  std::vector<std::uint32_t> ends;
  for (const auto& [begin, end] : fan) {
    begins.push_back(begin);
    ends.push_back(end);
  }
  std::sort(begins.begin(), begins.end());
  std::sort(ends.begin(), ends.end());
  return begins == ends && std::adjacent_find(begins.begin(), begins.end()) == begins.end();
}

struct Seen {
  std::vector<double> heights;  ///< over the ring's plane, as of one corner by itself
  std::vector<double> sides;    ///< mean length from a corner to its ring
};

/// The normal of a fan is that of its ring, wherever the corner in its middle lies.
void look_at(const Triangles& mesh, const Point& corner, const Fan& fan, Seen& seen) {
  Point normal{0.0, 0.0, 0.0};
  Point middle{0.0, 0.0, 0.0};
  double sides = 0.0;
  const auto count = static_cast<double>(fan.size());
  for (const auto& [begin, end] : fan) {
    const Point a = minus(mesh.points[begin], corner);
    normal = plus(normal, cross(a, minus(mesh.points[end], corner)));
    middle = plus(middle, scaled(a, 1.0 / count));
    sides += length(a) / count;
  }
  const double size = length(normal);
  if (size > 1e-12) {
    seen.heights.push_back(-dot(normal, middle) / size / std::sqrt(1.0 + 1.0 / count));
    seen.sides.push_back(sides);
  }
}

double quantile(std::vector<double> values, double share) {
  const auto at =
      values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), at, values.end());
  return *at;
}

}  // namespace

std::optional<double> noise_of(const Triangles& mesh) {
  constexpr std::size_t least_corners = 100;
  constexpr std::size_t least_around = 4;
  std::vector<Fan> fans(mesh.points.size());
  for (const auto& t : mesh.corners) {
    for (std::size_t k = 0; k < 3; ++k) {
      fans[t.at(k)].emplace_back(t.at((k + 1) % 3), t.at((k + 2) % 3));
    }
  }
  Seen seen;
  for (std::size_t i = 0; i < fans.size(); ++i) {
    if (fans[i].size() >= least_around && is_closed(fans[i])) {
      look_at(mesh, mesh.points[i], fans[i], seen);
    }
  }
  if (seen.heights.size() < least_corners) {
    return std::nullopt;
  }
  // Of a normal distribution two fifths lie within 0.5244 standard deviations.
  constexpr double share = 0.4;
  constexpr double reach = 0.5244;
  std::vector<double> sizes;
  sizes.reserve(seen.heights.size());
  for (const double height : seen.heights) {
    sizes.push_back(std::abs(height));
  }
  const double noise = quantile(sizes, share) / reach;
  double near = 0.0;
  double above = 0.0;
  for (const double height : seen.heights) {
    const bool is_near = std::abs(height) < 2.0 * noise;
    near += is_near ? 1.0 : 0.0;
    above += is_near && height > 0.0 ? 1.0 : 0.0;
  }
  constexpr double least_side = 0.3;
  constexpr double most_of_sides = 0.25;
  const bool is_shape = std::min(above, near - above) < least_side * near ||
                        noise > most_of_sides * quantile(seen.sides, 0.5);
  return is_shape ? std::nullopt : std::optional(noise);
}

}  // namespace ridgeward::mesh
