#include "framing/layout.hpp"

#include "framing/stage.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-9;
/// Of one plane, so that no wall is too long to be framed: 4000 rafters at 16 in reach a mile.
constexpr double most_marks = 4000.0;

/// A strip along the eave in which no layout mark may stand.
struct Closed {
  double from_m = 0.0;
  double to_m = 0.0;
};

bool is_wall(surface::LineKind kind) {
  return kind == surface::LineKind::sidewall || kind == surface::LineKind::step_wall;
}

bool overlaps(const std::vector<double>& standing, double at, double thickness_m) {
  return std::any_of(standing.begin(), standing.end(),
                     [&](double other) { return std::abs(other - at) < thickness_m - near_m; });
}

bool is_closed(const std::vector<Closed>& closed, double at) {
  return std::any_of(closed.begin(), closed.end(), [&](const Closed& strip) {
    return at > strip.from_m - near_m && at < strip.to_m + near_m;
  });
}

/// Rafters that stand at borders of the plane whatever the spacing.
std::vector<double> end_rafters(const model::Part& part, const surface::Surface& surface,
                                const surface::Plane& plane, const std::vector<BorderEdge>& border,
                                double thickness_m) {
  std::vector<double> ends;
  const auto stand = [&](double at) {
    if (!overlaps(ends, at, thickness_m)) {
      ends.push_back(at);
    }
  };
  const Neighbours beside = neighbours_of(part, plane.edge);
  if (part.edge(beside.before).kind == model::EdgeKind::gable) {
    stand(plane.wall_start_u_m + 0.5 * thickness_m);
  }
  if (part.edge(beside.after).kind == model::EdgeKind::gable) {
    stand(plane.wall_end_u_m - 0.5 * thickness_m);
  }
  for (const BorderEdge& edge : border) {
    const glm::dvec2 d = edge.b - edge.a;
    if (std::abs(d.x) <= near_m && std::abs(d.y) > thickness_m &&
        is_wall(surface.lines[edge.line].kind)) {
      stand(edge.a.x + (d.y > 0.0 ? -0.5 : 0.5) * thickness_m);
    }
  }
  return ends;
}

/// The rake overhangs beyond gable-end walls.
std::vector<Closed> lookout_strips(const model::Part& part, const surface::Plane& plane) {
  std::vector<Closed> strips;
  const Neighbours beside = neighbours_of(part, plane.edge);
  const model::Edge& before = part.edge(beside.before);
  const model::Edge& after = part.edge(beside.after);
  if (before.kind == model::EdgeKind::gable) {
    strips.push_back({plane.wall_start_u_m - before.overhang_m, plane.wall_start_u_m});
  }
  if (after.kind == model::EdgeKind::gable) {
    strips.push_back({plane.wall_end_u_m, plane.wall_end_u_m + after.overhang_m});
  }
  return strips;
}

const model::MeasuredEdge* measured_edge(const model::Part& part, std::size_t edge) {
  for (const model::MeasuredEdge& measured : part.framing.measured) {
    if (measured.edge >= 0 && static_cast<std::size_t>(measured.edge) == edge &&
        !measured.at_m.empty()) {
      return &measured;
    }
  }
  return nullptr;
}

}  // namespace

Neighbours neighbours_of(const model::Part& part, std::size_t edge) {
  std::size_t first = 0;
  std::size_t count = part.edges.size();
  for (const model::Hole& hole : part.holes) {
    if (edge < first + count) {
      break;
    }
    first += count;
    count = hole.edges.size();
  }
  const std::size_t local = edge - first;
  return {first + (local + count - 1) % count, first + (local + 1) % count};
}

std::vector<double> lay_out(const model::Part& part, const surface::Surface& surface,
                            const surface::Plane& plane, const std::vector<BorderEdge>& border,
                            double thickness_m) {
  const std::vector<double> ends = end_rafters(part, surface, plane, border, thickness_m);
  std::vector<double> standing;
  if (const model::MeasuredEdge* measured = measured_edge(part, plane.edge)) {
    for (const double at : measured->at_m) {
      if (!overlaps(standing, plane.wall_start_u_m + at, thickness_m)) {
        standing.push_back(plane.wall_start_u_m + at);
      }
    }
    for (const double at : ends) {
      if (!overlaps(standing, at, thickness_m)) {
        standing.push_back(at);
      }
    }
  } else {
    standing = ends;
    const std::vector<Closed> closed = lookout_strips(part, plane);
    double from = border.front().a.x;
    double to = from;
    for (const BorderEdge& edge : border) {
      from = std::min(from, edge.a.x);
      to = std::max(to, edge.a.x);
    }
    const double spacing =
        std::max({part.framing.spacing_m, thickness_m, (to - from) / most_marks});
    const double origin = plane.wall_start_u_m + part.framing.origin_m;
    const double first = std::ceil((from - origin) / spacing - near_m);
    for (double k = first; origin + k * spacing <= to + near_m; k += 1.0) {
      const double at = origin + k * spacing;
      if (!overlaps(ends, at, thickness_m) && !is_closed(closed, at)) {
        standing.push_back(at);
      }
    }
  }
  std::sort(standing.begin(), standing.end());
  return standing;
}

}  // namespace ridgeward::framing
