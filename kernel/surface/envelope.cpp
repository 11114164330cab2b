// Which plane is the highest over every face of the plan.
#include "surface/unite.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace ridgeward::surface {

namespace {

// Snapping moves vertices by a micrometre, steep planes turn that into a few of height.
constexpr double same_height_m = 5e-6;
constexpr std::uint32_t no_source = ~0U;

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
  std::vector<Box> boxes;
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
  std::vector<std::int32_t> label{};  // part * cycles + cycle

  explicit Finder(const std::vector<Mesh>& meshes);
  void add_arcs();
  void add_crossings();
  void cross(const PartView& a, std::uint32_t f, const PartView& b, std::uint32_t g);
  void label_edges();
  void spread();
  void locate_rest();
  void choose_tops();
  bool is_higher(std::int32_t candidate, std::int32_t best,
                 const std::vector<std::uint32_t>& around) const;
  std::int32_t& at(std::size_t part, std::size_t cycle) {
    return label[part * result.plan.cycle_count + cycle];
  }
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
  for (std::size_t p = 0; p < parts.size(); ++p) {
    for (std::size_t q = p + 1; q < parts.size(); ++q) {
      for (std::uint32_t f = 0; f < parts[p].boxes.size(); ++f) {
        if (parts[p].mesh->faces[f].kind != MeshFace::Kind::plane) {
          continue;
        }
        for (std::uint32_t g = 0; g < parts[q].boxes.size(); ++g) {
          if (parts[q].mesh->faces[g].kind == MeshFace::Kind::plane &&
              parts[p].boxes[f].meets(parts[q].boxes[g])) {
            cross(parts[p], f, parts[q], g);
          }
        }
      }
    }
  }
}

/// An edge that carries lines of a part tells which of its planes lie on the two sides.
void Finder::label_edges() {
  const Arrangement& plan = result.plan;
  label.assign(parts.size() * plan.cycle_count, PartFace::unknown);
  result.wall.assign(plan.edges.size(), no_source);
  for (std::uint32_t e = 0; e < plan.edges.size(); ++e) {
    const std::size_t end =
        e + 1 < plan.edges.size() ? plan.edges[e + 1].first_source : plan.sources.size();
    for (std::size_t i = plan.edges[e].first_source; i < end; ++i) {
      const OnEdge& on = plan.sources[i];
      if (on.source == no_source) {
        continue;
      }
      const Source& source = sources[on.source];
      const Mesh& mesh = *parts[source.part].mesh;
      const MeshArc& arc = mesh.arcs[source.arc];
      const std::uint32_t left = on.same_way ? arc.left : arc.right;
      const std::uint32_t right = on.same_way ? arc.right : arc.left;
      for (const bool is_left : {true, false}) {
        const std::uint32_t face = is_left ? left : right;
        std::int32_t& slot = at(source.part, plan.cycle[2 * e + (is_left ? 0 : 1)]);
        if (mesh.faces[face].kind == MeshFace::Kind::plane) {
          slot = static_cast<std::int32_t>(parts[source.part].first_face + face);
        } else if (slot == PartFace::unknown) {
          slot = PartFace::outside;
        }
        if (mesh.faces[face].kind == MeshFace::Kind::gable ||
            mesh.faces[face].kind == MeshFace::Kind::step) {
          result.wall[e] = parts[source.part].first_face + face;
        }
      }
    }
  }
}

/// Across an edge without a line of the part the part's plane stays the same.
void Finder::spread() {
  const Arrangement& plan = result.plan;
  std::vector<std::uint32_t> first(plan.cycle_count, ~0U);
  for (std::uint32_t h = 0; h < plan.next.size(); ++h) {
    first[plan.cycle[h]] = h;
  }
  std::vector<std::uint32_t> queue;
  for (std::size_t p = 0; p < parts.size(); ++p) {
    queue.clear();
    for (std::uint32_t c = 0; c < plan.cycle_count; ++c) {
      if (at(p, c) != PartFace::unknown) {
        queue.push_back(c);
      }
    }
    while (!queue.empty()) {
      const std::uint32_t c = queue.back();
      queue.pop_back();
      std::uint32_t h = first[c];
      do {
        std::int32_t& beyond = at(p, plan.cycle[h ^ 1U]);
        if (beyond == PartFace::unknown) {
          beyond = at(p, c);
          queue.push_back(plan.cycle[h ^ 1U]);
        }
        h = plan.next[h];
      } while (h != first[c]);
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

/// What stands apart from a part lies in one of its planes, or outside it, as a whole.
void Finder::locate_rest() {
  const Arrangement& plan = result.plan;
  for (std::size_t p = 0; p < parts.size(); ++p) {
    for (std::uint32_t h = 0; h < plan.next.size(); ++h) {
      if (at(p, plan.cycle[h]) == PartFace::unknown) {
        at(p, plan.cycle[h]) = locate(parts[p], plan.vertices[plan.origin(h)]);
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
    std::int32_t best = PartFace::outside;
    for (std::size_t p = 0; p < parts.size(); ++p) {
      const std::int32_t candidate = at(p, c);
      if (candidate >= 0 && (best < 0 || is_higher(candidate, best, around))) {
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
  finder.label_edges();
  finder.spread();
  finder.locate_rest();
  finder.choose_tops();
  return std::move(finder.result);
}

}  // namespace ridgeward::surface
