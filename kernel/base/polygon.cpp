#include "base/polygon.hpp"

#include "base/segment.hpp"
#include "base/slabs.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace ridgeward::polygon {

namespace {

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

bool is_on_segment(glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
  const glm::dvec2 gap = p - segment::nearest(a, b, p);
  return glm::dot(gap, gap) <= tolerance * tolerance;
}

/// Crossings of the ray from p to the right with the loop, or -1 when p lies on the border.
int crossings(std::span<const glm::dvec2> loop, glm::dvec2 p) {
  int count = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 a = loop[i];
    const glm::dvec2 b = loop[(i + 1) % loop.size()];
    if (is_on_segment(a, b, p)) {
      return -1;
    }
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) {
      ++count;
    }
  }
  return count;
}

}  // namespace

void Box::add(glm::dvec2 p) {
  if (is_empty()) {
    low = high = p;
    return;
  }
  low = {std::min(low.x, p.x), std::min(low.y, p.y)};
  high = {std::max(high.x, p.x), std::max(high.y, p.y)};
}

bool Box::touches(const Box& other) const {
  return !is_empty() && !other.is_empty() && low.x <= other.high.x && other.low.x <= high.x &&
         low.y <= other.high.y && other.low.y <= high.y;
}

Box box_of(std::span<const glm::dvec2> loop) {
  Box box;
  for (const glm::dvec2 p : loop) {
    box.add(p);
  }
  return box;
}

double area(std::span<const glm::dvec2> loop) {
  if (loop.empty()) {
    return 0.0;
  }
  double twice = 0.0;
  const glm::dvec2 base = loop.front();  // near numbers keep more digits
  for (std::size_t i = 1; i + 1 < loop.size(); ++i) {
    twice += cross(loop[i] - base, loop[i + 1] - base);
  }
  return 0.5 * twice;
}

double area(const Loops& loops) {
  return std::accumulate(loops.begin(), loops.end(), 0.0,
                         [](double sum, const Loop& loop) { return sum + area(loop); });
}

glm::dvec2 centroid(std::span<const glm::dvec2> loop) {
  const glm::dvec2 base = loop.front();
  double twice = 0.0;
  glm::dvec2 moment{0.0};
  glm::dvec2 mean{0.0};
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 a = loop[i] - base;
    const glm::dvec2 b = loop[(i + 1) % loop.size()] - base;
    twice += cross(a, b);
    moment += cross(a, b) * (a + b);
    mean += a / static_cast<double>(loop.size());
  }
  if (std::abs(twice) <= tolerance * tolerance) {
    return base + mean;
  }
  return base + moment / (3.0 * twice);
}

bool contains(std::span<const glm::dvec2> loop, glm::dvec2 p) {
  const int count = crossings(loop, p);
  return count < 0 || count % 2 == 1;
}

bool contains(const Loops& loops, glm::dvec2 p) {
  int count = 0;
  for (const Loop& loop : loops) {
    const int more = crossings(loop, p);
    if (more < 0) {
      return true;
    }
    count += more;
  }
  return count % 2 == 1;
}

Loop clip(const Loop& convex, const HalfPlane& keep) {
  const double scale = glm::length(keep.normal);
  if (scale == 0.0) {
    return keep.offset <= 0.0 ? convex : Loop{};
  }
  Loop kept;
  kept.reserve(convex.size() + 1);
  bool has_inside = false;
  double before = 0.0;
  for (std::size_t i = 0; i <= convex.size(); ++i) {
    const glm::dvec2 p = convex[i % convex.size()];
    double side = (glm::dot(keep.normal, p) - keep.offset) / scale;
    if (std::abs(side) <= tolerance) {
      side = 0.0;
    }
    if (i > 0) {
      const glm::dvec2 q = convex[i - 1];
      if ((before > 0.0 && side < 0.0) || (before < 0.0 && side > 0.0)) {
        kept.push_back(q + before / (before - side) * (p - q));
      }
      if (side >= 0.0) {
        kept.push_back(p);
        has_inside = has_inside || side > 0.0;
      }
    }
    before = side;
  }
  return has_inside && kept.size() >= 3 ? kept : Loop{};
}

Loop overlap(const Loop& convex, const Loop& other) {
  Loop left = convex;
  for (std::size_t i = 0; i < other.size() && !left.empty(); ++i) {
    const glm::dvec2 a = other[i];
    const glm::dvec2 along = other[(i + 1) % other.size()] - a;
    const glm::dvec2 inward{-along.y, along.x};
    left = clip(left, {inward, glm::dot(inward, a)});
  }
  return left;
}

Loops convex_pieces(const Loops& loops) {
  std::vector<slabs::Edge> edges;
  for (const Loop& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      edges.push_back({loop[i], loop[(i + 1) % loop.size()], 0});
    }
  }
  Loops pieces;
  for (const slabs::Piece& piece : slabs::cut(edges, {}).pieces) {
    Loop corners = without_idle_points({{piece.u0, piece.low0},
                                        {piece.u1, piece.low1},
                                        {piece.u1, piece.high1},
                                        {piece.u0, piece.high0}});
    if (corners.size() >= 3) {
      pieces.push_back(std::move(corners));
    }
  }
  return pieces;
}

double overlap_area(const Loops& one, const Loops& other) {
  const Loops pieces = convex_pieces(one);
  const Loops others = convex_pieces(other);
  double sum = 0.0;
  for (const Loop& a : pieces) {
    const Box box = box_of(a);
    for (const Loop& b : others) {
      if (box.touches(box_of(b))) {
        sum += area(overlap(a, b));
      }
    }
  }
  return sum;
}

std::vector<Chord> chords_at(const Loops& loops, double y) {
  std::vector<double> at;
  for (const Loop& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 a = loop[i];
      const glm::dvec2 b = loop[(i + 1) % loop.size()];
      if ((a.y > y) != (b.y > y)) {
        at.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
      }
    }
  }
  std::sort(at.begin(), at.end());
  std::vector<Chord> chords;
  for (std::size_t i = 0; i + 1 < at.size(); i += 2) {
    chords.push_back({at[i], at[i + 1]});
  }
  return chords;
}

double width_at(const Loops& loops, double y) {
  double width = 0.0;
  for (const Chord& chord : chords_at(loops, y)) {
    width += chord.to - chord.from;
  }
  return width;
}

Loop without_idle_points(Loop loop) {
  // Kept points stand before `kept`, those still to be looked at from `next` on.
  std::size_t kept = 0;
  std::size_t next = 0;
  while (next < loop.size() && kept + loop.size() - next > 2) {
    const glm::dvec2 here = loop[next];
    const glm::dvec2 before = kept > 0 ? loop[kept - 1] : loop.back();
    const glm::dvec2 after = next + 1 < loop.size() ? loop[next + 1] : loop.front();
    const glm::dvec2 in = here - before;
    const glm::dvec2 out = after - here;
    const double reach = std::max(glm::length(in), glm::length(out));
    const bool repeats = glm::length(in) <= tolerance;
    const bool is_straight =
        std::abs(cross(in, out)) <= tolerance * reach && glm::dot(in, out) > 0.0;
    if (!repeats && !is_straight) {
      loop[kept++] = here;
      ++next;
      continue;
    }
    ++next;
    if (kept > 0) {  // the one before has a new neighbour
      loop[--next] = loop[--kept];
    }
  }
  loop.erase(loop.begin() + static_cast<std::ptrdiff_t>(kept),
             loop.begin() + static_cast<std::ptrdiff_t>(next));
  return loop;
}

}  // namespace ridgeward::polygon
