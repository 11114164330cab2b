#include "surface/assemble.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace ridgeward::surface {

namespace {

struct Faces {
  std::vector<Side> side_of_face;                // by skeleton face
  std::vector<std::vector<LoopStep>> of_planes;  // lines around each, by surface plane
  std::vector<std::vector<LoopStep>> of_walls;
};

struct Builder {
  const model::Part& part;
  std::size_t part_index;
  const Drip& drip;
  const Skeleton& skeleton;
  double north_rad;
  Surface& surface;
  Faces faces{};
  std::vector<std::size_t> face_of_plane{};  // skeleton face, by plane
  std::vector<std::size_t> face_of_wall{};

  void choose_faces();
  void add_lines();
  void finish_planes();
  void finish_plane(PlaneId id);
  glm::dvec3 left_foot(PlaneId id, glm::dvec2 along) const;
  void finish_walls();
};

/// Faces that slope become planes, in the order of their edges; those that stand become walls.
void Builder::choose_faces() {
  std::vector<std::uint8_t> has_lines(skeleton.faces.size(), 0);
  for (const SkeletonArc& arc : skeleton.arcs) {
    for (const std::int32_t face : {arc.left, arc.right}) {
      if (face >= 0) {
        has_lines[static_cast<std::size_t>(face)] = 1;
      }
    }
  }
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < skeleton.faces.size(); ++i) {
    if (has_lines[i] != 0) {
      order.push_back(i);
    }
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::tie(skeleton.faces[a].edge, skeleton.faces[a].phase) <
           std::tie(skeleton.faces[b].edge, skeleton.faces[b].phase);
  });
  faces.side_of_face.resize(skeleton.faces.size());
  for (const std::size_t i : order) {
    const SkeletonFace& face = skeleton.faces[i];
    const std::size_t edge = drip.part_edge[face.edge];
    if (face.run_per_rise > 0) {
      Plane plane;
      plane.part = part_index;
      plane.edge = edge;
      plane.pitch = units::Pitch::from_rise_run(1.0, face.run_per_rise);
      const PlaneId id = surface.planes.push_back(std::move(plane));
      faces.side_of_face[i] = {Side::Of::plane, id.value};
      face_of_plane.resize(id.value + 1);
      face_of_plane[id.value] = i;
    } else {
      WallFace wall;
      wall.part = part_index;
      wall.edge = edge;
      const bool is_step = face.is_step || drip.is_jog[face.edge] != 0;
      wall.kind = is_step ? WallFace::Kind::step : WallFace::Kind::gable;
      wall.normal = {-face.normal.x, -face.normal.y, 0.0};
      faces.side_of_face[i] = {Side::Of::wall, static_cast<std::uint32_t>(surface.walls.size())};
      face_of_wall.resize(surface.walls.size() + 1);
      face_of_wall[surface.walls.size()] = i;
      surface.walls.push_back(std::move(wall));
    }
  }
}

void Builder::add_lines() {
  WallFace underside;
  underside.kind = WallFace::Kind::underside;
  underside.part = part_index;
  underside.normal = {0.0, 0.0, -1.0};
  const Side below{Side::Of::wall, static_cast<std::uint32_t>(surface.walls.size())};
  surface.walls.push_back(std::move(underside));
  faces.of_planes.resize(surface.planes.size());
  faces.of_walls.resize(surface.walls.size());
  std::vector<NodeId> node_of(skeleton.nodes.size());
  const auto node = [&](std::uint32_t i) {
    if (node_of[i].is_none()) {
      const SkeletonNode& n = skeleton.nodes[i];
      node_of[i] = surface.nodes.push_back({n.at.x, n.at.y, drip.base_m + n.t});
    }
    return node_of[i];
  };
  const auto side = [&](std::int32_t face) {
    return face < 0 ? below : faces.side_of_face[static_cast<std::size_t>(face)];
  };
  for (const SkeletonArc& arc : skeleton.arcs) {
    Line line;
    line.from = node(arc.from);
    line.to = node(arc.to);
    line.left = side(arc.left);
    line.right = side(arc.right);
    const glm::dvec3 d = surface.nodes[line.to] - surface.nodes[line.from];
    line.length_m = glm::length(d);
    line.plan_length_m = std::hypot(d.x, d.y);
    const LineId id = surface.lines.push_back(line);
    for (const bool forward : {true, false}) {
      const Side& s = forward ? line.left : line.right;
      auto& around = s.of == Side::Of::plane ? faces.of_planes : faces.of_walls;
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
  for (const LoopStep& step : faces.of_planes[id.value]) {
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
  const SkeletonFace& face = skeleton.faces[face_of_plane[id.value]];
  const glm::dvec2 n = face.normal;
  const double factor = plane.pitch.slope_factor();
  Frame& frame = plane.frame;
  frame.along = {n.y, -n.x, 0.0};
  frame.up = {n.x / factor, n.y / factor, plane.pitch.tangent() / factor};
  frame.normal = glm::cross(frame.along, frame.up);
  frame.origin = left_foot(id, {n.y, -n.x});
  plane.loops = trace_loops(surface, faces.of_planes[id.value], frame.along, frame.up);
  for (const Loop& loop : plane.loops) {
    plane.plan_area_m2 += loop_area(surface, loop);
  }
  plane.area_m2 = plane.plan_area_m2 * factor;
  double azimuth = std::atan2(-n.x, -n.y) - north_rad;
  azimuth -= 2 * M_PI * std::floor(azimuth / (2 * M_PI));
  plane.azimuth_rad = azimuth;
  plane.wall_line_v_m = (drip.wall_height_m - frame.origin.z) / frame.up.z;
  const std::size_t next = edge_after(plane.edge, drip.walls.loop_ends);
  const auto u_of = [&](glm::dvec2 p) {
    return (p.x - frame.origin.x) * frame.along.x + (p.y - frame.origin.y) * frame.along.y;
  };
  plane.wall_start_u_m = u_of(drip.walls.corners[plane.edge]);
  plane.wall_end_u_m = u_of(drip.walls.corners[next]);
}

void Builder::finish_planes() {
  std::map<std::size_t, int> seen;
  for (std::size_t i = 0; i < face_of_plane.size(); ++i) {
    const PlaneId id(i);
    if (surface.planes[id].part != part_index) {
      continue;
    }
    finish_plane(id);
    Plane& plane = surface.planes[id];
    plane.id = part.id + "/" + std::to_string(plane.edge);
    const int count = seen[plane.edge]++;
    if (count > 0) {
      plane.id += std::string(":") + static_cast<char>('a' + count);
    }
  }
}

void Builder::finish_walls() {
  for (std::size_t i = 0; i < surface.walls.size(); ++i) {
    WallFace& wall = surface.walls[i];
    if (wall.part != part_index) {
      continue;
    }
    const glm::dvec3 along = wall.kind == WallFace::Kind::underside
                                 ? glm::dvec3{1.0, 0.0, 0.0}
                                 : glm::dvec3{-wall.normal.y, wall.normal.x, 0.0};
    wall.loops = trace_loops(surface, faces.of_walls[i], along, glm::cross(wall.normal, along));
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

void add_part(const model::Part& part, std::size_t part_index, const Drip& drip,
              const Skeleton& skeleton, double north_deg, Surface& surface) {
  Builder builder{part, part_index, drip, skeleton, north_deg * M_PI / 180.0, surface};
  builder.choose_faces();
  builder.add_lines();
  builder.finish_planes();
  builder.finish_walls();
  std::vector<glm::dvec2> starts;
  starts.reserve(drip.plan.edges.size());
  for (const PlanEdge& edge : drip.plan.edges) {
    starts.push_back(edge.start);
  }
  surface.wall_outlines.push_back(split_loops(drip.walls.corners, drip.walls.loop_ends));
  surface.drip_outlines.push_back(split_loops(starts, drip.plan.loop_ends));
}

}  // namespace ridgeward::surface
