#include "vents/band.hpp"

#include "base/slabs.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-9;

/// The part of [from, to] on which a linear function, f0 at u0 and f1 at u1, is at least nothing.
struct Part {
  double from = 0.0;
  double to = 0.0;
  LineId left;  ///< what cut it on the left, none when nothing did
  LineId right;

  void keep_where(double u0, double f0, double u1, double f1, LineId by) {
    const bool is_in0 = f0 >= -near_m;
    const bool is_in1 = f1 >= -near_m;
    if (is_in0 && is_in1) {
      return;
    }
    if (!is_in0 && !is_in1) {
      to = from;
      return;
    }
    const double zero = u0 + f0 / (f0 - f1) * (u1 - u0);
    if (is_in0 && zero < to) {
      to = zero;
      right = by;
    } else if (!is_in0 && zero > from) {
      from = zero;
      left = by;
    }
  }
};

/// The upright border line at u that stands beside the band; `otherwise` when the plane ends there
/// in a corner.
LineId upright_at(const std::vector<slabs::Edge>& edges, double u, double middle,
                  LineId otherwise) {
  for (const slabs::Edge& edge : edges) {
    const bool is_upright =
        std::abs(edge.a.x - u) <= 2.0 * near_m && std::abs(edge.b.x - u) <= 2.0 * near_m;
    if (is_upright && (edge.a.y > middle) != (edge.b.y > middle)) {
      return LineId(edge.tag);
    }
  }
  return otherwise;
}

}  // namespace

std::vector<BandStretch> stretches(const surface::Surface& surface, const surface::Plane& plane,
                                   double low_m, double high_m) {
  std::vector<slabs::Edge> edges;
  for (const surface::Loop& loop : plane.loops) {
    const std::vector<glm::dvec2> corners = surface::corners_uv(surface, plane.frame, loop);
    for (std::size_t i = 0; i < corners.size(); ++i) {
      edges.push_back({corners[i], corners[(i + 1) % corners.size()], loop[i].line.value});
    }
  }
  std::vector<BandStretch> found;
  const double middle = 0.5 * (low_m + high_m);
  for (const slabs::Piece& piece : slabs::cut(edges, {}).pieces) {
    Part part{piece.u0, piece.u1, {}, {}};
    part.keep_where(piece.u0, low_m - piece.low0, piece.u1, low_m - piece.low1,
                    LineId(piece.low_tag));
    part.keep_where(piece.u0, piece.high0 - high_m, piece.u1, piece.high1 - high_m,
                    LineId(piece.high_tag));
    if (part.to - part.from <= near_m) {
      continue;
    }
    // Two pieces that hold the band and share an upright side are one stretch.
    const bool goes_on = !found.empty() && part.left.is_none() &&
                         found.back().right.line.is_none() &&
                         std::abs(found.back().right.u_m - part.from) <= near_m;
    if (goes_on) {
      found.back().right = {part.to, part.right};
    } else {
      found.push_back({{part.from, part.left}, {part.to, part.right}});
    }
    BandStretch& now = found.back();
    if (!goes_on && now.left.line.is_none()) {
      now.left.line = upright_at(edges, now.left.u_m, middle, LineId(piece.high_tag));
    }
  }
  for (BandStretch& stretch : found) {
    if (stretch.right.line.is_none()) {
      stretch.right.line = upright_at(edges, stretch.right.u_m, middle, stretch.left.line);
    }
  }
  return found;
}

}  // namespace ridgeward::vents
