// Which plane of each part lies over each face of the plan.
#include "surface/finder.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <tuple>

namespace ridgeward::surface {

/// The lines of one part on an edge tell which of its planes lie on the two sides: what is left
/// over when the faces between its lines, which have no width here, are taken out.
void Finder::vote(std::uint32_t e, std::size_t first, std::size_t last) {
  const Arrangement& plan = result.plan;
  const std::uint32_t owner = sources[plan.sources[first].source].part;
  const PartView& part = parts[owner];
  balance.clear();
  const auto count = [&](std::uint32_t face, int by) {
    for (auto& [known, sum] : balance) {
      if (known == face) {
        sum += by;
        return;
      }
    }
    balance.emplace_back(face, by);
  };
  for (std::size_t i = first; i < last; ++i) {
    const OnEdge& on = plan.sources[i];
    const MeshArc& arc = part.mesh->arcs[sources[on.source].arc];
    count(arc.left, on.same_way ? 1 : -1);
    count(arc.right, on.same_way ? -1 : 1);
  }
  std::array<std::uint32_t, 2> sides{no_face, no_face};
  bool parts_anything = false;
  for (const auto& [face, sum] : balance) {
    const MeshFace::Kind kind = part.mesh->faces[face].kind;
    if (kind == MeshFace::Kind::gable || kind == MeshFace::Kind::step) {
      result.wall[e] = part.first_face + face;
    }
    parts_anything = parts_anything || sum != 0;
    if (sum != 0 && kind == MeshFace::Kind::plane) {
      sides[sum > 0 ? 0 : 1] = part.first_face + face;
    }
  }
  if (!parts_anything) {
    return;
  }
  borders_of.push_back(owner);
  const double length =
      glm::length(plan.vertices[plan.edges[e].to] - plan.vertices[plan.edges[e].from]);
  for (std::uint32_t k = 0; k < 2; ++k) {
    votes.push_back({owner, plan.cycle[2 * e + k], sides[k], length});
  }
}

void Finder::ask_edges() {
  const Arrangement& plan = result.plan;
  result.wall.assign(plan.edges.size(), no_source);
  for (std::uint32_t e = 0; e < plan.edges.size(); ++e) {
    first_border.push_back(borders_of.size());
    // Sources stand in the order of their parts; crossings of planes come last.
    const std::size_t end = plan.source_end(e);
    for (std::size_t first = plan.edges[e].first_source;
         first < end && plan.sources[first].source != no_source;) {
      std::size_t last = first;
      while (last < end && plan.sources[last].source != no_source &&
             sources[plan.sources[last].source].part == sources[plan.sources[first].source].part) {
        ++last;
      }
      vote(e, first, last);
      first = last;
    }
  }
  first_border.push_back(borders_of.size());
  std::stable_sort(votes.begin(), votes.end(), [](const Vote& a, const Vote& b) {
    return std::tie(a.part, a.cycle, a.face) < std::tie(b.part, b.cycle, b.face);
  });
}

/// Of all that the edges of a face say, the longest side is believed: snapping may turn a sliver
/// over, and its edges then contradict each other.
void Finder::count_votes(std::size_t first, std::size_t last, std::vector<Label>& open) {
  for (std::size_t i = first; i < last;) {
    Label best{votes[i].cycle, no_face};
    double most = -1.0;
    const std::uint32_t cycle = votes[i].cycle;
    while (i < last && votes[i].cycle == cycle) {
      const std::uint32_t face = votes[i].face;
      double length = 0.0;
      for (; i < last && votes[i].cycle == cycle && votes[i].face == face; ++i) {
        length += votes[i].length_m;
      }
      if (length > most) {
        most = length;
        best.face = face;
      }
    }
    seen[cycle] = votes[first].part + 1;
    if (best.face != no_face) {
      open.push_back(best);
    }
  }
}

bool Finder::carries(std::uint32_t edge, std::uint32_t part) const {
  for (std::size_t i = first_border[edge]; i < first_border[edge + 1]; ++i) {
    if (borders_of[i] == part) {
      return true;
    }
  }
  return false;
}

/// Across an edge without a line of the part the part's plane stays the same.
void Finder::spread() {
  const Arrangement& plan = result.plan;
  std::vector<std::uint32_t> first(plan.cycle_count, ~0U);
  for (std::uint32_t h = 0; h < plan.next.size(); ++h) {
    first[plan.cycle[h]] = h;
  }
  seen.assign(plan.cycle_count, 0);
  std::vector<Label> open;
  for (std::size_t i = 0; i < votes.size();) {
    const std::uint32_t part = votes[i].part;
    std::size_t last = i;
    while (last < votes.size() && votes[last].part == part) {
      ++last;
    }
    open.clear();
    count_votes(i, last, open);
    i = last;
    while (!open.empty()) {
      const Label at = open.back();
      open.pop_back();
      labels.push_back(at);
      std::uint32_t h = first[at.cycle];
      do {
        const std::uint32_t beyond = plan.cycle[h ^ 1U];
        if (seen[beyond] != part + 1 && !carries(h / 2, part)) {
          seen[beyond] = part + 1;
          open.push_back({beyond, at.face});
        }
        h = plan.next[h];
      } while (h != first[at.cycle]);
    }
  }
}

/// The plane of the part over a point of the plan that lies on none of its lines.
std::int32_t Finder::locate(const PartView& part, glm::dvec2 p) const {
  for (std::uint32_t f = 0; f < part.arcs.size(); ++f) {
    if (part.mesh->faces[f].kind != MeshFace::Kind::plane) {
      continue;
    }
    bool inside = false;
    for (const std::uint32_t i : part.arcs[f]) {
      const glm::dvec2 a(part.mesh->nodes[part.mesh->arcs[i].from]);
      const glm::dvec2 b(part.mesh->nodes[part.mesh->arcs[i].to]);
      if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x) {
        inside = !inside;
      }
    }
    if (inside) {
      return static_cast<std::int32_t>(part.first_face + f);
    }
  }
  return PartFace::outside;
}

/// What hangs together in plan and touches no line of a part lies in one of its planes, or outside
/// it, as a whole.
void Finder::locate_islands() {
  const Arrangement& plan = result.plan;
  std::vector<std::uint32_t> island(plan.vertices.size());
  std::iota(island.begin(), island.end(), 0U);
  const auto root = [&](std::uint32_t v) {
    while (island[v] != v) {
      island[v] = island[island[v]];
      v = island[v];
    }
    return v;
  };
  for (const Arrangement::Edge& edge : plan.edges) {
    island[root(edge.from)] = root(edge.to);
  }
  std::map<std::uint32_t, std::vector<std::uint8_t>> touches;  // by root: which parts
  for (std::uint32_t e = 0; e < plan.edges.size(); ++e) {
    auto& parts_here = touches[root(plan.edges[e].from)];
    parts_here.resize(parts.size(), 0);
    for (std::size_t i = plan.edges[e].first_source; i < plan.source_end(e); ++i) {
      if (plan.sources[i].source != no_source) {
        parts_here[sources[plan.sources[i].source].part] = 1;
      }
    }
  }
  if (touches.size() == 1) {
    return;
  }
  for (const auto& [at, parts_here] : touches) {
    for (std::size_t p = 0; p < parts.size(); ++p) {
      const std::int32_t face =
          parts_here[p] != 0 ? PartFace::outside : locate(parts[p], plan.vertices[at]);
      if (face < 0) {
        continue;
      }
      for (std::uint32_t h = 0; h < plan.next.size(); ++h) {
        if (root(plan.origin(h)) == at && seen[plan.cycle[h]] != parts.size() + p + 1) {
          seen[plan.cycle[h]] = static_cast<std::uint32_t>(parts.size() + p + 1);
          labels.push_back({plan.cycle[h], static_cast<std::uint32_t>(face)});
        }
      }
    }
  }
}

}  // namespace ridgeward::surface
