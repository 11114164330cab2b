// Which plane is the highest over every face of the plan.
#include "surface/unite.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <tuple>

namespace ridgeward::surface {

namespace {

// Snapping moves vertices by a micrometre, steep planes turn that into a few of height.
constexpr double same_height_m = 5e-6;
constexpr std::uint32_t no_source = ~0U;
constexpr std::uint32_t no_face = ~0U;

struct Box {
  glm::dvec3 low{HUGE_VAL};
  glm::dvec3 high{-HUGE_VAL};
  void add(const glm::dvec3& p) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
  bool meets(const Box& other) const {
    return low.x <= other.high.x && other.low.x <= high.x && low.y <= other.high.y &&
           other.low.y <= high.y && low.z <= other.high.z && other.low.z <= high.z;
  }
};

/// A part's faces with the arcs around each.
struct PartView {
  const Mesh* mesh = nullptr;
  std::uint32_t first_face = 0;  // of the part among all faces
  Box box;
  std::vector<Box> boxes;                        // by face
  std::vector<std::vector<std::uint32_t>> arcs;  // by face
};

struct Finder {
  std::vector<PartView> parts{};
  Envelope result{};
  struct Source {
    std::uint32_t part;
    std::uint32_t arc;
  };
  std::vector<Source> sources{};
  std::vector<PlanSegment> segments{};
  struct Label {
    std::uint32_t cycle;
    std::uint32_t face;  // a plane over it, among all faces
  };
  std::vector<Label> labels{};
  /// What an edge with lines of a part says of the face beside it; `face` may be no_face.
  struct Vote {
    std::uint32_t part;
    std::uint32_t cycle;
    std::uint32_t face;
    double length_m;
  };
  std::vector<Vote> votes{};
  std::vector<std::pair<std::uint32_t, int>>
      balance{};                            // of one edge and part: face, left less right
  std::vector<std::uint32_t> borders_of{};  // parts with a border on an edge, by edge
  std::vector<std::size_t> first_border{};
  std::vector<std::uint32_t> seen{};  // by cycle: the part that reached it last, plus one

  explicit Finder(const std::vector<Mesh>& meshes);
  void add_arcs();
  void add_crossings();
  void cross(const PartView& a, std::uint32_t f, const PartView& b, std::uint32_t g);
  void ask_edges();
  void vote(std::uint32_t edge, std::size_t first, std::size_t last);
  void count_votes(std::size_t first, std::size_t last, std::vector<Label>& open);
  bool carries(std::uint32_t edge, std::uint32_t part) const;
  void spread();
  void locate_islands();
  void choose_tops();
  bool is_higher(std::int32_t candidate, std::int32_t best,
                 const std::vector<std::uint32_t>& around) const;
  std::int32_t locate(const PartView& part, glm::dvec2 p) const;
};

Finder::Finder(const std::vector<Mesh>& meshes) {
  for (const Mesh& mesh : meshes) {
    PartView view;
    view.mesh = &mesh;
    view.first_face = static_cast<std::uint32_t>(result.faces.size());
    view.boxes.resize(mesh.faces.size());
    view.arcs.resize(mesh.faces.size());
    for (std::uint32_t i = 0; i < mesh.arcs.size(); ++i) {
      const MeshArc& arc = mesh.arcs[i];
      for (const std::uint32_t face : {arc.left, arc.right}) {
        view.arcs[face].push_back(i);
        view.boxes[face].add(mesh.nodes[arc.from]);
        view.boxes[face].add(mesh.nodes[arc.to]);
        view.box.add(mesh.nodes[arc.from]);
        view.box.add(mesh.nodes[arc.to]);
      }
    }
    result.faces.insert(result.faces.end(), mesh.faces.begin(), mesh.faces.end());
    parts.push_back(std::move(view));
  }
}

void Finder::add_arcs() {
  for (std::uint32_t p = 0; p < parts.size(); ++p) {
    const Mesh& mesh = *parts[p].mesh;
    for (std::uint32_t i = 0; i < mesh.arcs.size(); ++i) {
      const glm::dvec2 a(mesh.nodes[mesh.arcs[i].from]);
      const glm::dvec2 b(mesh.nodes[mesh.arcs[i].to]);
      if (glm::length(b - a) > snap_m) {
        segments.push_back({a, b, static_cast<std::uint32_t>(sources.size())});
        sources.push_back({p, i});
      }
    }
  }
}

/// Stretches of the line o + t d that lie in the face, as sorted crossings with its border.
void stretches(const PartView& part, std::uint32_t face, glm::dvec2 o, glm::dvec2 d,
               std::vector<double>& crossings) {
  crossings.clear();
  for (const std::uint32_t i : part.arcs[face]) {
    const MeshArc& arc = part.mesh->arcs[i];
    const glm::dvec2 a = glm::dvec2(part.mesh->nodes[arc.from]) - o;
    const glm::dvec2 b = glm::dvec2(part.mesh->nodes[arc.to]) - o;
    const double sa = d.x * a.y - d.y * a.x;
    const double sb = d.x * b.y - d.y * b.x;
    if ((sa > 0) != (sb > 0)) {
      const glm::dvec2 p = a + (b - a) * (sa / (sa - sb));
      crossings.push_back(glm::dot(p, d));
    }
  }
  std::sort(crossings.begin(), crossings.end());
}

void Finder::cross(const PartView& a, std::uint32_t f, const PartView& b, std::uint32_t g) {
  const MeshFace& p = a.mesh->faces[f];
  const MeshFace& q = b.mesh->faces[g];
  const glm::dvec2 rise = p.normal / p.run_per_rise - q.normal / q.run_per_rise;
  const double steepness = glm::length(rise);
  if (steepness < 1e-9) {
    return;
  }
  // The point of the line nearest to the middle of the first face.
  const glm::dvec2 middle((a.boxes[f].low + a.boxes[f].high) * 0.5);
  const glm::dvec2 n = rise / steepness;
  const glm::dvec2 o = middle - n * ((p.z(middle) - q.z(middle)) / steepness);
  const glm::dvec2 d{-n.y, n.x};
  std::vector<double> in_f;
  std::vector<double> in_g;
  stretches(a, f, o, d, in_f);
  stretches(b, g, o, d, in_g);
  for (std::size_t i = 0; i + 1 < in_f.size(); i += 2) {
    for (std::size_t k = 0; k + 1 < in_g.size(); k += 2) {
      const double from = std::max(in_f[i], in_g[k]);
      const double to = std::min(in_f[i + 1], in_g[k + 1]);
      if (to - from > snap_m) {
        segments.push_back({o + from * d, o + to * d, no_source});
      }
    }
  }
}

void Finder::add_crossings() {
  const auto is_plane = [](const PartView& part, std::uint32_t face) {
    return part.mesh->faces[face].kind == MeshFace::Kind::plane;
  };
  for (std::size_t p = 0; p < parts.size(); ++p) {
    for (std::size_t q = p + 1; q < parts.size(); ++q) {
      if (!parts[p].box.meets(parts[q].box)) {
        continue;
      }
      for (std::uint32_t f = 0; f < parts[p].boxes.size(); ++f) {
        for (std::uint32_t g = 0; g < parts[q].boxes.size(); ++g) {
          if (is_plane(parts[p], f) && is_plane(parts[q], g) &&
              parts[p].boxes[f].meets(parts[q].boxes[g])) {
            cross(parts[p], f, parts[q], g);
          }
        }
      }
    }
  }
}

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

bool Finder::is_higher(std::int32_t candidate, std::int32_t best,
                       const std::vector<std::uint32_t>& around) const {
  const MeshFace& c = result.faces[static_cast<std::size_t>(candidate)];
  const MeshFace& b = result.faces[static_cast<std::size_t>(best)];
  double lead = 0.0;
  for (const std::uint32_t h : around) {
    const glm::dvec2 p = result.plan.vertices[result.plan.origin(h)];
    const double d = c.z(p) - b.z(p);
    lead = std::abs(d) > std::abs(lead) ? d : lead;
  }
  return lead > same_height_m;
}

void Finder::choose_tops() {
  const Arrangement& plan = result.plan;
  result.top.assign(plan.cycle_count, PartFace::outside);
  std::sort(labels.begin(), labels.end(), [](const Label& a, const Label& b) {
    return std::tie(a.cycle, a.face) < std::tie(b.cycle, b.face);
  });
  std::vector<std::uint8_t> done(plan.cycle_count, 0);
  std::vector<std::uint32_t> around;
  for (std::uint32_t first = 0; first < plan.next.size(); ++first) {
    const std::uint32_t c = plan.cycle[first];
    if (done[c] != 0) {
      continue;
    }
    done[c] = 1;
    around.clear();
    for (std::uint32_t h = first; around.empty() || h != first; h = plan.next[h]) {
      around.push_back(h);
    }
    const auto over =
        std::equal_range(labels.begin(), labels.end(), Label{c, 0},
                         [](const Label& x, const Label& y) { return x.cycle < y.cycle; });
    std::int32_t best = PartFace::outside;
    for (auto it = over.first; it != over.second; ++it) {
      const auto candidate = static_cast<std::int32_t>(it->face);
      if (best < 0 || is_higher(candidate, best, around)) {
        best = candidate;
      }
    }
    result.top[c] = best;
  }
}

}  // namespace

Envelope find_envelope(const std::vector<Mesh>& parts) {
  Finder finder(parts);
  finder.add_arcs();
  finder.add_crossings();
  finder.result.plan = arrange(finder.segments);
  finder.ask_edges();
  finder.spread();
  finder.locate_islands();
  finder.choose_tops();
  return std::move(finder.result);
}

}  // namespace ridgeward::surface
