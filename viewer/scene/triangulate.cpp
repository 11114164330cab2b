#include "scene/triangulate.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace ridgeward::scene {
namespace {

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }
double turn(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c) { return cross(b - a, c - a); }

/// One corner of the ring that is being cut: its point and its index in the input.
struct Corner {
  glm::dvec2 at;
  std::size_t index;
};
using Ring = std::vector<Corner>;

const Corner& wrapped(const Ring& ring, std::size_t i) { return ring[i % ring.size()]; }

bool cross_properly(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c, glm::dvec2 d) {
  const double c_side = turn(a, b, c);
  const double d_side = turn(a, b, d);
  const double a_side = turn(c, d, a);
  const double b_side = turn(c, d, b);
  return ((c_side > 0) != (d_side > 0)) && ((a_side > 0) != (b_side > 0)) && c_side != 0 &&
         d_side != 0 && a_side != 0 && b_side != 0;
}

/// Whether `p` lies on the open segment a-b.
bool lies_between(glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
  return p != a && p != b && turn(a, b, p) == 0.0 && glm::dot(p - a, p - b) < 0.0;
}

bool blocks(const Ring& ring, glm::dvec2 a, glm::dvec2 b) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (cross_properly(a, b, ring[i].at, wrapped(ring, i + 1).at) ||
        lies_between(a, b, ring[i].at)) {
      return true;
    }
  }
  return false;
}

/// Whether `p` seen from corner i lies within the ring's inner angle there.
bool is_inside_angle(const Ring& ring, std::size_t i, glm::dvec2 p) {
  const glm::dvec2 before = wrapped(ring, i + ring.size() - 1).at;
  const glm::dvec2 here = ring[i].at;
  const glm::dvec2 after = wrapped(ring, i + 1).at;
  const bool left_of_out = turn(here, after, p) >= 0;
  const bool left_of_in = turn(before, here, p) >= 0;
  return turn(before, here, after) >= 0 ? (left_of_out && left_of_in) : (left_of_out || left_of_in);
}

struct Bridge {
  std::size_t outer = 0;
  std::size_t hole = 0;
};

/// The shortest line from the ring to the hole that crosses nothing.
std::optional<Bridge> find_bridge(const Ring& ring, const Ring& hole,
                                  const std::vector<Ring>& others) {
  std::optional<Bridge> best;
  double best_length = std::numeric_limits<double>::infinity();
  for (std::size_t o = 0; o < ring.size(); ++o) {
    for (std::size_t h = 0; h < hole.size(); ++h) {
      const glm::dvec2 a = ring[o].at;
      const glm::dvec2 b = hole[h].at;
      const double length = glm::dot(b - a, b - a);
      const auto in_the_way = [&](const Ring& other) { return blocks(other, a, b); };
      if (length < best_length && is_inside_angle(ring, o, b) && is_inside_angle(hole, h, a) &&
          !blocks(ring, a, b) && std::none_of(others.begin(), others.end(), in_the_way)) {
        best = Bridge{o, h};
        best_length = length;
      }
    }
  }
  return best;
}

/// Joins each hole to the outer ring by a bridge run in both directions.
Ring joined(const std::vector<Ring>& rings) {
  Ring ring = rings.front();
  std::vector<Ring> holes(rings.begin() + 1, rings.end());
  while (!holes.empty()) {
    std::size_t chosen = 0;
    std::optional<Bridge> bridge;
    for (chosen = 0; chosen < holes.size() && !bridge; ++chosen) {
      bridge = find_bridge(ring, holes[chosen], holes);
    }
    if (!bridge) {
      break;  // holes that no bridge reaches lie outside: they take nothing away
    }
    const Ring& hole = holes[chosen - 1];
    Ring next(ring.begin(), ring.begin() + static_cast<std::ptrdiff_t>(bridge->outer) + 1);
    for (std::size_t i = 0; i <= hole.size(); ++i) {
      next.push_back(wrapped(hole, bridge->hole + i));
    }
    next.insert(next.end(), ring.begin() + static_cast<std::ptrdiff_t>(bridge->outer), ring.end());
    ring = std::move(next);
    holes.erase(holes.begin() + static_cast<std::ptrdiff_t>(chosen) - 1);
  }
  return ring;
}

bool holds(const std::array<glm::dvec2, 3>& t, glm::dvec2 p) {
  return p != t[0] && p != t[1] && p != t[2] && turn(t[0], t[1], p) >= 0 &&
         turn(t[1], t[2], p) >= 0 && turn(t[2], t[0], p) >= 0;
}

bool is_ear(const Ring& ring, std::size_t i) {
  const std::array<glm::dvec2, 3> t{wrapped(ring, i + ring.size() - 1).at, ring[i].at,
                                    wrapped(ring, i + 1).at};
  if (turn(t[0], t[1], t[2]) <= 0) {
    return false;
  }
  return std::none_of(ring.begin(), ring.end(), [&](const Corner& c) { return holds(t, c.at); });
}

/// A corner that adds no area: on a straight run, on a spike, or repeated.
bool is_flat(const Ring& ring, std::size_t i) {
  return turn(wrapped(ring, i + ring.size() - 1).at, ring[i].at, wrapped(ring, i + 1).at) == 0.0;
}

/// The next corner to cut: a flat one, an ear, or, where rounding hides every ear, the corner that
/// turns left the most.
std::size_t next_cut(const Ring& ring) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (is_flat(ring, i)) {
      return i;
    }
  }
  std::size_t widest = 0;
  double widest_turn = -std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (is_ear(ring, i)) {
      return i;
    }
    const double here =
        turn(wrapped(ring, i + ring.size() - 1).at, ring[i].at, wrapped(ring, i + 1).at);
    if (here > widest_turn) {
      widest = i;
      widest_turn = here;
    }
  }
  return widest;
}

using Triangle2 = std::array<glm::dvec2, 3>;

/// Sutherland-Hodgman on one convex polygon.
Polygon cut(const Polygon& polygon, const HalfPlane& half) {
  Polygon kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const glm::dvec2 a = polygon[i];
    const glm::dvec2 b = polygon[(i + 1) % polygon.size()];
    const double a_in = glm::dot(half.inward, a) - half.offset;
    const double b_in = glm::dot(half.inward, b) - half.offset;
    if (a_in >= 0) {
      kept.push_back(a);
    }
    if ((a_in > 0 && b_in < 0) || (a_in < 0 && b_in > 0)) {
      kept.push_back(a + (b - a) * (a_in / (a_in - b_in)));
    }
  }
  return kept;
}

}  // namespace

double signed_area(const Polygon& polygon) {
  double twice = 0.0;
  for (std::size_t i = 1; i + 1 < polygon.size(); ++i) {
    twice += turn(polygon[0], polygon[i], polygon[i + 1]);
  }
  return twice / 2;
}

std::vector<std::array<std::size_t, 3>> triangulate(const std::vector<Polygon>& loops) {
  std::vector<Ring> rings;
  std::size_t index = 0;
  for (const Polygon& loop : loops) {
    Ring ring;
    for (const glm::dvec2 p : loop) {
      ring.push_back({p, index++});
    }
    if (ring.size() >= 3) {
      rings.push_back(std::move(ring));
    }
  }
  std::vector<std::array<std::size_t, 3>> triangles;
  if (rings.empty()) {
    return triangles;
  }
  Ring ring = joined(rings);
  while (ring.size() >= 3) {
    const std::size_t i = next_cut(ring);
    const Corner& before = wrapped(ring, i + ring.size() - 1);
    const Corner& after = wrapped(ring, i + 1);
    if (turn(before.at, ring[i].at, after.at) > 0) {
      triangles.push_back({before.index, ring[i].index, after.index});
    }
    ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(i));
  }
  return triangles;
}

std::vector<Triangle2> clip(const std::vector<Triangle2>& triangles,
                            const std::vector<HalfPlane>& within) {
  std::vector<Triangle2> kept;
  for (const Triangle2& triangle : triangles) {
    Polygon piece(triangle.begin(), triangle.end());
    for (const HalfPlane& half : within) {
      piece = cut(piece, half);
    }
    for (std::size_t i = 1; i + 1 < piece.size(); ++i) {
      if (turn(piece[0], piece[i], piece[i + 1]) > 0) {
        kept.push_back({piece[0], piece[i], piece[i + 1]});
      }
    }
  }
  return kept;
}

}  // namespace ridgeward::scene
