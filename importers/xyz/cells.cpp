#include "xyz/cells.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <limits>
#include <map>
#include <numbers>
#include <set>
#include <utility>

namespace ridgeward::xyz {

namespace {

constexpr double corner_cost = 2.5;  // in points
constexpr double box_doubt_m = 0.35;
constexpr double drawn_in_doubt_m = 0.25;
constexpr double least_gain = 5.0;  // in points
constexpr std::size_t most_counted = 2000;
constexpr double same_m = 1e-6;
constexpr double least_turn = 0.02;  // sine of the angle between lines that cross

/// A convex cell: its corners counter-clockwise; side i goes from corner i on along line sides[i].
struct Cell {
  std::vector<Spot> corners;
  std::vector<std::size_t> sides;
  std::size_t points = 0;
  double area_m2 = 0.0;
  bool is_filled = false;
  std::vector<std::pair<std::size_t, double>> beside;  ///< cell, what the border with it costs
  double free = 0.0;  ///< what the border with no cell beyond costs, m2
};

/// The part of `cell` on the side of `line` that `sign` says.
Cell part_of(const Cell& cell, const Line& line, std::size_t number, double sign) {
  Cell part;
  const std::size_t count = cell.corners.size();
  for (std::size_t i = 0; i < count; ++i) {
    const Spot& a = cell.corners[i];
    const Spot& b = cell.corners[(i + 1) % count];
    const double at_a = sign * off(line, a);
    const double at_b = sign * off(line, b);
    if (at_a >= 0.0) {
      part.corners.push_back(a);
      part.sides.push_back(cell.sides[i]);
    }
    if ((at_a >= 0.0) != (at_b >= 0.0)) {
      const double t = at_a / (at_a - at_b);
      part.corners.push_back({a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])});
      part.sides.push_back(at_a >= 0.0 ? number : cell.sides[i]);
    }
  }
  return part;
}

struct Filling {
  std::vector<std::vector<Spot>> loops;
  /// In points: those on filled cells less half of what their area promises, less what borders and
  /// corners cost.
  double worth = 0.0;
  std::size_t beyond = 0;  ///< sides of the box that stand in for a border
};

/// Where two lines cross; `otherwise` where that is farther than a hair from it.
Spot crossing(const Line& one, const Line& other, const Spot& otherwise) {
  const double turn = one.across[0] * other.across[1] - one.across[1] * other.across[0];
  if (std::abs(turn) < least_turn) {
    return otherwise;
  }
  const Spot at{(one.offset * other.across[1] - other.offset * one.across[1]) / turn,
                (other.offset * one.across[0] - one.offset * other.across[0]) / turn};
  return std::hypot(at[0] - otherwise[0], at[1] - otherwise[1]) < 0.01 ? at : otherwise;
}

class Cutter {
 public:
  Cutter(const std::vector<Spot>& points, const std::vector<Line>& lines, double margin_m)
      : lines_(lines), first_box_(lines.size()) {
    Spot low = points.front();
    Spot high = low;
    for (const Spot& p : points) {
      for (std::size_t k = 0; k < 2; ++k) {
        low.at(k) = std::min(low.at(k), p.at(k) - margin_m);
        high.at(k) = std::max(high.at(k), p.at(k) + margin_m);
      }
    }
    lines_.push_back({{0.0, 1.0}, low[1], box_doubt_m});
    lines_.push_back({{1.0, 0.0}, high[0], box_doubt_m});
    lines_.push_back({{0.0, 1.0}, high[1], box_doubt_m});
    lines_.push_back({{1.0, 0.0}, low[0], box_doubt_m});
    Cell whole;
    whole.corners = {low, {high[0], low[1]}, high, {low[0], high[1]}};
    whole.sides = {first_box_, first_box_ + 1, first_box_ + 2, first_box_ + 3};
    cells_.push_back(std::move(whole));
    for (std::size_t number = 0; number < first_box_; ++number) {
      cut(number);
    }
    for (const Spot& p : points) {
      count(p);
    }
  }

  void fill(double per_m2) {
    find_neighbours();
    for (Cell& cell : cells_) {
      cell.area_m2 = area_of(cell.corners);
      cell.is_filled = static_cast<double>(cell.points) > per_m2 * cell.area_m2 / 2.0;
    }
    // Each flip lowers what the whole costs, so this ends.
    constexpr int most_rounds = 50;
    bool has_flipped = true;
    for (int round = 0; has_flipped && round < most_rounds; ++round) {
      has_flipped = false;
      for (Cell& cell : cells_) {
        if (gain(cell, per_m2) > 1e-9) {
          cell.is_filled = !cell.is_filled;
          has_flipped = true;
        }
      }
    }
  }

  Filling filling(double per_m2) const;
  std::vector<Line> box() const {
    return {lines_.begin() + static_cast<std::ptrdiff_t>(first_box_), lines_.end()};
  }

 private:
  void cut(std::size_t number) {
    std::vector<Cell> parts;
    for (Cell& cell : cells_) {
      double least = 0.0;
      double most = 0.0;
      for (const Spot& corner : cell.corners) {
        least = std::min(least, off(lines_[number], corner));
        most = std::max(most, off(lines_[number], corner));
      }
      if (least > -same_m || most < same_m) {
        parts.push_back(std::move(cell));
        continue;
      }
      parts.push_back(part_of(cell, lines_[number], number, 1.0));
      parts.push_back(part_of(cell, lines_[number], number, -1.0));
    }
    cells_ = std::move(parts);
  }

  void count(const Spot& p) {
    for (Cell& cell : cells_) {
      bool is_in = true;
      for (std::size_t i = 0; i < cell.corners.size() && is_in; ++i) {
        const Spot& a = cell.corners[i];
        const Spot& b = cell.corners[(i + 1) % cell.corners.size()];
        is_in = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) >= 0.0;
      }
      if (is_in) {
        ++cell.points;
        return;
      }
    }
  }

  std::uint32_t corner_id(const Spot& p) {
    const auto x = static_cast<std::int64_t>(std::floor(p[0] / same_m / 4.0));
    const auto y = static_cast<std::int64_t>(std::floor(p[1] / same_m / 4.0));
    for (std::int64_t i = x - 1; i <= x + 1; ++i) {
      for (std::int64_t j = y - 1; j <= y + 1; ++j) {
        if (const auto at = ids_.find({i, j}); at != ids_.end()) {
          return at->second;
        }
      }
    }
    const auto id = static_cast<std::uint32_t>(spots_.size());
    ids_[{x, y}] = id;
    spots_.push_back(p);
    return id;
  }

  void find_neighbours() {
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      const std::size_t count = cells_[c].corners.size();
      for (std::size_t i = 0; i < count; ++i) {
        left_of_[{corner_id(cells_[c].corners[i]), corner_id(cells_[c].corners[(i + 1) % count])}] =
            {c, cells_[c].sides[i]};
      }
    }
    for (const auto& [side, left] : left_of_) {
      const double cost = cost_of(side, left.second);
      const auto beyond = left_of_.find({side.second, side.first});
      if (beyond == left_of_.end()) {
        cells_[left.first].free += cost;
      } else {
        cells_[left.first].beside.emplace_back(beyond->second.first, cost);
      }
    }
  }

  double cost_of(const std::pair<std::uint32_t, std::uint32_t>& side, std::size_t line) const {
    const Spot& a = spots_[side.first];
    const Spot& b = spots_[side.second];
    return lines_[line].doubt_m * std::hypot(b[0] - a[0], b[1] - a[1]);
  }

  /// What turning a cell over gains, in points.
  double gain(const Cell& cell, double per_m2) const {
    double cost = cell.free;
    for (const auto& [other, own] : cell.beside) {
      cost += cells_[other].is_filled ? -own : own;
    }
    const double when_filled =
        static_cast<double>(cell.points) - per_m2 * (cell.area_m2 / 2.0 + cost);
    return cell.is_filled ? -when_filled : when_filled;
  }

  struct Side {
    std::uint32_t a = 0;
    std::uint32_t b = 0;
    std::size_t line = 0;
  };
  using Sides = std::multimap<std::uint32_t, Side>;  ///< by the corner that they start from
  std::vector<Spot> exact(const std::vector<Side>& loop) const;
  std::vector<Side> next_loop(Sides& open) const;
  Sides::iterator after(Sides& open, const Side& side) const;

  std::vector<Line> lines_;
  std::size_t first_box_;
  std::vector<Cell> cells_;
  std::map<std::pair<std::int64_t, std::int64_t>, std::uint32_t> ids_;
  std::vector<Spot> spots_;
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::pair<std::size_t, std::size_t>> left_of_;
};

/// Corners where the line changes, each where its two lines cross.
std::vector<Spot> Cutter::exact(const std::vector<Side>& loop) const {
  std::vector<Spot> corners;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Side& before = loop[(i + loop.size() - 1) % loop.size()];
    if (before.line != loop[i].line) {
      corners.push_back(crossing(lines_[before.line], lines_[loop[i].line], spots_[loop[i].a]));
    }
  }
  return corners;
}

Filling Cutter::filling(double per_m2) const {
  Filling filling;
  Sides open;
  std::set<std::size_t> used;
  for (const auto& [side, left] : left_of_) {
    const auto beyond = left_of_.find({side.second, side.first});
    const bool is_filled_beyond =
        beyond != left_of_.end() && cells_[beyond->second.first].is_filled;
    if (cells_[left.first].is_filled && !is_filled_beyond) {
      open.emplace(side.first, Side{side.first, side.second, left.second});
      filling.worth -= per_m2 * cost_of(side, left.second);
      used.insert(left.second);
    }
  }
  for (const Cell& cell : cells_) {
    filling.worth +=
        cell.is_filled ? static_cast<double>(cell.points) - per_m2 * cell.area_m2 / 2.0 : 0.0;
  }
  filling.beyond =
      static_cast<std::size_t>(std::distance(used.lower_bound(first_box_), used.end()));
  while (!open.empty()) {
    std::vector<Spot> corners = exact(next_loop(open));
    if (corners.size() > 2) {
      filling.worth -= corner_cost * static_cast<double>(corners.size());
      filling.loops.push_back(std::move(corners));
    }
  }
  return filling;
}

/// Takes a closed run of sides out of those that are open.
std::vector<Cutter::Side> Cutter::next_loop(Sides& open) const {
  std::vector<Side> loop;
  auto at = open.begin();
  const std::uint32_t start = at->first;
  while (at != open.end()) {
    loop.push_back(at->second);
    open.erase(at);
    at = loop.back().b == start ? open.end() : after(open, loop.back());
  }
  return loop;
}

/// Where loops touch, the next side clockwise keeps to the same ground.
Cutter::Sides::iterator Cutter::after(Sides& open, const Side& side) const {
  const Spot& here = spots_[side.b];
  const Spot& from = spots_[side.a];
  auto best = open.end();
  double least = std::numeric_limits<double>::infinity();
  const auto [low, high] = open.equal_range(side.b);
  for (auto next = low; next != high; ++next) {
    const Spot& to = spots_[next->second.b];
    double turn = std::atan2(from[1] - here[1], from[0] - here[0]) -
                  std::atan2(to[1] - here[1], to[0] - here[0]);
    turn += turn <= 0.0 ? 2.0 * std::numbers::pi : 0.0;
    if (turn < least) {
      least = turn;
      best = next;
    }
  }
  return best;
}

/// Takes out lines that are not worth their corners, the least trusted first.
template <class Fill>
void prune(std::vector<Line>& lines, Filling& best, Fill fill) {
  std::stable_sort(lines.begin(), lines.end(),
                   [](const Line& a, const Line& b) { return a.doubt_m < b.doubt_m; });
  for (std::size_t i = lines.size(); i-- > 0;) {
    const Line line = lines[i];
    lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(i));
    Filling without = fill();
    if (without.worth >= best.worth && without.beyond <= best.beyond) {
      best = std::move(without);
    } else {
      lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(i), line);
    }
  }
}

/// A side of the box moved in to the outermost points but one.
Line drawn_in(Line side, const std::vector<Spot>& points) {
  std::vector<double> offs(points.size());
  std::transform(points.begin(), points.end(), offs.begin(),
                 [&](const Spot& p) { return std::abs(off(side, p)); });
  const std::ptrdiff_t last = std::min<std::ptrdiff_t>(1, std::ssize(offs) - 1);
  std::nth_element(offs.begin(), offs.begin() + last, offs.end());
  const double sign = off(side, points.front()) > 0.0 ? 1.0 : -1.0;
  side.offset += sign * offs[static_cast<std::size_t>(last)];
  side.doubt_m = drawn_in_doubt_m;
  return side;
}

}  // namespace

double off(const Line& line, const Spot& p) {
  return line.across[0] * p[0] + line.across[1] * p[1] - line.offset;
}

std::vector<std::vector<Spot>> filled(const std::vector<Spot>& points, std::vector<Line> lines,
                                      double per_m2, double margin_m) {
  if (points.empty()) {
    return {};
  }
  std::vector<Spot> some;
  const std::size_t step = 1 + points.size() / most_counted;
  for (std::size_t i = 0; i < points.size(); i += step) {
    some.push_back(points[i]);
  }
  const auto fill = [&] {
    Cutter cutter(some, lines, margin_m);
    cutter.fill(per_m2 / static_cast<double>(step));
    return cutter.filling(per_m2 / static_cast<double>(step));
  };
  Filling best = fill();
  prune(lines, best, fill);
  // Where a border was not told, the outermost points stand in for it.
  for (const Line& side : Cutter(some, {}, margin_m).box()) {
    lines.push_back(drawn_in(side, some));
  }
  Filling other = fill();
  prune(lines, other, fill);
  if (other.worth > best.worth + least_gain) {
    best = std::move(other);
  }
  return std::move(best.loops);
}

double area_of(const std::vector<Spot>& loop) {
  double twice = 0.0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Spot& a = loop[i];
    const Spot& b = loop[(i + 1) % loop.size()];
    twice += (a[0] - loop[0][0]) * (b[1] - loop[0][1]) - (b[0] - loop[0][0]) * (a[1] - loop[0][1]);
  }
  return twice / 2.0;
}

}  // namespace ridgeward::xyz
