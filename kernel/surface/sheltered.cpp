#include "surface/sheltered.hpp"

#include "base/regions.hpp"
#include "base/segment.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <utility>

namespace ridgeward::surface {

namespace {

constexpr double least_m2 = 1e-4;
constexpr double on_line_m = 1e-4;

/// z = base + dot(gradient, p).
struct Rise {
  glm::dvec2 gradient{0.0};
  double base_m = 0.0;
};
Rise rise_of(const Plane& plane) {
  const glm::dvec3 n = plane.frame.normal;
  const glm::dvec2 gradient = -glm::dvec2(n) / n.z;
  return {gradient, plane.frame.origin.z - glm::dot(gradient, glm::dvec2(plane.frame.origin))};
}

/// The planes of one part that end at walls of another, each with the lines at which it does.
using Ends = std::map<PlaneId, std::vector<LineId>>;
/// By the lower part and the one whose walls they are.
std::map<std::pair<std::size_t, std::size_t>, Ends> ends_at_walls(const Surface& surface) {
  using Of = Side::Of;
  std::map<std::pair<std::size_t, std::size_t>, Ends> all;
  for (const LineId id : surface.lines.ids()) {
    const Line& line = surface.lines[id];
    const Side& wall = line.left.of == Of::wall ? line.left : line.right;
    const PlaneId plane = line.left.of == Of::wall ? line.right_plane() : line.left_plane();
    if ((line.kind != LineKind::headwall && line.kind != LineKind::sidewall) ||
        wall.of != Of::wall || plane.is_none() || surface.walls[wall.index].is_at_chimney) {
      continue;
    }
    const std::size_t lower = surface.planes[plane].part;
    const std::size_t upper = surface.walls[wall.index].part;
    if (lower != upper) {
      all[{lower, upper}][plane].push_back(id);
    }
  }
  return all;
}

/// Where another plane lies above this one.
polygon::HalfPlane below(const Rise& one, const Rise& other) {
  return {other.gradient - one.gradient, one.base_m - other.base_m};
}

double lowest_m(const Surface& surface, const Plane& plane) {
  double least = HUGE_VAL;
  for (const Loop& loop : plane.loops) {
    for (const glm::dvec3& corner : corners(surface, loop)) {
      least = std::min(least, corner.z);
    }
  }
  return least;
}

/// Where a plane of the part is its roof beside each neighbour that it shares a line with: under it
/// where both fall away from the line, over it where they fall to it. A far plane of a part with an
/// inside corner, lengthened, may pass lower, and means nothing here.
std::map<PlaneId, polygon::HalfPlane> beside_neighbours(const Surface& surface, PlaneId id) {
  std::map<PlaneId, polygon::HalfPlane> bounds;
  const Rise own = rise_of(surface.planes[id]);
  for (const Line& line : surface.lines) {
    const bool is_left = line.left_plane() == id;
    const PlaneId other = is_left ? line.right_plane() : line.left_plane();
    if ((!is_left && line.right_plane() != id) || other.is_none() ||
        surface.planes[other].part != surface.planes[id].part) {
      continue;
    }
    const glm::dvec2 d = glm::dvec2(surface.nodes[line.to] - surface.nodes[line.from]);
    const glm::dvec2 inward = is_left ? glm::dvec2{-d.y, d.x} : glm::dvec2{d.y, -d.x};
    const Rise beside = rise_of(surface.planes[other]);
    const bool is_under = glm::dot(own.gradient - beside.gradient, inward) < 0.0;
    bounds.emplace(other, is_under ? below(own, beside) : below(beside, own));
  }
  return bounds;
}

/// Convex pieces of `over` where a plane, not below its own foot, is the roof of its part and lies
/// under the roof that hangs over. Of planes that end there and share no line, the lowest is.
polygon::Loops lowest_in(const Surface& surface, const polygon::Loops& over, PlaneId id,
                         const Plane& above, const Ends& ends) {
  const Plane& plane = surface.planes[id];
  const Rise own = rise_of(plane);
  std::map<PlaneId, polygon::HalfPlane> beside = beside_neighbours(surface, id);
  for (const auto& [other, lines] : ends) {
    if (other != id) {
      beside.emplace(other, below(own, rise_of(surface.planes[other])));
    }
  }
  std::vector<polygon::HalfPlane> bounds{below(own, rise_of(above)),
                                         {own.gradient, lowest_m(surface, plane) - own.base_m}};
  for (const auto& [other, bound] : beside) {
    bounds.push_back(bound);
  }
  polygon::Loops pieces;
  for (polygon::Loop piece : polygon::convex_pieces(over)) {
    for (const polygon::HalfPlane& bound : bounds) {
      piece = piece.size() > 2 ? polygon::clip(piece, bound) : polygon::Loop{};
    }
    if (piece.size() > 2 && std::abs(polygon::area(piece)) > least_m2) {
      pieces.push_back(std::move(piece));
    }
  }
  return pieces;
}

/// Whether a side of the loop runs along the line in plan.
bool lies_at(const polygon::Loop& loop, glm::dvec2 a, glm::dvec2 b) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 p = loop[i];
    const glm::dvec2 q = loop[(i + 1) % loop.size()];
    const bool is_near = segment::distance(a, b, 0.5 * (p + q)) <= on_line_m;
    const double aside = std::abs((q - p).x * (b - a).y - (q - p).y * (b - a).x);
    if (is_near && aside <= on_line_m * glm::length(b - a) * glm::length(q - p) + 1e-9) {
      return true;
    }
  }
  return false;
}

/// Whether the upper part is laid over the lower one: what is beneath it is known.
bool has_blind_deck(const Surface& surface, std::size_t lower, std::size_t upper) {
  return std::any_of(surface.blind_decks.begin(), surface.blind_decks.end(),
                     [&](const BlindDeck& deck) {
                       return deck.cricket.empty() && deck.part == upper && !deck.plane.is_none() &&
                              surface.planes[deck.plane].part == lower;
                     });
}

/// Takes up the pieces that hang together with a line of `like` at which the plane ends.
void add(Surface& surface, const Sheltered& like, const polygon::Loops& pieces) {
  if (pieces.empty()) {
    return;
  }
  std::vector<polygon::Loops> each;
  for (const polygon::Loop& piece : pieces) {
    each.push_back({piece});
  }
  polygon::Loops whole = regions::united(each);
  for (const BlindDeck& deck : surface.blind_decks) {
    if (deck.plane == like.plane) {
      whole = regions::without(whole, plan_of(deck.frame, deck.outline_uv));
    }
  }
  for (const polygon::Loop& loop : whole) {
    if (polygon::area(loop) <= least_m2) {
      continue;
    }
    Sheltered one{like.plane, like.above, {loop}, {}};
    std::copy_if(whole.begin(), whole.end(), std::back_inserter(one.plan),
                 [&](const polygon::Loop& hole) {
                   return polygon::area(hole) < 0.0 && polygon::contains(loop, hole.front());
                 });
    for (const LineId id : like.lines) {
      const Line& line = surface.lines[id];
      if (lies_at(loop, glm::dvec2(surface.nodes[line.from]), glm::dvec2(surface.nodes[line.to]))) {
        one.lines.push_back(id);
      }
    }
    if (!one.lines.empty()) {
      surface.sheltered_decks.push_back(std::move(one));
    }
  }
}

}  // namespace

void lay_out_sheltered_decks(Surface& surface) {
  if (surface.wall_outlines.size() < 2) {
    return;
  }
  for (const auto& [parts, ends] : ends_at_walls(surface)) {
    const auto [lower, upper] = parts;
    if (has_blind_deck(surface, lower, upper)) {
      continue;
    }
    for (const PlaneId above : surface.planes.ids()) {
      if (surface.planes[above].part != upper) {
        continue;
      }
      const polygon::Loops over = regions::without(
          regions::common(plan_of(surface, surface.planes[above]), surface.drip_outlines[lower]),
          surface.wall_outlines[upper]);
      for (const auto& [plane, lines] : ends) {
        add(surface, {plane, above, {}, lines},
            lowest_in(surface, over, plane, surface.planes[above], ends));
      }
    }
  }
}

std::vector<polygon::Loops> sheltered_uv(const Surface& surface, PlaneId id) {
  std::vector<polygon::Loops> all;
  for (const Sheltered& deck : surface.sheltered_decks) {
    if (deck.plane == id) {
      all.push_back(on_plane(surface.planes[id].frame, deck.plan));
    }
  }
  return all;
}

}  // namespace ridgeward::surface
