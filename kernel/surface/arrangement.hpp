#pragma once
// Segments of the plan cut up so that they meet only in shared vertices, and the faces between
// them. Private to this folder.

#include <glm/vec2.hpp>

#include <cstdint>
#include <vector>

namespace ridgeward::surface {

/// One input segment; `source` comes back on every edge that lies on it.
struct PlanSegment {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  std::uint32_t source = 0;
};

/// An input segment lying on an edge; `same_way` when it runs from the edge's first vertex to its
/// second.
struct OnEdge {
  std::uint32_t source = 0;
  bool same_way = true;
};

/// Half-edge 2k runs along edge k from `from` to `to`, 2k + 1 back. The face of a half-edge lies on
/// its left.
struct Arrangement {
  struct Edge {
    std::uint32_t from = 0;
    std::uint32_t to = 0;
    std::uint32_t first_source = 0;  ///< sources[first_source .. of the next edge)
  };
  std::vector<glm::dvec2> vertices;
  std::vector<Edge> edges;
  std::vector<OnEdge> sources;
  std::vector<std::uint32_t> next;   ///< by half-edge: the next one around the face
  std::vector<std::uint32_t> cycle;  ///< by half-edge: number of its cycle
  std::uint32_t cycle_count = 0;

  /// One past the last source of an edge.
  std::size_t source_end(std::uint32_t edge) const {
    return edge + 1 < edges.size() ? edges[edge + 1].first_source : sources.size();
  }
  std::uint32_t origin(std::uint32_t half_edge) const {
    const Edge& e = edges[half_edge / 2];
    return half_edge % 2 == 0 ? e.from : e.to;
  }
};

/// What is closer than this becomes one vertex.
inline constexpr double snap_m = 1e-6;

/// Laws: edges share at most their vertices; vertices lie at least snap_m apart; every input
/// segment is covered by edges within a few snap_m. Cost: O(n log n + k) for n segments in a plan
/// where each meets few others.
Arrangement arrange(const std::vector<PlanSegment>& segments);

}  // namespace ridgeward::surface
