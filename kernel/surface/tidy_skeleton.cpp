#include "surface/tidy_skeleton.hpp"

#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

namespace ridgeward::surface {

namespace {

double arc_length(const Skeleton& s, const SkeletonArc& arc) {
  const SkeletonNode& a = s.nodes[arc.from];
  const SkeletonNode& b = s.nodes[arc.to];
  return std::hypot(std::hypot(a.at.x - b.at.x, a.at.y - b.at.y), a.t - b.t);
}

void reverse_unless(SkeletonArc& arc, bool runs_well) {
  if (!runs_well) {
    std::swap(arc.from, arc.to);
    std::swap(arc.left, arc.right);
  }
}

void drop(Skeleton& s, const std::vector<std::uint8_t>& dead) {
  std::size_t kept = 0;
  for (std::size_t i = 0; i < s.arcs.size(); ++i) {
    if (dead[i] == 0) {
      s.arcs[kept++] = s.arcs[i];
    }
  }
  s.arcs.resize(kept);
}

/// Two arcs with the same ends bound a face without area: the faces beyond it meet. True if any.
bool join_doubles(Skeleton& s) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::size_t> by_ends;
  std::vector<std::uint8_t> dead(s.arcs.size(), 0);
  bool any = false;
  for (std::size_t i = 0; i < s.arcs.size(); ++i) {
    SkeletonArc& arc = s.arcs[i];
    reverse_unless(arc, arc.from < arc.to);
    const auto [place, is_new] = by_ends.try_emplace({arc.from, arc.to}, i);
    if (is_new) {
      continue;
    }
    SkeletonArc& other = s.arcs[place->second];
    if (other.right == arc.left) {
      other.right = arc.right;
    } else if (other.left == arc.right) {
      other.left = arc.left;
    } else {
      continue;
    }
    dead[i] = 1;
    any = true;
    if (other.left == other.right) {
      dead[place->second] = 1;
      by_ends.erase(place);
    }
  }
  drop(s, dead);
  return any;
}

/// Straight lines only: two arcs that bend at their node stay two.
bool is_straight(const Skeleton& s, std::uint32_t a, std::uint32_t mid, std::uint32_t b) {
  const auto point = [&](std::uint32_t i) {
    return std::array<double, 3>{s.nodes[i].at.x, s.nodes[i].at.y, s.nodes[i].t};
  };
  const auto p = point(a);
  const auto q = point(mid);
  const auto r = point(b);
  double uu = 0;
  double vv = 0;
  double uv = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    uu += (q[k] - p[k]) * (q[k] - p[k]);
    vv += (r[k] - q[k]) * (r[k] - q[k]);
    uv += (q[k] - p[k]) * (r[k] - q[k]);
  }
  return uv > 0 && uv * uv >= uu * vv * (1 - 1e-12);
}

/// Where just two arcs meet in one line between the same two faces, they are one.
void join_through(Skeleton& s) {
  struct Ends {
    std::array<std::size_t, 2> arc{};
    int count = 0;
  };
  std::vector<Ends> ends(s.nodes.size());
  for (std::size_t i = 0; i < s.arcs.size(); ++i) {
    for (const std::uint32_t node : {s.arcs[i].from, s.arcs[i].to}) {
      if (ends[node].count < 2) {
        ends[node].arc[static_cast<std::size_t>(ends[node].count)] = i;
      }
      ++ends[node].count;
    }
  }
  std::vector<std::uint8_t> dead(s.arcs.size(), 0);
  for (std::uint32_t node = 0; node < s.nodes.size(); ++node) {
    if (ends[node].count != 2) {
      continue;
    }
    const std::size_t gone = ends[node].arc[1];
    SkeletonArc& a = s.arcs[ends[node].arc[0]];
    SkeletonArc& b = s.arcs[gone];
    reverse_unless(a, a.to == node);
    reverse_unless(b, b.from == node);
    if (a.left != b.left || a.right != b.right || !is_straight(s, a.from, node, b.to)) {
      continue;
    }
    a.to = b.to;
    for (std::size_t& arc : ends[b.to].arc) {
      arc = arc == gone ? ends[node].arc[0] : arc;
    }
    dead[gone] = 1;
  }
  drop(s, dead);
}

}  // namespace

void tidy(Skeleton& s) {
  std::vector<std::uint32_t> parent(s.nodes.size());
  std::iota(parent.begin(), parent.end(), 0U);
  const auto root = [&](std::uint32_t i) {
    while (parent[i] != i) {
      i = parent[i];
    }
    return i;
  };
  bool any = false;
  for (const SkeletonArc& arc : s.arcs) {
    if (arc_length(s, arc) < least_line_m) {
      any = true;
      // Nodes on the underside stay where they are: the outline is given.
      const std::uint32_t a = root(arc.from);
      const std::uint32_t b = root(arc.to);
      const bool keep_a = s.nodes[a].t <= s.nodes[b].t;
      parent[keep_a ? b : a] = keep_a ? a : b;
    }
  }
  if (any) {
    for (SkeletonArc& arc : s.arcs) {
      arc.from = root(arc.from);
      arc.to = root(arc.to);
    }
    std::erase_if(s.arcs, [](const SkeletonArc& arc) { return arc.from == arc.to; });
    while (join_doubles(s)) {
    }
  }
  join_through(s);
}

}  // namespace ridgeward::surface
