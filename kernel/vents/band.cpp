#include "vents/band.hpp"

#include "base/slabs.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-9;
constexpr double level_slope = 1e-6;
constexpr double level_m = 1e-9;
constexpr double same_level_m = 1e-5;  // a united surface moves nodes by micrometres

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

/// What a plane's border has beneath a band.
enum class Foot { eave, slope, other };

Foot foot_of(const surface::Surface& surface, const slabs::Piece& piece, double eave_v_m) {
  const bool is_level =
      std::abs(piece.low1 - piece.low0) <= level_slope * (piece.u1 - piece.u0) + level_m;
  if (!is_level) {
    return Foot::slope;
  }
  const bool is_here = std::abs(0.5 * (piece.low0 + piece.low1) - eave_v_m) <= same_level_m;
  const surface::LineKind kind = surface.lines[LineId(piece.low_tag)].kind;
  const bool is_counted_from =
      kind == surface::LineKind::eave || kind == surface::LineKind::pitch_break;
  return is_here && is_counted_from ? Foot::eave : Foot::other;
}

/// A stretch as it grows from piece to piece.
struct Growing {
  BandStretch stretch;
  bool has_eave = false;
};

std::vector<slabs::Edge> border_of(const surface::Surface& surface, const surface::Plane& plane) {
  std::vector<slabs::Edge> edges;
  for (const surface::Loop& loop : plane.loops) {
    const std::vector<glm::dvec2> corners = surface::corners_uv(surface, plane.frame, loop);
    for (std::size_t i = 0; i < corners.size(); ++i) {
      edges.push_back({corners[i], corners[(i + 1) % corners.size()], loop[i].line.value});
    }
  }
  return edges;
}

/// Those over an eave, each with what ends it on the right.
std::vector<BandStretch> finished(std::vector<Growing> found, const std::vector<slabs::Edge>& edges,
                                  double middle) {
  std::vector<BandStretch> all;
  for (Growing& one : found) {
    BandStretch& stretch = one.stretch;
    if (stretch.right.line.is_none()) {
      stretch.right.line = upright_at(edges, stretch.right.u_m, middle, stretch.left.line);
    }
    if (one.has_eave) {
      all.push_back(stretch);
    }
  }
  return all;
}

}  // namespace

namespace {

/// Level lines of a kind that the plane rises from.
std::vector<EaveLine> lines_below(const surface::Surface& surface, const surface::Plane& plane,
                                  surface::LineKind kind) {
  std::vector<EaveLine> eaves;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface.lines[step.line];
      const glm::dvec2 a = plane.frame.uv(surface.nodes[line.from]);
      const glm::dvec2 b = plane.frame.uv(surface.nodes[line.to]);
      const bool is_break = kind == surface::LineKind::pitch_break;
      // The face lies on the left of its border: above a line that runs to the right.
      const bool is_below = !is_break || ((step.forward ? a.x < b.x : b.x < a.x) &&
                                          std::abs(a.y - b.y) <= same_level_m);
      if (line.kind == kind && is_below) {
        eaves.push_back({0.5 * (a.y + b.y), std::min(a.x, b.x), std::max(a.x, b.x), is_break});
      }
    }
  }
  std::sort(eaves.begin(), eaves.end(), [](const EaveLine& l, const EaveLine& r) {
    return std::abs(l.v_m - r.v_m) > same_level_m ? l.v_m < r.v_m : l.from_u_m < r.from_u_m;
  });
  return eaves;
}

}  // namespace

std::vector<EaveLine> eaves_of(const surface::Surface& surface, const surface::Plane& plane) {
  return lines_below(surface, plane, surface::LineKind::eave);
}

std::vector<EaveLine> feet_of(const surface::Surface& surface, const surface::Plane& plane) {
  const std::vector<EaveLine> feet = eaves_of(surface, plane);
  return feet.empty() ? lines_below(surface, plane, surface::LineKind::pitch_break) : feet;
}

std::vector<BandStretch> stretches(const surface::Surface& surface, const surface::Plane& plane,
                                   double eave_v_m, double low_m, double high_m) {
  const std::vector<slabs::Edge> edges = border_of(surface, plane);
  std::vector<Growing> found;
  const double low = eave_v_m + low_m;
  const double high = eave_v_m + high_m;
  const double middle = 0.5 * (low + high);
  LineId stopped_by;  // what lies under the band where it is not looked for
  double stopped_at = 0.0;
  for (const slabs::Piece& piece : slabs::cut(edges, {}).pieces) {
    Part part{piece.u0, piece.u1, {}, {}};
    part.keep_where(piece.u0, low - piece.low0, piece.u1, low - piece.low1, LineId(piece.low_tag));
    part.keep_where(piece.u0, piece.high0 - high, piece.u1, piece.high1 - high,
                    LineId(piece.high_tag));
    if (part.to - part.from <= near_m) {
      continue;
    }
    const Foot foot = foot_of(surface, piece, eave_v_m);
    // Two pieces that hold the band and share an upright side are one stretch.
    const bool goes_on = !found.empty() && part.left.is_none() &&
                         found.back().stretch.right.line.is_none() &&
                         std::abs(found.back().stretch.right.u_m - part.from) <= near_m;
    if (foot == Foot::other) {
      if (goes_on) {
        found.back().stretch.right.line = LineId(piece.low_tag);
      }
      stopped_by = LineId(piece.low_tag);
      stopped_at = part.to;
      continue;
    }
    if (goes_on) {
      found.back().stretch.right = {part.to, part.right};
    } else {
      const bool is_stopped = !stopped_by.is_none() && std::abs(stopped_at - part.from) <= near_m;
      found.push_back(
          {{{part.from, is_stopped ? stopped_by : part.left}, {part.to, part.right}}, false});
    }
    Growing& now = found.back();
    now.has_eave = now.has_eave || foot == Foot::eave;
    if (!goes_on && now.stretch.left.line.is_none()) {
      now.stretch.left.line =
          upright_at(edges, now.stretch.left.u_m, middle, LineId(piece.high_tag));
    }
  }
  return finished(std::move(found), edges, middle);
}

}  // namespace ridgeward::vents
