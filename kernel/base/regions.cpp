// Upright slabs between all corners and crossings; within one the sides run past each other without
// crossing, so that counting how often one has gone in and out tells what is covered.
#include "base/regions.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace ridgeward::regions {

namespace {

using polygon::Loop;
using polygon::Loops;
using polygon::tolerance;

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

/// A side from left to right; going up through it the count changes by `step`.
struct Side {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  int step = 0;

  double at(double u) const {
    if (u <= a.x) {
      return a.y;
    }
    return u >= b.x ? b.y : a.y + (u - a.x) / (b.x - a.x) * (b.y - a.y);
  }
};

/// Sides with `weight` inside their region.
void add_sides(const Loops& loops, int weight, std::vector<Side>& sides) {
  for (const Loop& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 a = loop[i];
      const glm::dvec2 b = loop[(i + 1) % loop.size()];
      sides.push_back(a.x <= b.x ? Side{a, b, weight} : Side{b, a, -weight});
    }
  }
}

/// Where two sides cross or one ends on the other, in u.
void add_crossings(const Side& s, const Side& t, std::vector<double>& cuts) {
  const glm::dvec2 d = s.b - s.a;
  const glm::dvec2 e = t.b - t.a;
  const double turn = cross(d, e);
  const double size = glm::length(d) * glm::length(e);
  if (std::abs(turn) <= 1e-12 * size) {
    return;  // along each other: their ends are cuts anyway
  }
  const double along = cross(t.a - s.a, e) / turn;
  const double other = cross(t.a - s.a, d) / turn;
  const double reach = 1e-9;
  if (along > -reach && along < 1 + reach && other > -reach && other < 1 + reach) {
    cuts.push_back(s.a.x + along * d.x);
  }
}

/// Corners and crossings from the left, those within the tolerance of a run's first made one.
std::vector<double> cuts_of(const std::vector<Side>& sides) {
  std::vector<double> all;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const Side& s = sides[i];
    all.insert(all.end(), {s.a.x, s.b.x});
    const double low = std::min(s.a.y, s.b.y);
    const double high = std::max(s.a.y, s.b.y);
    for (std::size_t k = i + 1; k < sides.size(); ++k) {
      const Side& t = sides[k];
      const bool is_apart = t.a.x > s.b.x || t.b.x < s.a.x || std::min(t.a.y, t.b.y) > high ||
                            std::max(t.a.y, t.b.y) < low;
      if (!is_apart) {
        add_crossings(s, t, all);
      }
    }
  }
  std::sort(all.begin(), all.end());
  std::vector<double> kept;
  for (const double u : all) {
    if (kept.empty() || u - kept.back() > tolerance) {
      kept.push_back(u);
    }
  }
  return kept;
}

double snapped(const std::vector<double>& cuts, double u) {
  const auto beyond = std::upper_bound(cuts.begin(), cuts.end(), u);
  return beyond == cuts.begin() ? cuts.front() : *(beyond - 1);
}

/// A covered trapezoid of one slab.
struct Covered {
  double low0 = 0.0;
  double low1 = 0.0;
  double high0 = 0.0;
  double high1 = 0.0;
};

std::vector<Covered> covered_in(const std::vector<const Side*>& active, double u0, double u1,
                                int least) {
  struct Passed {
    double v0;
    double v1;
    int step;
  };
  std::vector<Passed> passed;
  passed.reserve(active.size());
  for (const Side* side : active) {
    passed.push_back({side->at(u0), side->at(u1), side->step});
  }
  std::stable_sort(passed.begin(), passed.end(),
                   [](const Passed& l, const Passed& r) { return l.v0 + l.v1 < r.v0 + r.v1; });
  // Sides a hair apart may still be out of order at one end.
  for (std::size_t i = 1; i < passed.size(); ++i) {
    passed[i].v0 = std::max(passed[i].v0, passed[i - 1].v0);
    passed[i].v1 = std::max(passed[i].v1, passed[i - 1].v1);
  }
  std::vector<Covered> all;
  int count = 0;
  for (const Passed& side : passed) {
    const bool was_in = count >= least;
    count += side.step;
    const bool is_in = count >= least;
    if (!was_in && is_in) {
      const bool goes_on = !all.empty() && std::abs(all.back().high0 - side.v0) <= tolerance &&
                           std::abs(all.back().high1 - side.v1) <= tolerance;
      if (!goes_on) {
        all.push_back({side.v0, side.v1, side.v0, side.v1});
      }
    }
    if (was_in && !is_in) {
      all.back().high0 = side.v0;
      all.back().high1 = side.v1;
    }
  }
  std::erase_if(all, [](const Covered& c) {
    return c.high0 - c.low0 <= tolerance && c.high1 - c.low1 <= tolerance;
  });
  return all;
}

/// Corners of the covered trapezoids, a border between them, walked to loops.
class Border {
 public:
  /// A corner on cut `k`; corners within the tolerance are one, and `v` becomes that one's.
  std::size_t corner(std::size_t k, double u, double& v) {
    std::map<double, std::size_t>& here = on_cut_[k];
    const auto near = here.lower_bound(v - tolerance);
    if (near != here.end() && near->first <= v + tolerance) {
      v = near->first;
      return near->second;
    }
    here.emplace(v, corners_.size());
    corners_.emplace_back(u, v);
    return corners_.size() - 1;
  }
  void add(std::size_t from, std::size_t to) {
    if (from != to) {
      out_.emplace(from, to);
    }
  }
  /// Upright borders on cut `k`: where the left is covered and the right not, or the other way.
  void add_upright(std::size_t k, const std::vector<Covered>& left,
                   const std::vector<Covered>& right) {
    std::map<double, std::size_t>& here = on_cut_[k];
    for (auto low = here.begin(); low != here.end(); ++low) {
      const auto high = std::next(low);
      if (high == here.end()) {
        break;
      }
      const double middle = 0.5 * (low->first + high->first);
      const auto holds_left = [&](const Covered& c) { return c.low1 < middle && middle < c.high1; };
      const auto holds_right = [&](const Covered& c) {
        return c.low0 < middle && middle < c.high0;
      };
      const bool in_left = std::any_of(left.begin(), left.end(), holds_left);
      const bool in_right = std::any_of(right.begin(), right.end(), holds_right);
      if (in_left && !in_right) {
        add(low->second, high->second);
      } else if (in_right && !in_left) {
        add(high->second, low->second);
      }
    }
  }
  Loops walk();

 private:
  std::size_t next(std::size_t from, std::size_t at);

  std::map<std::size_t, std::map<double, std::size_t>> on_cut_;
  std::vector<glm::dvec2> corners_;
  std::multimap<std::size_t, std::size_t> out_;
};

/// The way on that turns most to the left, so that regions that touch at a point stay apart; taken
/// off the list.
std::size_t Border::next(std::size_t from, std::size_t at) {
  const auto [first, last] = out_.equal_range(at);
  auto best = first;
  double best_turn = -HUGE_VAL;
  const glm::dvec2 in = corners_[at] - corners_[from];
  for (auto way = first; way != last; ++way) {
    const glm::dvec2 out = corners_[way->second] - corners_[at];
    const double turn = std::atan2(cross(in, out), glm::dot(in, out));
    if (turn > best_turn) {
      best = way;
      best_turn = turn;
    }
  }
  if (first == last) {
    return at;
  }
  const std::size_t to = best->second;
  out_.erase(best);
  return to;
}

Loops Border::walk() {
  Loops loops;
  while (!out_.empty()) {
    const std::size_t home = out_.begin()->first;
    std::size_t before = home;
    std::size_t at = out_.begin()->second;
    out_.erase(out_.begin());
    Loop loop{corners_[home]};
    while (at != home) {
      loop.push_back(corners_[at]);
      const std::size_t to = next(before, at);
      if (to == at) {
        break;
      }
      before = std::exchange(at, to);
    }
    loop = polygon::without_idle_points(std::move(loop));
    if (loop.size() >= 3 && std::abs(polygon::area(loop)) > tolerance * tolerance) {
      loops.push_back(std::move(loop));
    }
  }
  std::stable_sort(loops.begin(), loops.end(), [](const Loop& l, const Loop& r) {
    return polygon::area(l) > polygon::area(r);
  });
  return loops;
}

/// Where the counts sum to at least `least`.
Loops where(std::vector<Side> sides, int least) {
  const std::vector<double> cuts = cuts_of(sides);
  for (Side& side : sides) {
    side.a.x = snapped(cuts, side.a.x);
    side.b.x = snapped(cuts, side.b.x);
  }
  std::erase_if(sides, [](const Side& side) { return side.a.x >= side.b.x; });
  std::stable_sort(sides.begin(), sides.end(),
                   [](const Side& l, const Side& r) { return l.a.x < r.a.x; });
  Border border;
  std::vector<const Side*> active;
  std::vector<Covered> before;
  std::size_t coming = 0;
  for (std::size_t k = 0; k < cuts.size(); ++k) {
    const double u0 = cuts[k];
    std::erase_if(active, [&](const Side* side) { return side->b.x <= u0; });
    for (; coming < sides.size() && sides[coming].a.x <= u0; ++coming) {
      active.push_back(&sides[coming]);
    }
    std::vector<Covered> now;
    if (k + 1 < cuts.size()) {
      const double u1 = cuts[k + 1];
      now = covered_in(active, u0, u1, least);
      for (Covered& c : now) {
        border.add(border.corner(k, u0, c.low0), border.corner(k + 1, u1, c.low1));
        border.add(border.corner(k + 1, u1, c.high1), border.corner(k, u0, c.high0));
      }
    }
    border.add_upright(k, before, now);
    before = std::move(now);
  }
  return border.walk();
}

}  // namespace

polygon::Loops united(std::span<const polygon::Loops> all) {
  std::vector<Side> sides;
  for (const Loops& loops : all) {
    add_sides(loops, 1, sides);
  }
  return where(std::move(sides), 1);
}

polygon::Loops without(const polygon::Loops& one, const polygon::Loops& other) {
  std::vector<Side> sides;
  add_sides(one, 1, sides);
  add_sides(other, -1, sides);
  return where(std::move(sides), 1);
}

polygon::Loops common(const polygon::Loops& one, const polygon::Loops& other) {
  std::vector<Side> sides;
  add_sides(one, 1, sides);
  add_sides(other, 1, sides);
  return where(std::move(sides), 2);
}

double common_border(const polygon::Loops& one, const polygon::Loops& other) {
  constexpr double near = 1e-6;
  double sum = 0.0;
  for (const Loop& loop : one) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 a = loop[i];
      const glm::dvec2 along = loop[(i + 1) % loop.size()] - a;
      const double length = glm::length(along);
      if (length <= near) {
        continue;
      }
      const glm::dvec2 way = along / length;
      for (const Loop& beside : other) {
        for (std::size_t k = 0; k < beside.size(); ++k) {
          const glm::dvec2 p = beside[k] - a;
          const glm::dvec2 q = beside[(k + 1) % beside.size()] - a;
          if (std::abs(cross(way, p)) > near || std::abs(cross(way, q)) > near) {
            continue;
          }
          const double from = std::min(glm::dot(way, p), glm::dot(way, q));
          const double to = std::max(glm::dot(way, p), glm::dot(way, q));
          sum += std::max(0.0, std::min(length, to) - std::max(0.0, from));
        }
      }
    }
  }
  return sum;
}

}  // namespace ridgeward::regions
