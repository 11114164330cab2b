#include "surface/regularise.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

namespace ridgeward::surface {

namespace {

constexpr double most_turn_rad = 0.02;  // a wall so short that 1/32 in turns it more is left alone
constexpr double exact_m = 1e-10;       // what rounding alone can do
constexpr double most_moved_m = units::inch_m / 8;
constexpr double least_edge_m = 1e-6;

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }
glm::dvec2 quarter_turn(glm::dvec2 a) { return {-a.y, a.x}; }

struct Given {
  std::vector<glm::dvec2> corners;
  std::vector<std::size_t> loop_ends;
};

Given flatten(const std::vector<std::vector<glm::dvec2>>& loops) {
  Given given;
  for (const auto& loop : loops) {
    given.corners.insert(given.corners.end(), loop.begin(), loop.end());
    given.loop_ends.push_back(given.corners.size());
  }
  return given;
}

struct Edge {
  glm::dvec2 vector{0.0};
  double length = 0.0;
  std::size_t family = 0;  // edges parallel or square to each other
  bool is_square = false;  // to the family's direction
  bool is_exact = true;    // lies on its line as given
};

/// Gives `edge` to the family it is nearest to, if any is near enough.
bool join_family(Edge& edge, const std::vector<glm::dvec2>& families, double reach_m) {
  double best = reach_m;
  bool found = false;
  for (std::size_t k = 0; k < families.size(); ++k) {
    const double c = cross(families[k], edge.vector) / edge.length;
    const double s = glm::dot(families[k], edge.vector) / edge.length;
    const bool is_square = std::abs(s) < std::abs(c);
    const double turn = is_square ? std::abs(s) : std::abs(c);
    const double off = turn * edge.length / 2;
    if (turn <= most_turn_rad && off < best) {
      best = off;
      found = true;
      edge.family = k;
      edge.is_square = is_square;
      edge.is_exact = off <= exact_m;
    }
  }
  return found;
}

std::vector<glm::dvec2> find_families(std::vector<Edge>& edges, std::vector<glm::dvec2>& raw,
                                      double reach_m) {
  std::vector<std::size_t> order(edges.size());
  std::iota(order.begin(), order.end(), 0U);
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return edges[a].length > edges[b].length; });
  std::vector<glm::dvec2> units;
  for (const std::size_t i : order) {
    if (!join_family(edges[i], units, reach_m)) {
      edges[i].family = units.size();
      units.push_back(edges[i].vector / edges[i].length);
      raw.push_back(edges[i].vector);
    }
  }
  return units;
}

/// Lines that lie within reach of each other across the house, or follow each other round a
/// corner that is none, become one line.
void align(std::vector<EdgeLine>& lines, const std::vector<Edge>& edges,
           const std::vector<glm::dvec2>& units, const std::vector<std::size_t>& loop_ends,
           double reach_m) {
  struct Offset {
    std::size_t family;
    bool is_square;
    double at;
    std::size_t edge;
  };
  std::vector<Offset> offsets;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const glm::dvec2 d =
        edges[i].is_square ? quarter_turn(units[edges[i].family]) : units[edges[i].family];
    offsets.push_back({edges[i].family, edges[i].is_square, cross(d, lines[i].anchor), i});
  }
  std::sort(offsets.begin(), offsets.end(), [](const Offset& a, const Offset& b) {
    return std::tie(a.family, a.is_square, a.at, a.edge) <
           std::tie(b.family, b.is_square, b.at, b.edge);
  });
  for (std::size_t first = 0; first < offsets.size();) {
    std::size_t end = first + 1;
    while (end < offsets.size() && offsets[end].family == offsets[first].family &&
           offsets[end].is_square == offsets[first].is_square &&
           offsets[end].at - offsets[first].at <= reach_m) {
      ++end;
    }
    const auto longest = std::max_element(offsets.begin() + static_cast<std::ptrdiff_t>(first),
                                          offsets.begin() + static_cast<std::ptrdiff_t>(end),
                                          [&](const Offset& a, const Offset& b) {
                                            return edges[a.edge].length < edges[b.edge].length;
                                          });
    const glm::dvec2 anchor = lines[longest->edge].anchor;
    for (std::size_t k = first; k < end; ++k) {
      if (offsets[k].at != longest->at) {
        lines[offsets[k].edge].anchor = anchor;
      }
    }
    first = end;
  }
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::size_t before = edge_before(i, loop_ends);
    if (edges[i].family == edges[before].family && edges[i].is_square == edges[before].is_square) {
      const bool longer = edges[i].length > edges[before].length;
      lines[longer ? before : i].anchor = lines[longer ? i : before].anchor;
    }
  }
}

RegularPlan attempt(const Given& given, double reach_m) {
  const std::size_t n = given.corners.size();
  std::vector<Edge> edges(n);
  for (std::size_t i = 0; i < n; ++i) {
    edges[i].vector = given.corners[edge_after(i, given.loop_ends)] - given.corners[i];
    edges[i].length = glm::length(edges[i].vector);
  }
  std::vector<glm::dvec2> raw;
  const std::vector<glm::dvec2> units = find_families(edges, raw, reach_m);
  RegularPlan plan;
  plan.loop_ends = given.loop_ends;
  for (std::size_t i = 0; i < n; ++i) {
    glm::dvec2 d = edges[i].is_square ? quarter_turn(raw[edges[i].family]) : raw[edges[i].family];
    if (glm::dot(d, edges[i].vector) < 0) {
      d = -d;
    }
    plan.lines.push_back(
        {d, edges[i].is_exact ? given.corners[i] : given.corners[i] + edges[i].vector / 2.0});
  }
  align(plan.lines, edges, units, given.loop_ends, reach_m);
  plan.corners = corners_of(plan.lines, given.loop_ends, given.corners);
  for (std::size_t i = 0; i < n; ++i) {
    if (glm::length(plan.corners[i] - given.corners[i]) <= exact_m) {
      plan.corners[i] = given.corners[i];
    }
  }
  return plan;
}

bool is_sound(const RegularPlan& plan) {
  for (std::size_t i = 0; i < plan.lines.size(); ++i) {
    const glm::dvec2 d = glm::normalize(plan.lines[i].direction);
    const glm::dvec2 edge = plan.corners[edge_after(i, plan.loop_ends)] - plan.corners[i];
    if (!(glm::dot(d, edge) > least_edge_m) || std::abs(cross(d, edge)) > least_edge_m) {
      return false;
    }
    // A sharp corner must not be folded flat.
    const glm::dvec2 next = glm::normalize(plan.lines[edge_after(i, plan.loop_ends)].direction);
    if (std::abs(cross(d, next)) < 1e-9 && glm::dot(d, next) < 0) {
      return false;
    }
  }
  return true;
}

}  // namespace

std::size_t edge_before(std::size_t i, const std::vector<std::size_t>& loop_ends) {
  std::size_t first = 0;
  for (const std::size_t end : loop_ends) {
    if (i < end) {
      return i > first ? i - 1 : end - 1;
    }
    first = end;
  }
  return i;
}

std::size_t edge_after(std::size_t i, const std::vector<std::size_t>& loop_ends) {
  std::size_t first = 0;
  for (const std::size_t end : loop_ends) {
    if (i < end) {
      return i + 1 < end ? i + 1 : first;
    }
    first = end;
  }
  return i;
}

std::vector<glm::dvec2> corners_of(const std::vector<EdgeLine>& lines,
                                   const std::vector<std::size_t>& loop_ends,
                                   const std::vector<glm::dvec2>& given) {
  std::vector<glm::dvec2> corners(lines.size());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const EdgeLine& a = lines[edge_before(i, loop_ends)];
    const EdgeLine& b = lines[i];
    const double turn = cross(a.direction, b.direction);
    const double size = glm::length(a.direction) * glm::length(b.direction);
    if (std::abs(turn) > 1e-13 * size) {
      const double along = cross(b.direction, a.anchor - b.anchor) / turn;
      corners[i] = a.anchor + along * a.direction;
    } else {
      const glm::dvec2 d = glm::normalize(b.direction);
      corners[i] = b.anchor + glm::dot(given[i] - b.anchor, d) * d;
    }
  }
  return corners;
}

RegularPlan regularise(const std::vector<std::vector<glm::dvec2>>& loops) {
  const Given given = flatten(loops);
  for (const double reach_m : {mend_m, exact_m}) {
    RegularPlan plan = attempt(given, reach_m);
    for (std::size_t i = 0; i < given.corners.size(); ++i) {
      const double moved = glm::length(plan.corners[i] - given.corners[i]);
      plan.moved_m.push_back(moved);
      if (moved > plan.most_moved_m) {
        plan.most_moved_m = moved;
        plan.most_moved_corner = i;
      }
    }
    if (is_sound(plan) && plan.most_moved_m <= most_moved_m) {
      return plan;
    }
  }
  // Nothing to mend safely: every edge on its own line, as given.
  RegularPlan plan;
  plan.loop_ends = given.loop_ends;
  plan.corners = given.corners;
  plan.moved_m.assign(given.corners.size(), 0.0);
  for (std::size_t i = 0; i < given.corners.size(); ++i) {
    plan.lines.push_back(
        {given.corners[edge_after(i, given.loop_ends)] - given.corners[i], given.corners[i]});
  }
  return plan;
}

RegularPlan take_loops(const RegularPlan& plan, std::size_t first_loop, std::size_t end_loop) {
  RegularPlan part;
  const std::size_t first = first_loop == 0 ? 0 : plan.loop_ends[first_loop - 1];
  for (std::size_t k = first_loop; k < end_loop; ++k) {
    part.loop_ends.push_back(plan.loop_ends[k] - first);
  }
  for (std::size_t i = first; i < plan.loop_ends[end_loop - 1]; ++i) {
    part.lines.push_back(plan.lines[i]);
    part.corners.push_back(plan.corners[i]);
  }
  return part;
}

}  // namespace ridgeward::surface
