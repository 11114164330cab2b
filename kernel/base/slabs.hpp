#pragma once
// Upright slabs through a polygon: between two neighbouring cuts no corner lies, so the polygon
// there is a stack of trapezoids. Rafters, bays and slots all run on this.
//
// Coordinates u (across) and v (up). Values of u within 1e-9 of each other are made equal first, so
// that an upright edge is exactly upright and a cut meant for a corner goes through it.

#include <glm/vec2.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace ridgeward::slabs {

/// A side of a polygon; `tag` is handed on to the trapezoids that it bounds.
struct Edge {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  std::uint32_t tag = 0;
};

/// One trapezoid: upright sides at u0 < u1, below and above an edge.
struct Piece {
  double u0 = 0.0;
  double u1 = 0.0;
  double low0 = 0.0;   ///< v of the lower edge at u0
  double low1 = 0.0;   ///< and at u1
  double high0 = 0.0;  ///< v of the upper edge at u0
  double high1 = 0.0;
  std::uint32_t low_tag = 0;
  std::uint32_t high_tag = 0;

  double low_at(double u) const;
  double high_at(double u) const;
};

struct Slabs {
  std::vector<double> cuts;        ///< rising; slab k lies between cuts[k] and cuts[k + 1]
  std::vector<Piece> pieces;       ///< by slab, then from below
  std::vector<std::size_t> first;  ///< pieces of slab k: first[k] up to first[k + 1]

  std::size_t count() const { return first.empty() ? 0 : first.size() - 1; }
  /// Number of the cut at u: the last one not beyond it (within 1e-9); clamped to the ends.
  std::size_t cut_at(double u) const;
  /// Whether a cut stands at u, within 1e-9.
  bool has_cut(double u) const;
};

/// Cuts the polygon bounded by `edges` (closed loops, any order, even-odd) at its own corners and
/// at `more` values of u; those outside the polygon are left out.
/// Laws: (1) the pieces cover the polygon once; (2) the ends of neighbouring pieces on one edge
/// agree to the last bit.
/// Cost: slabs times the edges over one slab.
Slabs cut(std::span<const Edge> edges, std::span<const double> more);

}  // namespace ridgeward::slabs
