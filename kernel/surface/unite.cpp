// From the envelope in plan to faces that stand in space.
#include "surface/unite.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <tuple>

namespace ridgeward::surface {

namespace {

constexpr double same_level_m = 5e-6;
constexpr double same_slope = 1e-9;

/// A line of the plan between two different tops.
struct Border {
  std::uint32_t from = 0;
  std::uint32_t to = 0;
  std::int32_t left = -1;
  std::int32_t right = -1;
  std::uint32_t wall = ~0U;
  /// The parts' own faces, before planes that lie in one were joined.
  std::int32_t own_left = -1;
  std::int32_t own_right = -1;
};

/// A border end seen from its vertex.
struct Spoke {
  std::uint32_t vertex = 0;
  double angle = 0.0;
  std::uint32_t border = 0;
  bool leaves = true;       // from the vertex, along the border
  std::int32_t left = -1;   // top on the left hand looking away from the vertex
  std::uint32_t level = 0;  // of that top here, counted up among the vertex's levels
};

class Stand {
 public:
  Stand(const Envelope& envelope, double base_m)
      : envelope_(envelope), base_m_(base_m), points_(envelope.plan.vertices) {
    mesh_.faces = envelope.faces;
    underside_ = static_cast<std::uint32_t>(mesh_.faces.size());
    MeshFace below;
    below.kind = MeshFace::Kind::underside;
    mesh_.faces.push_back(below);
  }

  Mesh run() {
    join_seams();
    collect_borders();
    split_crossed();
    collect_spokes();
    for (std::size_t first = 0; first < spokes_.size();) {
      std::size_t last = first;
      while (last < spokes_.size() && spokes_[last].vertex == spokes_[first].vertex) {
        ++last;
      }
      find_levels(first, last);
      first = last;
    }
    walls_of_.assign(borders_.size(), ~0U);
    for (std::uint32_t b = 0; b < borders_.size(); ++b) {
      stand(b);
    }
    for (std::size_t first = 0; first < spokes_.size();) {
      std::size_t last = first;
      while (last < spokes_.size() && spokes_[last].vertex == spokes_[first].vertex) {
        ++last;
      }
      edges_of_walls(first, last);
      first = last;
    }
    return std::move(mesh_);
  }

 private:
  double height(std::int32_t top, std::uint32_t vertex) const {
    return top < 0 ? base_m_ : envelope_.faces[static_cast<std::size_t>(top)].z(points_[vertex]);
  }
  std::int32_t root(std::int32_t top) const {
    if (top < 0) {
      return top;
    }
    while (seam_[static_cast<std::size_t>(top)] != top) {
      top = seam_[static_cast<std::size_t>(top)];
    }
    return top;
  }
  std::uint32_t face_of(std::int32_t top) const {
    return top < 0 ? underside_ : static_cast<std::uint32_t>(top);
  }

  void join_seams();
  void collect_borders();
  void split_crossed();
  void collect_spokes();
  void find_levels(std::size_t first, std::size_t last);
  void stand(std::uint32_t border);
  std::uint32_t add_wall(const Border& border, bool high_on_left);
  void edges_of_walls(std::size_t first, std::size_t last);
  void add_arc(std::uint32_t from, std::uint32_t to, std::uint32_t left, std::uint32_t right) {
    mesh_.arcs.push_back({from, to, left, right});
  }

  const Envelope& envelope_;
  double base_m_;
  std::vector<glm::dvec2> points_;
  std::vector<std::int32_t> seam_;  // union-find over faces: planes of two parts that lie in one
  std::vector<Border> borders_;
  std::vector<Spoke> spokes_;                           // by vertex, then counter-clockwise
  std::vector<std::array<std::uint32_t, 2>> spoke_of_;  // by border: leaving and coming spoke
  std::vector<std::uint32_t> first_node_;               // by spoke: node of its vertex's level 0
  std::vector<std::uint32_t> walls_of_;                 // by border
  std::uint32_t underside_ = 0;
  Mesh mesh_;
};

/// Planes of different parts that lie in one and meet are one plane, the earlier part's.
void Stand::join_seams() {
  seam_.resize(envelope_.faces.size());
  std::iota(seam_.begin(), seam_.end(), 0);
  const Arrangement& plan = envelope_.plan;
  for (std::uint32_t e = 0; e < plan.edges.size(); ++e) {
    const std::int32_t a = root(envelope_.top[plan.left_cycle(e)]);
    const std::int32_t b = root(envelope_.top[plan.right_cycle(e)]);
    if (a < 0 || b < 0 || a == b) {
      continue;
    }
    const MeshFace& f = envelope_.faces[static_cast<std::size_t>(a)];
    const MeshFace& g = envelope_.faces[static_cast<std::size_t>(b)];
    const glm::dvec2 rise = f.normal / f.run_per_rise - g.normal / g.run_per_rise;
    const glm::dvec2 p = points_[plan.edges[e].from];
    if (f.part != g.part && glm::length(rise) < same_slope &&
        std::abs(f.z(p) - g.z(p)) < same_level_m) {
      seam_[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
    }
  }
}

void Stand::collect_borders() {
  const Arrangement& plan = envelope_.plan;
  for (std::uint32_t e = 0; e < plan.edges.size(); ++e) {
    const std::int32_t own_left = envelope_.top[plan.left_cycle(e)];
    const std::int32_t own_right = envelope_.top[plan.right_cycle(e)];
    const std::int32_t left = root(own_left);
    const std::int32_t right = root(own_right);
    if (left != right) {
      borders_.push_back({plan.edges[e].from, plan.edges[e].to, left, right, envelope_.wall[e],
                          own_left, own_right});
    }
  }
}

/// Where the planes beside a border change places, it is cut.
void Stand::split_crossed() {
  const std::size_t count = borders_.size();
  for (std::size_t b = 0; b < count; ++b) {
    const Border border = borders_[b];
    const double from = height(border.left, border.from) - height(border.right, border.from);
    const double to = height(border.left, border.to) - height(border.right, border.to);
    if ((from > same_level_m && to < -same_level_m) ||
        (from < -same_level_m && to > same_level_m)) {
      const auto middle = static_cast<std::uint32_t>(points_.size());
      points_.push_back(points_[border.from] +
                        (points_[border.to] - points_[border.from]) * (from / (from - to)));
      borders_[b].to = middle;
      borders_.push_back(border);
      borders_.back().from = middle;
    }
  }
}

void Stand::collect_spokes() {
  spokes_.reserve(2 * borders_.size());
  for (std::uint32_t b = 0; b < borders_.size(); ++b) {
    const glm::dvec2 d = points_[borders_[b].to] - points_[borders_[b].from];
    spokes_.push_back({borders_[b].from, std::atan2(d.y, d.x), b, true, borders_[b].left, 0});
    spokes_.push_back({borders_[b].to, std::atan2(-d.y, -d.x), b, false, borders_[b].right, 0});
  }
  std::sort(spokes_.begin(), spokes_.end(), [](const Spoke& a, const Spoke& b) {
    return std::tie(a.vertex, a.angle, a.border) < std::tie(b.vertex, b.angle, b.border);
  });
  spoke_of_.resize(borders_.size());
  for (std::uint32_t s = 0; s < spokes_.size(); ++s) {
    spoke_of_[spokes_[s].border][spokes_[s].leaves ? 0 : 1] = s;
  }
  first_node_.resize(spokes_.size());
}

/// Heights of the tops around one vertex; those within a few micrometres are one.
void Stand::find_levels(std::size_t first, std::size_t last) {
  std::vector<std::pair<double, std::size_t>> heights;
  for (std::size_t s = first; s < last; ++s) {
    heights.emplace_back(height(spokes_[s].left, spokes_[s].vertex), s);
  }
  std::sort(heights.begin(), heights.end());
  const auto first_node = static_cast<std::uint32_t>(mesh_.nodes.size());
  std::uint32_t level = 0;
  for (std::size_t i = 0; i < heights.size(); ++i) {
    const bool is_new = i == 0 || heights[i].first - heights[i - 1].first > same_level_m;
    if (is_new) {
      level += i == 0 ? 0 : 1;
      const bool is_base = std::abs(heights[i].first - base_m_) <= same_level_m;
      mesh_.nodes.emplace_back(points_[spokes_[first].vertex],
                               is_base ? base_m_ : heights[i].first);
    }
    spokes_[heights[i].second].level = level;
  }
  for (std::size_t s = first; s < last; ++s) {
    first_node_[s] = first_node;
  }
}

std::uint32_t Stand::add_wall(const Border& border, bool high_on_left) {
  MeshFace wall;
  const std::int32_t high = high_on_left ? border.own_left : border.own_right;
  const MeshFace& top = envelope_.faces[static_cast<std::size_t>(high)];
  wall.kind = MeshFace::Kind::step;
  wall.part = top.part;
  wall.edge = top.edge;
  wall.cricket = top.cricket;
  if (border.wall != ~0U && envelope_.faces[border.wall].part == top.part) {
    wall.kind = envelope_.faces[border.wall].kind;
    wall.edge = envelope_.faces[border.wall].edge;
  }
  const glm::dvec2 d = glm::normalize(points_[border.to] - points_[border.from]);
  wall.normal = high_on_left ? glm::dvec2{-d.y, d.x} : glm::dvec2{d.y, -d.x};
  wall.anchor = {points_[border.from], base_m_};
  mesh_.faces.push_back(wall);
  return static_cast<std::uint32_t>(mesh_.faces.size() - 1);
}

/// The line between two planes, or the wall between them with its lower and upper line.
void Stand::stand(std::uint32_t b) {
  const Border& border = borders_[b];
  const std::uint32_t leaving = spoke_of_[b][0];
  const std::uint32_t coming = spoke_of_[b][1];
  const auto before = [this](std::uint32_t s) {
    // The spoke clockwise of s at the same vertex: its left top lies on the right of s.
    if (s > 0 && spokes_[s - 1].vertex == spokes_[s].vertex) {
      return s - 1;
    }
    std::uint32_t last = s;
    while (last + 1 < spokes_.size() && spokes_[last + 1].vertex == spokes_[s].vertex) {
      ++last;
    }
    return last;
  };
  const std::uint32_t from = first_node_[leaving];
  const std::uint32_t to = first_node_[coming];
  const std::uint32_t left_from = from + spokes_[leaving].level;
  const std::uint32_t right_from = from + spokes_[before(leaving)].level;
  const std::uint32_t right_to = to + spokes_[coming].level;
  const std::uint32_t left_to = to + spokes_[before(coming)].level;
  if (left_from == right_from && left_to == right_to) {
    add_arc(left_from, left_to, face_of(border.left), face_of(border.right));
    return;
  }
  const bool high_on_left = left_from > right_from || left_to > right_to;
  const std::uint32_t wall = add_wall(border, high_on_left);
  walls_of_[b] = wall;
  if (high_on_left) {
    add_arc(right_from, right_to, wall, face_of(border.right));
    add_arc(left_from, left_to, face_of(border.left), wall);
  } else {
    add_arc(left_to, left_from, wall, face_of(border.left));
    add_arc(right_to, right_from, face_of(border.right), wall);
  }
}

/// The upright edges at one vertex: for each step between two levels, the walls around that reach
/// over it bound what is solid there, run by run.
void Stand::edges_of_walls(std::size_t first, std::size_t last) {
  std::uint32_t top = 0;
  for (std::size_t s = first; s < last; ++s) {
    top = std::max(top, spokes_[s].level);
  }
  const std::size_t count = last - first;
  for (std::uint32_t level = 0; level < top; ++level) {
    const auto is_solid = [&](std::size_t k) { return spokes_[first + k % count].level > level; };
    for (std::size_t k = 0; k < count; ++k) {
      // Solid begins on the left of spoke k and ends at spoke `end`.
      if (!is_solid(k) || is_solid(k + count - 1)) {
        continue;
      }
      std::size_t end = k + 1;
      while (is_solid(end)) {
        ++end;
      }
      const std::uint32_t right = walls_of_[spokes_[first + k].border];
      const std::uint32_t left = walls_of_[spokes_[first + end % count].border];
      const std::uint32_t node = first_node_[first] + level;
      add_arc(node, node + 1, left, right);
    }
  }
}

}  // namespace

Mesh stand_up(const Envelope& envelope, double base_m) { return Stand(envelope, base_m).run(); }

Mesh unite(const std::vector<Mesh>& parts) {
  double base_m = HUGE_VAL;
  for (const Mesh& part : parts) {
    for (const glm::dvec3& node : part.nodes) {
      base_m = std::min(base_m, node.z);
    }
  }
  Mesh mesh = stand_up(find_envelope(parts), base_m);
  tidy(mesh);
  return mesh;
}

}  // namespace ridgeward::surface
