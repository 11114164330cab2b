// Which plane is the highest over every face of the plan.

#include "surface/finder.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <tuple>

namespace ridgeward::surface {

namespace {

// Snapping moves vertices by a micrometre, steep planes turn that into a few of height.
constexpr double same_height_m = 5e-6;

}  // namespace

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
      // Short ones too: their ends may become two vertices, and a border with a gap is none.
      if (a != b) {
        segments.push_back({a, b, static_cast<std::uint32_t>(sources.size())});
        sources.push_back({p, i});
      }
    }
  }
}

namespace {

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

}  // namespace

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

void Finder::cross_parts(const PartView& a, const PartView& b) {
  const auto is_plane = [](const PartView& part, std::uint32_t face) {
    return part.mesh->faces[face].kind == MeshFace::Kind::plane;
  };
  for (std::uint32_t f = 0; f < a.boxes.size(); ++f) {
    for (std::uint32_t g = 0; g < b.boxes.size(); ++g) {
      if (is_plane(a, f) && is_plane(b, g) && a.boxes[f].meets(b.boxes[g])) {
        cross(a, f, b, g);
      }
    }
  }
}

void Finder::add_crossings() {
  for (std::size_t p = 0; p < parts.size(); ++p) {
    for (std::size_t q = p + 1; q < parts.size(); ++q) {
      if (parts[p].box.meets(parts[q].box)) {
        cross_parts(parts[p], parts[q]);
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
