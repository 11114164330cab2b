#include "dxf/planes_between.hpp"

#include "support/vectors.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <utility>

namespace ridgeward::dxf {

namespace {

using importing::Point;

constexpr double near_m = 0.0005;
constexpr double flat_m = 0.002;
constexpr double least_upward = 0.05;  // 87 degrees
constexpr double least_sine = 0.01;
constexpr double level = 1e-4;
constexpr std::size_t most_lines = 4000;
constexpr std::size_t most_at_node = 32;
constexpr std::size_t most_planes = 4000;

struct Edge {
  std::uint32_t from = 0;
  std::uint32_t to = 0;
  int sides = 1;
};
/// 2 e runs along edge e, 2 e + 1 against it.
using Half = std::uint32_t;
using Loop = std::vector<Half>;

struct Net {
  std::vector<Point> nodes;
  std::vector<Edge> edges;

  std::uint32_t start(Half half) const {
    return half % 2 == 0 ? edges[half / 2].from : edges[half / 2].to;
  }
  std::uint32_t end(Half half) const { return start(half ^ 1U); }
};

/// For each point the first of those that lie within `near_m` of it, itself or another.
std::vector<std::uint32_t> welded(const std::vector<Point>& points) {
  std::vector<std::uint32_t> order(points.size());
  std::iota(order.begin(), order.end(), 0U);
  std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    return std::pair(points[a], a) < std::pair(points[b], b);
  });
  std::vector<std::uint32_t> one(points.size());
  std::iota(one.begin(), one.end(), 0U);
  for (std::size_t i = 0; i < order.size(); ++i) {
    for (std::size_t k = i; k > 0; --k) {
      const Point& earlier = points[order[k - 1]];
      if (points[order[i]][0] - earlier[0] > near_m) {
        break;
      }
      if (importing::length(importing::minus(points[order[i]], earlier)) <= near_m) {
        one[order[i]] = one[order[k - 1]];
        break;
      }
    }
  }
  return one;
}

/// The nodes that lie within an edge, in order from its start.
std::vector<std::uint32_t> nodes_on(const Net& net, const Edge& edge) {
  const Point& a = net.nodes[edge.from];
  const Point way = importing::minus(net.nodes[edge.to], a);
  const double length = importing::length(way);
  std::vector<std::pair<double, std::uint32_t>> found;
  for (std::uint32_t node = 0; node < net.nodes.size(); ++node) {
    const Point from_a = importing::minus(net.nodes[node], a);
    const double along = importing::dot(from_a, way) / length;
    if (along > near_m && along < length - near_m &&
        importing::length(importing::cross(from_a, way)) <= near_m * length) {
      found.emplace_back(along, node);
    }
  }
  std::sort(found.begin(), found.end());
  std::vector<std::uint32_t> nodes;
  nodes.reserve(found.size());
  for (const auto& [along, node] : found) {
    nodes.push_back(node);
  }
  return nodes;
}

Net net_of(const std::vector<RoofLine>& lines) {
  std::vector<Point> ends;
  for (const RoofLine& line : lines) {
    ends.push_back(line.from);
    ends.push_back(line.to);
  }
  const std::vector<std::uint32_t> one = welded(ends);
  Net net;
  std::map<std::uint32_t, std::uint32_t> node_of;
  for (std::uint32_t i = 0; i < ends.size(); ++i) {
    if (node_of.emplace(one[i], net.nodes.size()).second) {
      net.nodes.push_back(ends[one[i]]);
    }
  }
  // Lines that lie on one another count as one, which bears what both bear.
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> sides;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Edge whole{node_of.at(one[2 * i]), node_of.at(one[2 * i + 1]), 0};
    if (whole.from == whole.to) {
      continue;
    }
    std::vector<std::uint32_t> stops = nodes_on(net, whole);
    stops.push_back(whole.to);
    std::uint32_t last = whole.from;
    for (const std::uint32_t stop : stops) {
      sides[{std::min(last, stop), std::max(last, stop)}] += lines[i].bears_two() ? 2 : 1;
      last = stop;
    }
  }
  for (const auto& [ends_of_edge, count] : sides) {
    net.edges.push_back({ends_of_edge.first, ends_of_edge.second, std::min(count, 2)});
  }
  return net;
}

struct Flat {
  Point normal{0.0, 0.0, 1.0};
  double offset = 0.0;
  bool is_level() const { return normal[2] > 1.0 - level * level; }
  bool has(const Point& p) const { return std::abs(importing::dot(normal, p) - offset) <= flat_m; }
};

/// Two edges at one node that are not in line.
struct Corner {
  double quality = 0.0;  ///< how well they tell a plane: metres
  std::uint32_t node = 0;
  Point normal{0.0, 0.0, 1.0};
  std::size_t one = 0;
  std::size_t other = 0;
};

std::vector<std::vector<Half>> halves_at(const Net& net, const std::vector<std::size_t>& edges) {
  std::vector<std::vector<Half>> at(net.nodes.size());
  for (const std::size_t edge : edges) {
    const auto half = static_cast<Half>(2 * edge);
    at[net.start(half)].push_back(half);
    at[net.end(half)].push_back(half ^ 1U);
  }
  return at;
}

/// None where the two are in line, or their plane is upright.
std::optional<Corner> corner_of(const Net& net, Half one, Half other) {
  const std::uint32_t node = net.start(one);
  const Point a = importing::minus(net.nodes[net.end(one)], net.nodes[node]);
  const Point b = importing::minus(net.nodes[net.end(other)], net.nodes[node]);
  const double shorter = std::min(importing::length(a), importing::length(b));
  const Point square = importing::cross(a, b);
  const double area = importing::length(square);
  const double sine = area / (importing::length(a) * importing::length(b));
  if (sine < least_sine || std::abs(square[2]) < least_upward * area) {
    return std::nullopt;
  }
  return Corner{shorter * sine, node,
                importing::scaled(square, (square[2] < 0.0 ? -1.0 : 1.0) / area), one / 2,
                other / 2};
}

void add_corners(const Net& net, const std::vector<Half>& halves, std::vector<Corner>& corners) {
  for (std::size_t i = 0; i < halves.size(); ++i) {
    for (std::size_t k = i + 1; k < halves.size(); ++k) {
      if (const std::optional<Corner> corner = corner_of(net, halves[i], halves[k])) {
        corners.push_back(*corner);
      }
    }
  }
}

/// The best first.
std::vector<Corner> corners_of(const Net& net) {
  std::vector<std::size_t> all(net.edges.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  std::vector<Corner> corners;
  for (const std::vector<Half>& halves : halves_at(net, all)) {
    if (halves.size() <= most_at_node) {
      add_corners(net, halves, corners);
    }
  }
  std::stable_sort(corners.begin(), corners.end(),
                   [](const Corner& a, const Corner& b) { return a.quality > b.quality; });
  return corners;
}

importing::Ring ring_of(const Net& net, const Loop& loop) {
  importing::Ring corners;
  for (const Half half : loop) {
    corners.push_back(net.nodes[net.start(half)]);
  }
  return corners;
}

std::vector<Position> in_plan(const Net& net, const Loop& loop) {
  std::vector<Position> corners;
  for (const Half half : loop) {
    corners.push_back({net.nodes[net.start(half)][0], net.nodes[net.start(half)][1]});
  }
  return corners;
}

/// Loops in one plane: those that go round anticlockwise, and those that may be holes in them.
struct Candidate {
  Loop loop;
  std::size_t plane = 0;
  double twice_area_m2 = 0.0;
  bool is_alive = true;
  bool is_chosen = false;
};

/// Edges of the plane without those that lead nowhere.
std::vector<std::size_t> without_ends(const Net& net, std::vector<std::size_t> edges) {
  std::vector<int> degree(net.nodes.size());
  for (const std::size_t edge : edges) {
    ++degree[net.edges[edge].from];
    ++degree[net.edges[edge].to];
  }
  const auto is_end = [&](std::size_t edge) {
    return degree[net.edges[edge].from] == 1 || degree[net.edges[edge].to] == 1;
  };
  for (bool has_changed = true; has_changed;) {
    has_changed = false;
    std::erase_if(edges, [&](std::size_t edge) {
      if (!is_end(edge)) {
        return false;
      }
      --degree[net.edges[edge].from];
      --degree[net.edges[edge].to];
      has_changed = true;
      return true;
    });
  }
  return edges;
}

/// All loops that keep what is left of each edge, smallest turns first.
std::vector<Loop> loops_in(const Net& net, const std::vector<std::size_t>& edges) {
  std::vector<std::vector<Half>> at = halves_at(net, edges);
  const auto angle = [&](Half half) {
    const Point way = importing::minus(net.nodes[net.end(half)], net.nodes[net.start(half)]);
    return std::atan2(way[1], way[0]);
  };
  std::map<Half, Half> next;
  for (std::vector<Half>& halves : at) {
    std::sort(halves.begin(), halves.end(),
              [&](Half a, Half b) { return std::pair(angle(a), a) < std::pair(angle(b), b); });
    // Coming in against halves[i], what lies on the left ends at the next one clockwise.
    for (std::size_t i = 0; i < halves.size(); ++i) {
      next[halves[i] ^ 1U] = halves[(i + halves.size() - 1) % halves.size()];
    }
  }
  std::set<Half> seen;
  std::vector<Loop> loops;
  for (const auto& [first, second] : next) {
    Loop loop;
    for (Half half = first; seen.insert(half).second; half = next.at(half)) {
      loop.push_back(half);
    }
    const std::set<Half> in_loop(loop.begin(), loop.end());
    const bool has_bridge = std::any_of(loop.begin(), loop.end(),
                                        [&](Half half) { return in_loop.contains(half ^ 1U); });
    if (loop.size() > 2 && !has_bridge) {
      loops.push_back(std::move(loop));
    }
  }
  return loops;
}

class Finder {
 public:
  explicit Finder(Net net) : net_(std::move(net)) {}

  Between find() {
    find_candidates();
    drop_loose_holes();
    users_.resize(2 * net_.edges.size());
    for (std::size_t i = 0; i < all_.size(); ++i) {
      for (const Half half : all_[i].loop) {
        users_[half].push_back(i);
      }
    }
    choose_all();
    return result();
  }

 private:
  void find_candidates() {
    std::vector<std::set<std::size_t>> planes_of(net_.edges.size());
    std::set<Loop> known;
    for (const Corner& corner : corners_of(net_)) {
      if (planes_.size() == most_planes) {
        return;
      }
      const auto& first = planes_of[corner.one];
      if (std::any_of(first.begin(), first.end(),
                      [&](std::size_t plane) { return planes_of[corner.other].contains(plane); })) {
        continue;
      }
      const Flat flat{corner.normal, importing::dot(corner.normal, net_.nodes[corner.node])};
      std::vector<std::size_t> edges;
      for (std::size_t edge = 0; edge < net_.edges.size(); ++edge) {
        if (flat.has(net_.nodes[net_.edges[edge].from]) &&
            flat.has(net_.nodes[net_.edges[edge].to])) {
          edges.push_back(edge);
          planes_of[edge].insert(planes_.size());
        }
      }
      add_loops(flat, without_ends(net_, std::move(edges)), known);
      planes_.push_back(flat);
    }
  }
  void add_loops(const Flat& flat, const std::vector<std::size_t>& edges, std::set<Loop>& known) {
    for (Loop& loop : loops_in(net_, edges)) {
      const bool is_border = std::all_of(
          loop.begin(), loop.end(), [&](Half half) { return net_.edges[half / 2].sides == 1; });
      Loop as_set = loop;
      std::sort(as_set.begin(), as_set.end());
      const double twice = importing::newell(ring_of(net_, loop))[2];
      if ((is_border && flat.is_level()) || std::abs(twice) < near_m * near_m ||
          !known.insert(std::move(as_set)).second) {
        continue;
      }
      all_.push_back({std::move(loop), planes_.size(), twice});
    }
  }

  /// Whether a hole lies in a face of the same plane and shares no side with it.
  bool is_within(const Candidate& hole, const Candidate& face) const {
    if (face.plane != hole.plane || face.twice_area_m2 <= -hole.twice_area_m2) {
      return false;
    }
    const std::vector<Position> outline = in_plan(net_, face.loop);
    return std::all_of(hole.loop.begin(), hole.loop.end(), [&](Half half) {
      const Point& a = net_.nodes[net_.start(half)];
      const Point& b = net_.nodes[net_.end(half)];
      return std::find(face.loop.begin(), face.loop.end(), half ^ 1U) == face.loop.end() &&
             contains(outline, {(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0});
    });
  }
  void drop_loose_holes() {
    std::vector<bool> is_loose(all_.size());
    for (std::size_t i = 0; i < all_.size(); ++i) {
      is_loose[i] = all_[i].twice_area_m2 < 0.0 &&
                    std::none_of(all_.begin(), all_.end(),
                                 [&](const Candidate& face) { return is_within(all_[i], face); });
    }
    std::size_t number = 0;
    std::erase_if(all_, [&](const Candidate&) { return is_loose[number++]; });
  }

  bool is_two_sided(Half half) const { return net_.edges[half / 2].sides == 2; }
  void choose(std::size_t number) {
    Candidate& one = all_[number];
    one.is_chosen = true;
    for (const Half half : one.loop) {
      for (const std::size_t other : users_[half]) {
        all_[other].is_alive = false;
      }
      if (!is_two_sided(half)) {
        for (const std::size_t other : users_[half ^ 1U]) {
          all_[other].is_alive = false;
        }
      }
    }
  }
  /// The only loop that could bear a side which needs one.
  std::optional<std::size_t> forced() const {
    for (Half half = 0; half < users_.size(); ++half) {
      std::size_t count = 0;
      std::size_t last = 0;
      const auto look = [&](Half side) {
        for (const std::size_t i : users_[side]) {
          count += all_[i].is_alive ? 1U : 0U;
          last = all_[i].is_alive ? i : last;
        }
      };
      look(half);
      if (!is_two_sided(half)) {
        look(half ^ 1U);
      }
      if (count == 1) {
        return last;
      }
    }
    return std::nullopt;
  }
  /// Where several could, the one with the fewest lines, then the smallest.
  std::optional<std::size_t> simplest() const {
    std::optional<std::size_t> best;
    const auto rank = [&](std::size_t i) {
      return std::pair(all_[i].loop.size(), std::abs(all_[i].twice_area_m2));
    };
    for (std::size_t i = 0; i < all_.size(); ++i) {
      if (all_[i].is_alive && (!best || rank(i) < rank(*best))) {
        best = i;
      }
    }
    return best;
  }
  void choose_all() {
    while (true) {
      std::optional<std::size_t> next = forced();
      next = next ? next : simplest();
      if (!next) {
        return;
      }
      choose(*next);
    }
  }

  Between result() const {
    Between found;
    std::vector<bool> is_borne(users_.size());
    bool has_slope = false;
    for (const Candidate& face : all_) {
      if (!face.is_chosen || face.twice_area_m2 < 0.0) {
        continue;
      }
      has_slope = has_slope || !planes_[face.plane].is_level();
      importing::Polygon polygon{ring_of(net_, face.loop)};
      const auto bear = [&](const Loop& loop) {
        for (const Half half : loop) {
          is_borne[half] = true;
        }
      };
      bear(face.loop);
      for (const Candidate& hole : all_) {
        if (hole.is_chosen && hole.twice_area_m2 < 0.0 && is_within(hole, face)) {
          polygon.push_back(ring_of(net_, hole.loop));
          bear(hole.loop);
        }
      }
      found.planes.push_back(std::move(polygon));
    }
    for (std::size_t edge = 0; edge < net_.edges.size(); ++edge) {
      const auto sides = static_cast<std::size_t>(net_.edges[edge].sides);
      const std::size_t borne = (is_borne[2 * edge] ? 1U : 0U) + (is_borne[2 * edge + 1] ? 1U : 0U);
      found.sides += sides;
      found.open += sides - std::min(sides, borne);
    }
    if (!has_slope) {
      return {{}, found.sides, found.sides};
    }
    return found;
  }

  Net net_;
  std::vector<Flat> planes_;
  std::vector<Candidate> all_;
  std::vector<std::vector<std::size_t>> users_;  ///< of each half, among the candidates
};

}  // namespace

Between planes_between(const std::vector<RoofLine>& lines) {
  if (lines.empty() || lines.size() > most_lines) {
    return {};
  }
  return Finder(net_of(lines)).find();
}

}  // namespace ridgeward::dxf
