#include "scene/from_assessment.hpp"

#include "scene/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::scene {
namespace {

void add_planes(const surface::Surface& surface, Scene& scene) {
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    Face face;
    face.role = FaceRole::roof;
    face.layer = Layer::planes;
    face.normal = plane.frame.normal;
    face.plane = id;
    face.triangles = lifted(plane.frame, flat_triangles(surface, plane.frame, plane.loops));
    scene.faces.push_back(std::move(face));
  }
}

int rank_of(StrokeRole role) {
  switch (role) {
    case StrokeRole::eave:
      return 0;
    case StrokeRole::ridge:
      return 1;
    case StrokeRole::valley:
      return 2;
    case StrokeRole::hip:
      return 3;
    default:
      return 4;
  }
}

void add_lines(const surface::Surface& surface, Scene& scene) {
  for (const LineId id : surface.lines.ids()) {
    const surface::Line& line = surface.lines[id];
    if (line.kind == surface::LineKind::wall_edge) {
      continue;
    }
    const glm::dvec3 from = surface.nodes[line.from];
    const glm::dvec3 to = surface.nodes[line.to];
    const StrokeRole role = role_of(line.kind);
    scene.strokes.push_back(
        {role, Layer::lines, from, to, id, MemberId(), {line.left_plane(), line.right_plane()}});
    Label label;
    label.role = role;
    label.line = id;
    label.beside = {line.left_plane(), line.right_plane()};
    label.from = from;
    label.to = to;
    label.length_m = line.length_m;
    label.rank = rank_of(role);
    scene.labels.push_back(std::move(label));
  }
}

/// Middle of a face: the centroid of its area, or of its largest triangle where that lies outside.
glm::dvec3 middle_of(const Face& face) {
  glm::dvec3 sum(0.0);
  double area = 0.0;
  double largest = -1.0;
  glm::dvec3 of_largest(0.0);
  for (const Triangle& t : face.triangles) {
    const double size = glm::length(glm::cross(t[1] - t[0], t[2] - t[0]));
    const glm::dvec3 middle = (t[0] + t[1] + t[2]) / 3.0;
    sum += size * middle;
    area += size;
    if (size > largest) {
      largest = size;
      of_largest = middle;
    }
  }
  const glm::dvec3 centroid = area > 0 ? sum / area : of_largest;
  const auto holds = [&](const Triangle& t) {
    for (std::size_t i = 0; i < 3; ++i) {
      const glm::dvec3 edge = t[(i + 1) % 3] - t[i];
      if (glm::dot(glm::cross(edge, centroid - t[i]), face.normal) < 0) {
        return false;
      }
    }
    return true;
  };
  return std::any_of(face.triangles.begin(), face.triangles.end(), holds) ? centroid : of_largest;
}

void add_plane_names(const surface::Surface& surface, Scene& scene) {
  for (const Face& face : scene.faces) {
    if (face.role != FaceRole::roof || face.triangles.empty()) {
      continue;
    }
    Label label;
    label.of = Label::Of::plane;
    label.layer = Layer::names;
    label.plane = face.plane;
    label.from = label.to = middle_of(face);
    label.words = surface.planes[face.plane].id;
    label.pitch = surface.planes[face.plane].pitch;
    label.rank = 5;
    scene.labels.push_back(std::move(label));
  }
}

/// Puts triangles plumb under or over a plane, so far below it, square to it.
void lay_along(const surface::Frame& frame, double below_m, std::vector<Triangle>& triangles) {
  const glm::dvec3 n = frame.normal;
  for (Triangle& t : triangles) {
    for (glm::dvec3& p : t) {
      const glm::dvec3 d = p - frame.origin;
      p.z = frame.origin.z - (n.x * d.x + n.y * d.y + below_m) / n.z;
    }
  }
}

/// Under an attic level with its ceiling; under a rafter space along its plane, under air and
/// insulation.
void add_ceilings(const Assessment& assessment, Scene& scene) {
  for (const attic::Space& space : assessment.attic.spaces) {
    if (space.outline.empty()) {
      continue;
    }
    surface::Frame level;
    level.origin = {0.0, 0.0, space.bottom_m};
    Face face;
    face.role = FaceRole::ceiling;
    face.layer = Layer::ceiling;
    std::vector<glm::dvec2> points;
    for (const auto& loop : space.outline) {
      points.insert(points.end(), loop.begin(), loop.end());
    }
    std::vector<std::array<glm::dvec2, 3>> flat;
    for (const auto& t : triangulate(space.outline)) {
      flat.push_back({points[t[0]], points[t[1]], points[t[2]]});
    }
    face.triangles = lifted(level, flat);
    if (space.kind == attic::SpaceKind::rafter_space) {
      const surface::Plane& plane = assessment.surface.planes[space.plane];
      const double below_m = space.clear_m + space.insulation_m + deck_of(assessment, plane.part);
      lay_along(plane.frame, below_m, face.triangles);
    }
    scene.faces.push_back(std::move(face));
  }
}

void add_markers(const Assessment& assessment, Scene& scene) {
  int number = 0;
  for (const conflicts::Finding& finding : assessment.findings) {
    scene.markers.push_back({finding.at, ++number, static_cast<int>(finding.severity)});
  }
}

void measure(Scene& scene) {
  for (const Face& face : scene.faces) {
    if (face.role == FaceRole::roof || face.role == FaceRole::wall) {
      for (const Triangle& t : face.triangles) {
        scene.corners.insert(scene.corners.end(), t.begin(), t.end());
      }
    }
  }
  if (scene.corners.empty()) {
    return;
  }
  glm::dvec3 low = scene.corners.front();
  glm::dvec3 high = low;
  for (const glm::dvec3& p : scene.corners) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
  double longest = 0.0;
  for (const Stroke& stroke : scene.strokes) {
    const glm::dvec2 way(stroke.to - stroke.from);
    if (stroke.role == StrokeRole::eave && glm::length(way) > longest + 1e-6) {
      longest = glm::length(way);
      scene.along = way / longest;
    }
  }
  // From left to right, or from the front back: not against the plan's axes.
  if (scene.along.x < -1e-9 || (std::abs(scene.along.x) <= 1e-9 && scene.along.y < 0)) {
    scene.along = -scene.along;
  }
  scene.centre = (low + high) / 2.0;
  scene.radius_m = std::max(0.5, glm::length(high - low) / 2);
}

}  // namespace

StrokeRole role_of(surface::LineKind kind) {
  switch (kind) {
    case surface::LineKind::eave:
      return StrokeRole::eave;
    case surface::LineKind::rake:
      return StrokeRole::rake;
    case surface::LineKind::ridge:
      return StrokeRole::ridge;
    case surface::LineKind::hip:
      return StrokeRole::hip;
    case surface::LineKind::valley:
      return StrokeRole::valley;
    case surface::LineKind::pitch_break:
      return StrokeRole::pitch_break;
    case surface::LineKind::shed_top:
      return StrokeRole::shed_top;
    case surface::LineKind::headwall:
    case surface::LineKind::sidewall:
    case surface::LineKind::step_wall:
      return StrokeRole::wall_line;
    case surface::LineKind::wall_edge:
      return StrokeRole::outline;
  }
  return StrokeRole::outline;
}

double deck_of(const Assessment& assessment, std::size_t part) {
  return part < assessment.model.parts.size() ? assessment.model.parts[part].deck_m : 0.0;
}

std::vector<std::array<glm::dvec2, 3>> flat_triangles(const surface::Surface& surface,
                                                      const surface::Frame& frame,
                                                      const std::vector<surface::Loop>& loops) {
  std::vector<Polygon> polygons;
  std::vector<glm::dvec2> points;
  for (const surface::Loop& loop : loops) {
    Polygon polygon;
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface.lines[step.line];
      const glm::dvec3 offset = surface.nodes[step.forward ? line.from : line.to] - frame.origin;
      polygon.emplace_back(glm::dot(frame.along, offset), glm::dot(frame.up, offset));
    }
    points.insert(points.end(), polygon.begin(), polygon.end());
    polygons.push_back(std::move(polygon));
  }
  std::vector<std::array<glm::dvec2, 3>> triangles;
  for (const auto& t : triangulate(polygons)) {
    triangles.push_back({points[t[0]], points[t[1]], points[t[2]]});
  }
  return triangles;
}

std::vector<Triangle> lifted(const surface::Frame& frame,
                             const std::vector<std::array<glm::dvec2, 3>>& triangles) {
  std::vector<Triangle> in_space;
  in_space.reserve(triangles.size());
  for (const auto& t : triangles) {
    in_space.push_back({frame.at(t[0]), frame.at(t[1]), frame.at(t[2])});
  }
  return in_space;
}

void add_prism(const std::vector<glm::dvec3>& base, glm::dvec3 rise, const Face& like,
               Scene& scene) {
  const auto add = [&](const std::vector<glm::dvec3>& ring) {
    Face face = like;
    face.triangles.clear();
    face.normal = glm::normalize(glm::cross(ring[1] - ring[0], ring[2] - ring[0]));
    for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
      face.triangles.push_back({ring[0], ring[i], ring[i + 1]});
    }
    scene.faces.push_back(std::move(face));
  };
  std::vector<glm::dvec3> top;
  top.reserve(base.size());
  for (const glm::dvec3& p : base) {
    top.push_back(p + rise);
  }
  add(top);
  add({base.rbegin(), base.rend()});
  for (std::size_t i = 0; i < base.size(); ++i) {
    const std::size_t j = (i + 1) % base.size();
    add({base[i], base[j], top[j], top[i]});
  }
}

Scene from_assessment(const Assessment& assessment) {
  Scene scene;
  scene.name = assessment.model.name;
  scene.north_deg = assessment.model.site.north_deg;
  add_planes(assessment.surface, scene);
  add_lines(assessment.surface, scene);
  add_plane_names(assessment.surface, scene);
  add_house(assessment, scene);
  add_framing(assessment, scene);
  add_vents(assessment, scene);
  add_ceilings(assessment, scene);
  add_inside(assessment, scene);
  add_markers(assessment, scene);
  measure(scene);
  return scene;
}

}  // namespace ridgeward::scene
