#include "surface/assemble.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace ridgeward::surface {

namespace {

struct Builder {
  const model::RoofModel& model;
  const std::vector<Drip>& drips;
  const Mesh& mesh;
  Surface& surface;
  std::vector<Side> side_of{};                         // by mesh face
  std::vector<std::uint32_t> face_of_plane{};          // by plane
  std::vector<std::vector<LoopStep>> around_planes{};  // lines around each, by plane
  std::vector<std::vector<LoopStep>> around_walls{};

  void choose_faces();
  void add_plane(std::uint32_t index);
  void add_wall(std::uint32_t index);
  void add_lines();
  void finish_planes();
  void finish_plane(PlaneId id);
  glm::dvec3 left_foot(PlaneId id, glm::dvec2 along) const;
  void finish_walls();
};

void Builder::add_plane(std::uint32_t index) {
  const MeshFace& face = mesh.faces[index];
  Plane plane;
  plane.part = face.part;
  plane.edge = face.edge;
  if (face.cricket >= 0) {
    plane.cricket = model.obstacles[static_cast<std::size_t>(face.cricket)].id;
  }
  plane.pitch = units::Pitch::from_rise_run(1.0, face.run_per_rise);
  side_of[index] = {Side::Of::plane, surface.planes.push_back(std::move(plane)).value};
  face_of_plane.push_back(index);
}

void Builder::add_wall(std::uint32_t index) {
  const MeshFace& face = mesh.faces[index];
  WallFace wall;
  wall.part = face.part;
  wall.edge = face.edge;
  wall.is_at_chimney = face.cricket >= 0;
  wall.normal = {-face.normal.x, -face.normal.y, 0.0};
  wall.kind = face.kind == MeshFace::Kind::step ? WallFace::Kind::step : WallFace::Kind::gable;
  if (face.kind == MeshFace::Kind::underside) {
    wall.kind = WallFace::Kind::underside;
    wall.normal = {0.0, 0.0, -1.0};
  }
  side_of[index] = {Side::Of::wall, static_cast<std::uint32_t>(surface.walls.size())};
  surface.walls.push_back(std::move(wall));
}

/// Planes in the order of their parts and edges, then walls; faces that lost all lines are left
/// out.
void Builder::choose_faces() {
  std::vector<std::uint8_t> has_lines(mesh.faces.size(), 0);
  for (const MeshArc& arc : mesh.arcs) {
    has_lines[arc.left] = 1;
    has_lines[arc.right] = 1;
  }
  std::vector<std::uint32_t> order;
  for (std::uint32_t i = 0; i < mesh.faces.size(); ++i) {
    if (has_lines[i] != 0) {
      order.push_back(i);
    }
  }
  std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    const MeshFace& f = mesh.faces[a];
    const MeshFace& g = mesh.faces[b];
    return std::tie(f.part, f.edge, f.phase) < std::tie(g.part, g.edge, g.phase);
  });
  side_of.resize(mesh.faces.size());
  for (const std::uint32_t i : order) {
    if (mesh.faces[i].kind == MeshFace::Kind::plane) {
      add_plane(i);
    } else {
      add_wall(i);
    }
  }
}

void Builder::add_lines() {
  around_planes.resize(surface.planes.size());
  around_walls.resize(surface.walls.size());
  std::vector<NodeId> node_of(mesh.nodes.size());
  const auto node = [&](std::uint32_t i) {
    if (node_of[i].is_none()) {
      node_of[i] = surface.nodes.push_back(mesh.nodes[i]);
    }
    return node_of[i];
  };
  for (const MeshArc& arc : mesh.arcs) {
    Line line;
    line.from = node(arc.from);
    line.to = node(arc.to);
    line.left = side_of[arc.left];
    line.right = side_of[arc.right];
    const glm::dvec3 d = surface.nodes[line.to] - surface.nodes[line.from];
    line.length_m = glm::length(d);
    line.plan_length_m = std::hypot(d.x, d.y);
    const LineId id = surface.lines.push_back(line);
    for (const bool forward : {true, false}) {
      const Side& s = forward ? line.left : line.right;
      auto& around = s.of == Side::Of::plane ? around_planes : around_walls;
      around[s.index].push_back({id, forward});
    }
  }
}

double loop_area(const Surface& surface, const Loop& loop) {
  const std::vector<glm::dvec3> points = corners(surface, loop);
  double twice = 0.0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const glm::dvec3 a = points[i] - points[0];
    const glm::dvec3 b = points[(i + 1) % points.size()] - points[0];
    twice += a.x * b.y - a.y * b.x;
  }
  return twice / 2;
}

/// The left end of the plane's lowest level line, seen from outside.
glm::dvec3 Builder::left_foot(PlaneId id, glm::dvec2 along) const {
  double low = 0.0;
  double left = 0.0;
  glm::dvec3 foot{0.0};
  bool has_any = false;
  for (const LoopStep& step : around_planes[id.value]) {
    for (const NodeId n : {surface.lines[step.line].from, surface.lines[step.line].to}) {
      const glm::dvec3& p = surface.nodes[n];
      const double at = p.x * along.x + p.y * along.y;
      const bool is_lower = p.z < low - 1e-7;
      const bool is_as_low = p.z < low + 1e-7;
      if (!has_any || is_lower || (is_as_low && at < left)) {
        has_any = true;
        low = p.z;
        left = at;
        foot = p;
      }
    }
  }
  return foot;
}

void Builder::finish_plane(PlaneId id) {
  Plane& plane = surface.planes[id];
  const Drip& drip = drips[plane.part];
  const glm::dvec2 n = mesh.faces[face_of_plane[id.value]].normal;
  const double factor = plane.pitch.slope_factor();
  Frame& frame = plane.frame;
  frame.along = {n.y, -n.x, 0.0};
  frame.up = {n.x / factor, n.y / factor, plane.pitch.tangent() / factor};
  frame.normal = glm::cross(frame.along, frame.up);
  frame.origin = left_foot(id, {n.y, -n.x});
  plane.loops = trace_loops(surface, around_planes[id.value], frame.along, frame.up);
  for (const Loop& loop : plane.loops) {
    plane.plan_area_m2 += loop_area(surface, loop);
  }
  plane.area_m2 = plane.plan_area_m2 * factor;
  double azimuth = std::atan2(-n.x, -n.y) - model.site.north_deg * M_PI / 180.0;
  azimuth -= 2 * M_PI * std::floor(azimuth / (2 * M_PI));
  plane.azimuth_rad = azimuth;
  if (!plane.cricket.empty()) {
    return;  // no wall beneath
  }
  const std::size_t first = drip.run_first[plane.edge];
  const std::size_t last = drip.run_last[plane.edge];
  const glm::dvec2 wall = drip.walls.corners[first];
  plane.wall_line_v_m =
      ((wall.x - frame.origin.x) * n.x + (wall.y - frame.origin.y) * n.y) * factor;
  const std::size_t next = edge_after(last, drip.walls.loop_ends);
  const auto u_of = [&](glm::dvec2 p) {
    return (p.x - frame.origin.x) * frame.along.x + (p.y - frame.origin.y) * frame.along.y;
  };
  plane.wall_start_u_m = u_of(drip.walls.corners[first]);
  plane.wall_end_u_m = u_of(drip.walls.corners[next]);
}

/// All edges of the straight run.
std::vector<std::size_t> run_of(const Drip& drip, std::size_t edge) {
  std::vector<std::size_t> all{drip.run_first[edge]};
  while (all.back() != drip.run_last[edge]) {
    all.push_back(edge_after(all.back(), drip.walls.loop_ends));
  }
  return all;
}

void Builder::finish_planes() {
  std::map<std::pair<std::size_t, std::size_t>, int> seen;
  for (const PlaneId id : surface.planes.ids()) {
    finish_plane(id);
    Plane& plane = surface.planes[id];
    plane.id = model.parts[plane.part].id + "/" + std::to_string(plane.edge);
    if (plane.cricket.empty()) {
      plane.run_edges = run_of(drips[plane.part], plane.edge);
    }
    const int count = seen[{plane.part, plane.edge}]++;
    if (count > 0) {
      plane.id += std::string(":") + static_cast<char>('a' + count);
    }
  }
}

void Builder::finish_walls() {
  for (std::size_t i = 0; i < surface.walls.size(); ++i) {
    WallFace& wall = surface.walls[i];
    const glm::dvec3 along = wall.kind == WallFace::Kind::underside
                                 ? glm::dvec3{1.0, 0.0, 0.0}
                                 : glm::dvec3{-wall.normal.y, wall.normal.x, 0.0};
    wall.loops = trace_loops(surface, around_walls[i], along, glm::cross(wall.normal, along));
  }
}

std::vector<std::vector<glm::dvec2>> split_loops(const std::vector<glm::dvec2>& points,
                                                 const std::vector<std::size_t>& loop_ends) {
  std::vector<std::vector<glm::dvec2>> loops;
  std::size_t first = 0;
  for (const std::size_t end : loop_ends) {
    loops.emplace_back(points.begin() + static_cast<std::ptrdiff_t>(first),
                       points.begin() + static_cast<std::ptrdiff_t>(end));
    first = end;
  }
  return loops;
}

}  // namespace

Surface assemble(const model::RoofModel& model, const std::vector<Drip>& drips, const Mesh& mesh) {
  Surface surface;
  Builder builder{model, drips, mesh, surface};
  builder.choose_faces();
  builder.add_lines();
  builder.finish_planes();
  builder.finish_walls();
  surface.base_m = drips.front().base_m;
  for (const Drip& drip : drips) {
    std::vector<glm::dvec2> starts;
    starts.reserve(drip.plan.edges.size());
    for (const PlanEdge& edge : drip.plan.edges) {
      starts.push_back(edge.start);
    }
    surface.wall_outlines.push_back(split_loops(drip.walls.corners, drip.walls.loop_ends));
    surface.drip_outlines.push_back(split_loops(starts, drip.plan.loop_ends));
    surface.wall_tops_m.push_back(drip.wall_height_m);
    surface.base_m = std::min(surface.base_m, drip.base_m);
    surface.assumptions.insert(surface.assumptions.end(), drip.assumptions.begin(),
                               drip.assumptions.end());
  }
  return surface;
}

}  // namespace ridgeward::surface
