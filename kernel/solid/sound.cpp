// Taking out what is too small for the modelling kernel to tell from its own tolerances.
#include "solid/net.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <numeric>

namespace ridgeward::solid {

namespace {

constexpr double hair_m = 5e-5;

/// By point: the lowest of those that edges shorter than `least_m` tie together.
std::vector<std::uint32_t> tied_points(const Net& net, double least_m) {
  std::vector<std::uint32_t> tied(net.points.size());
  std::iota(tied.begin(), tied.end(), 0U);
  bool is_done = false;
  while (!is_done) {
    is_done = true;
    for (const auto& [a, b] : net.edges) {
      if (tied[a] != tied[b] && glm::length(net.points[a] - net.points[b]) < least_m) {
        tied[a] = tied[b] = std::min(tied[a], tied[b]);
        is_done = false;
      }
    }
  }
  return tied;
}

/// A loop through the points that stand for its own, each once.
std::vector<std::uint32_t> ring_of(const Net& net, const std::vector<Net::Step>& loop,
                                   const std::vector<std::uint32_t>& tied) {
  std::vector<std::uint32_t> ring;
  ring.reserve(loop.size());
  for (const Net::Step step : loop) {
    ring.push_back(tied[net.edges[step.edge][step.forward ? 0 : 1]]);
  }
  ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
  while (ring.size() > 1 && ring.front() == ring.back()) {
    ring.pop_back();
  }
  return ring;
}

/// The net with the ends of each edge shorter than `least_m` made one point; faces that lose their
/// corners go.
Net without_short_edges(const Net& net, double least_m) {
  const std::vector<std::uint32_t> tied = tied_points(net, least_m);
  Facets facets;
  facets.points = net.points;
  for (const Net::Face& face : net.faces) {
    Facets::Face left;
    left.normal = face.normal;
    for (const std::vector<Net::Step>& loop : face.loops) {
      std::vector<std::uint32_t> ring = ring_of(net, loop, tied);
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
  const Result<Shape> shape = checked(shape_of(net), what);
  return shape.ok() ? shape : checked(shape_of(without_short_edges(net, hair_m)), what);
}

}  // namespace ridgeward::solid
