#include "surface/mesh.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cstdint>
#include <map>
#include <numeric>
#include <utility>

namespace ridgeward::surface {

namespace {

double arc_length(const Mesh& s, const MeshArc& arc) {
  return glm::length(s.nodes[arc.to] - s.nodes[arc.from]);
}

void reverse_unless(MeshArc& arc, bool runs_well) {
  if (!runs_well) {
    std::swap(arc.from, arc.to);
    std::swap(arc.left, arc.right);
  }
}

void drop(Mesh& s, const std::vector<std::uint8_t>& dead) {
  std::size_t kept = 0;
  for (std::size_t i = 0; i < s.arcs.size(); ++i) {
    if (dead[i] == 0) {
      s.arcs[kept++] = s.arcs[i];
    }
  }
  s.arcs.resize(kept);
}

/// Two arcs with the same ends bound a face without area: the faces beyond it meet. True if any.
bool join_doubles(Mesh& s) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::size_t> by_ends;
  std::vector<std::uint8_t> dead(s.arcs.size(), 0);
  bool any = false;
  for (std::size_t i = 0; i < s.arcs.size(); ++i) {
    MeshArc& arc = s.arcs[i];
    reverse_unless(arc, arc.from < arc.to);
    const auto [place, is_new] = by_ends.try_emplace({arc.from, arc.to}, i);
    if (is_new) {
      continue;
    }
    MeshArc& other = s.arcs[place->second];
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
bool is_straight(const Mesh& s, std::uint32_t a, std::uint32_t mid, std::uint32_t b) {
  const glm::dvec3 u = s.nodes[mid] - s.nodes[a];
  const glm::dvec3 v = s.nodes[b] - s.nodes[mid];
  const double uv = glm::dot(u, v);
  const glm::dvec3 off = glm::cross(u, v);
  const double size = glm::dot(u, u) * glm::dot(v, v);
  return uv > 0 && glm::dot(off, off) <= 1e-12 * size;
}

/// Where just two arcs meet in one line between the same two faces, they are one.
void join_through(Mesh& s) {
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
    MeshArc& a = s.arcs[ends[node].arc[0]];
    MeshArc& b = s.arcs[gone];
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

bool is_wall(const MeshFace& face) {
  return face.kind == MeshFace::Kind::gable || face.kind == MeshFace::Kind::step;
}

/// Walls that go on in one vertical plane are one face, a gable where any of them is one.
void join_walls(Mesh& s) {
  std::vector<std::uint32_t> owner(s.faces.size());
  std::iota(owner.begin(), owner.end(), 0U);
  const auto root = [&](std::uint32_t i) {
    while (owner[i] != i) {
      i = owner[i];
    }
    return i;
  };
  std::vector<std::uint8_t> dead(s.arcs.size(), 0);
  bool any = false;
  for (std::size_t i = 0; i < s.arcs.size(); ++i) {
    const MeshArc& arc = s.arcs[i];
    if (is_wall(s.faces[arc.left]) && is_wall(s.faces[arc.right]) &&
        glm::length(s.faces[arc.left].normal - s.faces[arc.right].normal) < 1e-9) {
      const std::uint32_t a = root(arc.left);
      const std::uint32_t b = root(arc.right);
      const bool has_gable =
          s.faces[a].kind == MeshFace::Kind::gable || s.faces[b].kind == MeshFace::Kind::gable;
      owner[std::max(a, b)] = std::min(a, b);
      s.faces[std::min(a, b)].kind = has_gable ? MeshFace::Kind::gable : MeshFace::Kind::step;
      dead[i] = 1;
      any = true;
    }
  }
  if (any) {
    for (MeshArc& arc : s.arcs) {
      arc.left = root(arc.left);
      arc.right = root(arc.right);
    }
    drop(s, dead);
  }
}

}  // namespace

void tidy(Mesh& s) {
  std::vector<std::uint32_t> parent(s.nodes.size());
  std::iota(parent.begin(), parent.end(), 0U);
  const auto root = [&](std::uint32_t i) {
    while (parent[i] != i) {
      i = parent[i];
    }
    return i;
  };
  bool any = false;
  for (const MeshArc& arc : s.arcs) {
    if (arc_length(s, arc) < least_line_m) {
      any = true;
      // Nodes on the underside stay where they are: the outline is given.
      const std::uint32_t a = root(arc.from);
      const std::uint32_t b = root(arc.to);
      const bool keep_a = s.nodes[a].z <= s.nodes[b].z;
      parent[keep_a ? b : a] = keep_a ? a : b;
    }
  }
  if (any) {
    for (MeshArc& arc : s.arcs) {
      arc.from = root(arc.from);
      arc.to = root(arc.to);
    }
    std::erase_if(s.arcs, [](const MeshArc& arc) { return arc.from == arc.to; });
    while (join_doubles(s)) {
    }
  }
  join_walls(s);
  join_through(s);
}

}  // namespace ridgeward::surface
