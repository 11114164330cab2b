#include "framing/plane_border.hpp"

#include "base/regions.hpp"
#include "base/segment.hpp"
#include "surface/sheltered.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <utility>

namespace ridgeward::framing {

namespace {

/// Whether a side lies on an edge, by its middle.
bool is_on(const BorderEdge& edge, glm::dvec2 a, glm::dvec2 b) {
  constexpr double on_line_m = 1e-5;  // a union moves borders by micrometres
  const glm::dvec2 way = edge.b - edge.a;
  const double length = glm::length(way);
  const double along = glm::dot(0.5 * (a + b) - edge.a, way) / length;
  const auto is_beside = [&](glm::dvec2 p) {
    const glm::dvec2 d = p - edge.a;
    return std::abs(d.x * way.y - d.y * way.x) <= on_line_m * length;
  };
  return along >= 0.0 && along <= length && is_beside(a) && is_beside(b);
}

/// The line of the border on which the middle of a side lies; none where there is none.
LineId line_on(const std::vector<BorderEdge>& border, glm::dvec2 a, glm::dvec2 b) {
  const auto found = std::find_if(border.begin(), border.end(),
                                  [&](const BorderEdge& edge) { return is_on(edge, a, b); });
  return found == border.end() ? LineId() : found->line;
}

/// A loop of a blind deck that meets the plane's border corner by corner: the two were found apart,
/// a micrometre off each other.
polygon::Loop knitted(const polygon::Loop& loop, const std::vector<BorderEdge>& border) {
  constexpr double apart_m = 1e-5;
  polygon::Loop knit;
  for (const glm::dvec2 p : loop) {
    double nearest = apart_m;
    glm::dvec2 moved = p;
    for (const BorderEdge& edge : border) {
      const glm::dvec2 on = segment::nearest(edge.a, edge.b, p);
      const bool is_corner = glm::length(p - edge.a) < apart_m;
      const double off = is_corner ? 0.0 : glm::length(p - on);
      if (off < nearest || is_corner) {
        nearest = off;
        moved = is_corner ? edge.a : on;
      }
    }
    knit.push_back(moved);
  }
  polygon::Loop whole;
  for (std::size_t i = 0; i < knit.size(); ++i) {
    const glm::dvec2 a = knit[i];
    const glm::dvec2 way = knit[(i + 1) % knit.size()] - a;
    std::vector<std::pair<double, glm::dvec2>> between;
    for (const BorderEdge& edge : border) {
      const double share = glm::dot(edge.a - a, way) / glm::dot(way, way);
      const double margin = apart_m / glm::length(way);
      if (share > margin && share < 1.0 - margin &&
          glm::length(edge.a - (a + share * way)) < apart_m) {
        between.emplace_back(share, edge.a);
      }
    }
    std::sort(between.begin(), between.end(),
              [](const auto& l, const auto& r) { return l.first < r.first; });
    whole.push_back(a);
    for (const auto& [share, corner] : between) {
      whole.push_back(corner);
    }
  }
  return whole;
}

}  // namespace

PlaneBorder border_of(const surface::Surface& surface, PlaneId id) {
  const surface::Plane& plane = surface.planes[id];
  PlaneBorder seen;
  for (const surface::Loop& loop : plane.loops) {
    seen.loops.push_back(surface::corners_uv(surface, plane.frame, loop));
    const polygon::Loop& corners = seen.loops.back();
    for (std::size_t i = 0; i < corners.size(); ++i) {
      seen.edges.push_back({corners[i], corners[(i + 1) % corners.size()], loop[i].line});
    }
  }
  std::vector<polygon::Loops> all{seen.loops};
  for (const surface::BlindDeck& deck : surface.blind_decks) {
    if (deck.plane == id) {
      polygon::Loops& knit = all.emplace_back();
      for (const polygon::Loop& loop : deck.outline_uv) {
        knit.push_back(knitted(loop, seen.edges));
      }
    }
  }
  for (polygon::Loops& piece : surface::sheltered_uv(surface, id)) {
    for (polygon::Loop& loop : piece) {
      loop = knitted(loop, seen.edges);
    }
    all.push_back(std::move(piece));
  }
  if (all.size() == 1) {
    return seen;
  }
  PlaneBorder whole;
  whole.loops = regions::united(all);
  for (const polygon::Loop& loop : whole.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 b = loop[(i + 1) % loop.size()];
      whole.edges.push_back({loop[i], b, line_on(seen.edges, loop[i], b)});
    }
  }
  return whole;
}

}  // namespace ridgeward::framing
