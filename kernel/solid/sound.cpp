// Taking out what is too small for the modelling kernel to tell from its own tolerances.
#include "solid/net.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <numeric>

namespace ridgeward::solid {

namespace {

constexpr double hair_m = 5e-5;

/// The net with the ends of each edge shorter than `least_m` made one point; faces that lose their
/// corners go.
Net without_short_edges(const Net& net, double least_m) {
  std::vector<std::uint32_t> parent(net.points.size());
  std::iota(parent.begin(), parent.end(), 0U);
  const auto root = [&](std::uint32_t i) {
    while (parent[i] != i) {
      i = parent[i];
    }
    return i;
  };
  for (const auto& [a, b] : net.edges) {
    if (glm::length(net.points[a] - net.points[b]) < least_m) {
      const std::uint32_t one = root(a);
      const std::uint32_t other = root(b);
      parent[std::max(one, other)] = std::min(one, other);
    }
  }
  Facets facets;
  facets.points = net.points;
  for (const Net::Face& face : net.faces) {
    Facets::Face left;
    left.normal = face.normal;
    for (const std::vector<Net::Step>& loop : face.loops) {
      std::vector<std::uint32_t> ring;
      for (const Net::Step step : loop) {
        const std::uint32_t point = root(net.edges[step.edge][step.forward ? 0 : 1]);
        if (ring.empty() || ring.back() != point) {
          ring.push_back(point);
        }
      }
      while (ring.size() > 1 && ring.front() == ring.back()) {
        ring.pop_back();
      }
      if (ring.size() > 2) {
        left.loops.push_back(std::move(ring));
      }
    }
    if (!left.loops.empty()) {
      facets.faces.push_back(std::move(left));
    }
  }
  return net_of(facets);
}

}  // namespace

Result<Shape> sound(const Net& net, const std::string& what) {
  Result<Shape> shape = checked(shape_of(net), what);
  return shape.ok() ? shape : checked(shape_of(without_short_edges(net, hair_m)), what);
}

}  // namespace ridgeward::solid
