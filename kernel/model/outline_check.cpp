#include "model/outline_check.hpp"

#include "units/length.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>

namespace ridgeward::model {

namespace {

using Wide = __int128;

/// Faults of one kind reported for one loop; the rest of a bad outline says no more.
constexpr std::size_t most_told = 5;

struct Point {
  std::int64_t x = 0;
  std::int64_t y = 0;
  bool operator==(const Point&) const = default;
};

Point on_steps(glm::dvec2 p) {
  return {std::llround(p.x / units::grid_m), std::llround(p.y / units::grid_m)};
}

std::vector<Point> on_steps(const std::vector<glm::dvec2>& corners) {
  std::vector<Point> points;
  points.reserve(corners.size());
  for (const glm::dvec2 corner : corners) {
    points.push_back(on_steps(corner));
  }
  return points;
}

Wide cross(Point o, Point a, Point b) {
  return Wide{a.x - o.x} * (b.y - o.y) - Wide{a.y - o.y} * (b.x - o.x);
}

/// +1 if `p` lies left of the line from `a` to `b`, -1 right, 0 on it.
int side(Point a, Point b, Point p) {
  const Wide turn = cross(a, b, p);
  return turn > 0 ? 1 : (turn < 0 ? -1 : 0);
}

struct Segment {
  Point a;
  Point b;
  std::size_t loop = 0;
  std::size_t index = 0;

  std::int64_t left() const { return std::min(a.x, b.x); }
  std::int64_t right() const { return std::max(a.x, b.x); }
  std::int64_t low() const { return std::min(a.y, b.y); }
  std::int64_t high() const { return std::max(a.y, b.y); }
};

/// Whether the closed segments share a point.
bool meet(const Segment& s, const Segment& t) {
  if (s.right() < t.left() || t.right() < s.left() || s.high() < t.low() || t.high() < s.low()) {
    return false;
  }
  // With the boxes meeting, the segments meet unless one lies strictly beside the other's line.
  return side(s.a, s.b, t.a) * side(s.a, s.b, t.b) <= 0 &&
         side(t.a, t.b, s.a) * side(t.a, t.b, s.b) <= 0;
}

void add_segments(std::vector<Segment>& all, const std::vector<Point>& points, std::size_t loop) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    all.push_back({points[i], points[(i + 1) % points.size()], loop, i});
  }
}

/// Swaps x and y of all where that makes the segments shorter along x, so that a sweep over x meets
/// fewer of them at once. Whether segments meet stays the same.
void lay_across(std::vector<Segment>& segments) {
  double width = 0.0;
  double height = 0.0;
  for (const Segment& segment : segments) {
    width += static_cast<double>(segment.right() - segment.left());
    height += static_cast<double>(segment.high() - segment.low());
  }
  if (width <= height) {
    return;
  }
  for (Segment& segment : segments) {
    std::swap(segment.a.x, segment.a.y);
    std::swap(segment.b.x, segment.b.y);
  }
}

/// Calls `report` for every pair of segments that meet and that `concerns`; stops when `report`
/// returns false. Sorted sweep over x.
template <class Concerns, class Report>
void each_meeting(std::vector<Segment> segments, Concerns concerns, Report report) {
  lay_across(segments);
  std::sort(segments.begin(), segments.end(), [](const Segment& s, const Segment& t) {
    return std::pair(s.left(), std::pair(s.loop, s.index)) <
           std::pair(t.left(), std::pair(t.loop, t.index));
  });
  for (std::size_t i = 0; i < segments.size(); ++i) {
    for (std::size_t j = i + 1; j < segments.size() && segments[j].left() <= segments[i].right();
         ++j) {
      if (concerns(segments[i], segments[j]) && meet(segments[i], segments[j]) &&
          !report(segments[i], segments[j])) {
        return;
      }
    }
  }
}

Faults zero_edges(const std::vector<Point>& points, const std::string& where) {
  Faults faults;
  for (std::size_t i = 0; i < points.size() && faults.size() < most_told; ++i) {
    const std::size_t next = (i + 1) % points.size();
    if (points[i] != points[next]) {
      continue;
    }
    faults.push_back({"outline.zero_edge", fmt::format("{}/{}", where, i),
                      fmt::format("corners {} and {} are the same point", i, next),
                      next == 0 ? "leave out the last corner: an outline closes by itself"
                                : "leave out one of them (and its edge)"});
  }
  return faults;
}

/// Corners where the outline turns back on itself.
std::vector<std::size_t> turned_back(const std::vector<Point>& points) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < points.size() && found.size() < most_told; ++i) {
    const Point before = points[(i + points.size() - 1) % points.size()];
    const Point here = points[i];
    const Point after = points[(i + 1) % points.size()];
    const Wide ahead =
        Wide{here.x - before.x} * (after.x - here.x) + Wide{here.y - before.y} * (after.y - here.y);
    if (cross(before, here, after) == 0 && ahead < 0) {
      found.push_back(i);
    }
  }
  return found;
}

/// Sides that meet and are no neighbours.
std::vector<SidePair> apart_but_meeting(const std::vector<Point>& points) {
  std::vector<Segment> segments;
  add_segments(segments, points, 0);
  const std::size_t n = points.size();
  std::vector<SidePair> found;
  each_meeting(
      std::move(segments),
      [n](const Segment& s, const Segment& t) {
        const std::size_t apart = s.index > t.index ? s.index - t.index : t.index - s.index;
        return apart != 1 && apart != n - 1;
      },
      [&](const Segment& s, const Segment& t) {
        found.emplace_back(std::minmax(s.index, t.index));
        return found.size() < most_told;
      });
  return found;
}

Faults spikes(const std::vector<Point>& points, const std::string& where) {
  Faults faults;
  for (const std::size_t i : turned_back(points)) {
    faults.push_back({"outline.spike", fmt::format("{}/{}", where, i),
                      fmt::format("the outline turns back on itself at corner {}", i),
                      "leave out the corner, or move it"});
  }
  return faults;
}

Faults crossings(const std::vector<Point>& points, const std::string& where) {
  const std::size_t n = points.size();
  Faults faults;
  for (const auto& [first, second] : apart_but_meeting(points)) {
    faults.push_back(
        {"outline.crosses_itself", fmt::format("{}/{}", where, first),
         fmt::format("side {} (corners {} to {}) meets side {} (corners {} to {})", first, first,
                     (first + 1) % n, second, second, (second + 1) % n),
         "walk round the walls once: each corner once, in order, no side touching another"});
  }
  return faults;
}

/// Whether `p` lies inside; REQUIRES that it doesn't lie on the loop.
bool is_inside(Point p, const std::vector<Point>& points) {
  bool inside = false;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Point a = points[i];
    const Point b = points[(i + 1) % points.size()];
    if ((a.y > p.y) != (b.y > p.y)) {
      // A ray to the right crosses the side if p lies left of the side taken upwards.
      const bool up = b.y > a.y;
      inside = inside != ((up ? side(a, b, p) : side(b, a, p)) > 0);
    }
  }
  return inside;
}

Fault outside(const Loop& hole) {
  return {"hole.outside", hole.where, "this hole does not lie inside the outline",
          "keep holes clear of the outline on all sides; cut a notch into the outline otherwise"};
}

Fault overlaps(const Loop& hole, std::size_t other) {
  return {"hole.overlaps", hole.where, fmt::format("this hole meets or overlaps hole {}", other),
          "keep holes apart, or join them into one"};
}

}  // namespace

Faults check_simple(const Loop& loop) {
  if (loop.corners.size() < 3) {
    return {{"outline.too_few", loop.where,
             fmt::format("{} corners make no outline", loop.corners.size()),
             "give at least three corners"}};
  }
  const std::vector<Point> points = on_steps(loop.corners);
  Faults faults = zero_edges(points, loop.where);
  if (faults.empty()) {
    faults = spikes(points, loop.where);
  }
  if (faults.empty()) {
    faults = crossings(points, loop.where);
  }
  return faults;
}

std::vector<SidePair> meeting_sides(const std::vector<glm::dvec2>& corners) {
  const std::vector<Point> points = on_steps(corners);
  std::vector<SidePair> found = apart_but_meeting(points);
  for (const std::size_t corner : turned_back(points)) {
    const std::size_t before = (corner + points.size() - 1) % points.size();
    found.emplace_back(std::min(before, corner), std::max(before, corner));
  }
  return found;
}

bool is_counter_clockwise(const std::vector<glm::dvec2>& corners) {
  const std::vector<Point> points = on_steps(corners);
  Wide twice_area = 0;
  for (std::size_t i = 1; i + 1 < points.size(); ++i) {
    twice_area += cross(points[0], points[i], points[i + 1]);
  }
  return twice_area > 0;
}

Faults check_holes(const Loop& outline, const std::vector<Loop>& holes) {
  if (holes.empty()) {
    return {};
  }
  std::vector<std::vector<Point>> loops{on_steps(outline.corners)};
  std::vector<Segment> segments;
  add_segments(segments, loops[0], 0);
  for (std::size_t h = 0; h < holes.size(); ++h) {
    loops.push_back(on_steps(holes[h].corners));
    add_segments(segments, loops.back(), h + 1);
  }
  std::vector<std::optional<Fault>> told(loops.size());
  each_meeting(
      std::move(segments), [](const Segment& s, const Segment& t) { return s.loop != t.loop; },
      [&](const Segment& s, const Segment& t) {
        const auto [lower, upper] = std::minmax(s.loop, t.loop);
        if (!told[upper]) {
          told[upper] =
              lower == 0 ? outside(holes[upper - 1]) : overlaps(holes[upper - 1], lower - 1);
        }
        return true;
      });
  for (std::size_t h = 1; h < loops.size(); ++h) {
    if (!told[h] && !is_inside(loops[h][0], loops[0])) {
      told[h] = outside(holes[h - 1]);
    }
    for (std::size_t other = 1; other < loops.size() && !told[h]; ++other) {
      if (other != h && !told[other] && is_inside(loops[h][0], loops[other])) {
        told[h] = overlaps(holes[h - 1], other - 1);
      }
    }
  }
  Faults faults;
  for (std::optional<Fault>& fault : told) {
    if (fault) {
      faults.push_back(std::move(*fault));
    }
  }
  return faults;
}

}  // namespace ridgeward::model
