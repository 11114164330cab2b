#include "rebuild/sides.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

namespace ridgeward::rebuild {

namespace {

constexpr double beyond_m = 0.1;

// ---- Borders. ----

struct Half {
  std::uint32_t to = 0;
  Border border;
  bool is_used = false;
};
using Halves = std::multimap<std::uint32_t, Half>;

bool is_in(const Group& group, std::ptrdiff_t face) {
  return face >= 0 &&
         std::binary_search(group.begin(), group.end(), static_cast<std::size_t>(face));
}

/// Sides of the group without a face of the group beyond, by the corner that they start from.
Halves halves_of(const Faces& all, const Group& group, double tolerance_m) {
  Halves from;
  for (const auto& [side, face] : all.face_left_of) {
    const std::ptrdiff_t other = all.across(side.first, side.second);
    if (is_in(group, other) || !is_in(group, static_cast<std::ptrdiff_t>(face))) {
      continue;
    }
    Border border{all.corners[side.first], all.corners[side.second], face};
    if (other >= 0) {
      const Slope& beyond = all.slope_of(static_cast<std::size_t>(other));
      const Slope& here = all.slope_of(face);
      const double step_a = beyond.z(border.a) - here.z(border.a);
      const double step_b = beyond.z(border.b) - here.z(border.b);
      border.is_joint =
          std::abs(step_a) <= 2.0 * tolerance_m && std::abs(step_b) <= 2.0 * tolerance_m;
      border.is_covered = !border.is_joint && step_a + step_b > 0.0;
    }
    from.emplace(side.first, Half{side.second, border});
  }
  return from;
}

/// At a corner that several loops touch the next side clockwise keeps to the same ground.
Half* after(Halves& from, const Half& half) {
  const glm::dvec2 back = half.border.a - half.border.b;
  Half* next = nullptr;
  double least = std::numeric_limits<double>::infinity();
  const auto [low, high] = from.equal_range(half.to);
  for (auto at = low; at != high; ++at) {
    const glm::dvec2 way = at->second.border.b - at->second.border.a;
    double turn = -std::atan2(cross(back, way), glm::dot(back, way));
    turn += turn <= 0.0 ? 2.0 * std::acos(-1.0) : 0.0;
    if (!at->second.is_used && turn < least) {
      least = turn;
      next = &at->second;
    }
  }
  return next;
}

std::vector<glm::dvec2> points_of(const BorderLoop& loop) {
  std::vector<glm::dvec2> points;
  for (const Border& border : loop) {
    points.push_back(border.a);
  }
  return points;
}

// ---- Sides. ----

bool go_on(const Side& one, const Side& next, double tolerance_m) {
  const glm::dvec2 chord = next.b - one.a;
  const double length = glm::length(chord);
  if (length < 1e-9 || glm::dot(next.b - next.a, one.b - one.a) <= 0.0) {
    return false;
  }
  return std::abs(cross(chord, one.b - one.a)) / length <= tolerance_m / 2.0;
}

bool are_alike(const Side& one, const Side& next) {
  const bool one_falls = one.fall == Fall::toward;
  const bool next_falls = next.fall == Fall::toward;
  return one_falls == next_falls && (!one_falls || one.plane == next.plane);
}

/// Makes one side of two that go on in one line and are alike.
void join_sides(SideLoop& sides, double tolerance_m) {
  for (std::size_t i = 0; i < sides.size() && sides.size() > 3;) {
    const std::size_t next = (i + 1) % sides.size();
    if (are_alike(sides[i], sides[next]) && go_on(sides[i], sides[next], tolerance_m)) {
      sides[i].fall = sides[i].fall == sides[next].fall ? sides[i].fall : Fall::across;
      sides[i].b = sides[next].b;
      sides.erase(sides.begin() + static_cast<std::ptrdiff_t>(next));
      i = next == 0 ? sides.size() : i;
    } else {
      ++i;
    }
  }
}

/// Standing, falling, standing in one line: a gable whose top is clipped.
void clip_gables(SideLoop& sides, double tolerance_m) {
  for (std::size_t i = 0; i < sides.size() && sides.size() > 4; ++i) {
    const std::size_t count = sides.size();
    const Side before = sides[i];
    const Side middle = sides[(i + 1) % count];
    const Side after = sides[(i + 2) % count];
    const bool is_clipped = before.fall != Fall::toward && middle.fall == Fall::toward &&
                            after.fall != Fall::toward && go_on(before, middle, tolerance_m) &&
                            go_on(middle, after, tolerance_m);
    if (is_clipped) {
      Side whole = middle;
      whole.a = before.a;
      whole.b = after.b;
      whole.is_clipped = true;
      sides[(i + 1) % count] = whole;
      const std::size_t last = std::max(i, (i + 2) % count);
      const std::size_t first = std::min(i, (i + 2) % count);
      sides.erase(sides.begin() + static_cast<std::ptrdiff_t>(last));
      sides.erase(sides.begin() + static_cast<std::ptrdiff_t>(first));
    }
  }
}

SideLoop sides_of(const Faces& all, const BorderLoop& loop, double tolerance_m) {
  SideLoop sides;
  for (const Border& border : loop) {
    Side side{border.a, border.b, Fall::across, all.faces[border.face].plane};
    side.fall =
        border.is_joint ? Fall::across : fall_of(all.slope_of(border.face), border.a, border.b);
    sides.push_back(side);
  }
  join_sides(sides, tolerance_m);
  clip_gables(sides, tolerance_m);
  return sides;
}

// ---- Closing an outline that was cut off. ----

std::vector<glm::dvec2> hull_of(std::vector<glm::dvec2> points) {
  std::sort(points.begin(), points.end(),
            [](glm::dvec2 p, glm::dvec2 q) { return p.x < q.x || (p.x == q.x && p.y < q.y); });
  std::vector<glm::dvec2> hull;
  for (int half = 0; half < 2; ++half) {
    const std::size_t start = hull.size();
    for (const glm::dvec2 p : points) {
      while (hull.size() >= start + 2 &&
             cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 1e-9) {
        hull.pop_back();
      }
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

/// The side of `sides` that runs along a -> b, the longest of them.
const Side* along(const SideLoop& sides, glm::dvec2 a, glm::dvec2 b, double tolerance_m) {
  const glm::dvec2 way = glm::normalize(b - a);
  const Side* best = nullptr;
  for (const Side& side : sides) {
    const bool is_on = std::abs(cross(side.a - a, way)) <= tolerance_m &&
                       std::abs(cross(side.b - a, way)) <= tolerance_m &&
                       glm::dot(side.b - side.a, way) > 0.0;
    const bool is_better = best == nullptr ||
                           (best->fall != Fall::toward && side.fall == Fall::toward) ||
                           (best->fall == side.fall && length_of(side) > length_of(*best));
    if (is_on && is_better) {
      best = &side;
    }
  }
  return best;
}

std::vector<glm::dvec2> corners_of(const SideLoop& sides) {
  std::vector<glm::dvec2> corners;
  for (const Side& side : sides) {
    corners.push_back(side.a);
  }
  return corners;
}

const Side* longest_eave(const SideLoop& sides) {
  const Side* eave = nullptr;
  for (const Side& side : sides) {
    if (side.fall == Fall::toward && (eave == nullptr || length_of(side) > length_of(*eave))) {
      eave = &side;
    }
  }
  return eave;
}

/// Along the longest eave; where there is none, square to the fall of the plane with the longest
/// border. None where that plane is level.
std::optional<glm::dvec2> eave_direction(const Faces& all, const SideLoop& sides) {
  if (const Side* eave = longest_eave(sides)) {
    return glm::normalize(eave->b - eave->a);
  }
  std::map<std::size_t, double> borders;
  for (const Side& side : sides) {
    borders[side.plane] += length_of(side);
  }
  const auto most =
      std::max_element(borders.begin(), borders.end(),
                       [](const auto& a, const auto& b) { return a.second < b.second; });
  if (most == borders.end() || all.planes[most->first].is_level()) {
    return std::nullopt;
  }
  const glm::dvec2 up = glm::normalize(all.planes[most->first].gradient);
  return glm::dvec2(up.y, -up.x);
}

/// Makes an eave of a side that no border lies on and that a plane of the outline falls toward, the
/// lowest of them.
void lay_eave(const Faces& all, const SideLoop& sides, Side& side) {
  const glm::dvec2 middle = (side.a + side.b) / 2.0;
  for (const Side& own : sides) {
    const Slope& slope = all.planes[own.plane];
    if (fall_of(slope, side.a, side.b) == Fall::toward &&
        (side.fall != Fall::toward || slope.z(middle) < all.planes[side.plane].z(middle))) {
      side.fall = Fall::toward;
      side.plane = own.plane;
    }
  }
}

/// The rectangle along `u`; its ends grow by `grow_m` where no side lies.
std::vector<glm::dvec2> rectangle_of(const SideLoop& sides, glm::dvec2 u, double grow_m,
                                     double tolerance_m) {
  const glm::dvec2 v(-u.y, u.x);
  polygon::Box box;
  for (const glm::dvec2 p : corners_of(sides)) {
    box.add({glm::dot(p, u), glm::dot(p, v)});
  }
  const auto at = [&](double x, double y) { return x * u + y * v; };
  const auto rectangle = [&] {
    return std::vector<glm::dvec2>{at(box.low.x, box.low.y), at(box.high.x, box.low.y),
                                   at(box.high.x, box.high.y), at(box.low.x, box.high.y)};
  };
  const std::vector<glm::dvec2> tight = rectangle();
  const auto is_free = [&](std::size_t i) {
    return along(sides, tight[i], tight[(i + 1) % 4], tolerance_m) == nullptr;
  };
  box.low.y -= is_free(0) ? grow_m : 0.0;
  box.high.x += is_free(1) ? grow_m : 0.0;
  box.high.y += is_free(2) ? grow_m : 0.0;
  box.low.x -= is_free(3) ? grow_m : 0.0;
  return rectangle();
}

}  // namespace

Fall fall_of(const Slope& slope, glm::dvec2 a, glm::dvec2 b) {
  if (slope.is_level()) {
    return Fall::across;
  }
  const glm::dvec2 outward = glm::normalize(glm::dvec2(b.y - a.y, a.x - b.x));
  const double up = glm::dot(slope.gradient, outward) / slope.rise_per_run();
  return up < -square_cosine ? Fall::toward : (up > square_cosine ? Fall::away : Fall::across);
}

double height_of(const Faces& all, const Side& side) {
  return side.height_m.value_or(all.planes[side.plane].z((side.a + side.b) / 2.0));
}

double area_of(const BorderLoop& loop) {
  double twice = 0.0;
  for (const Border& border : loop) {
    twice += cross(border.a - loop.front().a, border.b - loop.front().a);
  }
  return twice / 2.0;
}

std::vector<BorderLoop> borders_of(const Faces& all, const Group& group, double tolerance_m) {
  Halves from = halves_of(all, group, tolerance_m);
  std::vector<BorderLoop> loops;
  for (auto& [start, first] : from) {
    BorderLoop loop;
    for (Half* half = &first; half != nullptr && !half->is_used; half = after(from, *half)) {
      half->is_used = true;
      loop.push_back(half->border);
    }
    if (loop.size() > 2 && loop.front().a == loop.back().b) {
      loops.push_back(std::move(loop));
    }
  }
  return loops;
}

std::vector<SideLoop> loops_of(const Faces& all, const std::vector<BorderLoop>& borders,
                               std::size_t number, double tolerance_m) {
  std::vector<SideLoop> loops{sides_of(all, borders[number], tolerance_m)};
  const std::vector<glm::dvec2> outer = points_of(borders[number]);
  for (const BorderLoop& loop : borders) {
    if (area_of(loop) < 0.0 && polygon::contains(outer, loop.front().a)) {
      loops.push_back(sides_of(all, loop, tolerance_m));
    }
  }
  return loops;
}

SideLoop closed(const Faces& all, const SideLoop& sides, Closing closing, double tolerance_m) {
  std::vector<glm::dvec2> outline;
  if (closing == Closing::hull) {
    outline = hull_of(corners_of(sides));
  } else if (const std::optional<glm::dvec2> u = eave_direction(all, sides)) {
    outline = rectangle_of(sides, *u, closing == Closing::beyond ? beyond_m : 0.0, tolerance_m);
  }
  const bool has_eave = longest_eave(sides) != nullptr;
  SideLoop whole;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const glm::dvec2 a = outline[i];
    const glm::dvec2 b = outline[(i + 1) % outline.size()];
    Side side{a, b};
    if (const Side* found = along(sides, a, b, tolerance_m)) {
      side = *found;
      side.a = a;
      side.b = b;
    } else if (!has_eave && closing != Closing::hull) {
      lay_eave(all, sides, side);
    }
    whole.push_back(side);
  }
  join_sides(whole, tolerance_m);
  return whole;
}

}  // namespace ridgeward::rebuild
