#include "surface/surface.hpp"

#include "base/polygon.hpp"
#include "base/rays.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::surface {

const char* word(LineKind kind) {
  switch (kind) {
    case LineKind::eave:
      return "eave";
    case LineKind::rake:
      return "rake";
    case LineKind::ridge:
      return "ridge";
    case LineKind::hip:
      return "hip";
    case LineKind::valley:
      return "valley";
    case LineKind::pitch_break:
      return "pitch_break";
    case LineKind::shed_top:
      return "shed_top";
    case LineKind::headwall:
      return "headwall";
    case LineKind::sidewall:
      return "sidewall";
    case LineKind::step_wall:
      return "step_wall";
    case LineKind::wall_edge:
      return "wall_edge";
  }
  return "wall_edge";
}

PlaneId Line::left_plane() const {
  return left.of == Side::Of::plane ? PlaneId(left.index) : PlaneId();
}

PlaneId Line::right_plane() const {
  return right.of == Side::Of::plane ? PlaneId(right.index) : PlaneId();
}

glm::dvec2 Frame::uv(glm::dvec3 p) const {
  const glm::dvec3 d = p - origin;
  return {glm::dot(d, along), glm::dot(d, up)};
}

namespace {

/// The plane's id with another edge of its run: "main/0:b" and 1 give "main/1:b".
std::string with_edge(const std::string& id, std::size_t edge) {
  const std::size_t slash = id.rfind('/');
  const std::size_t colon = std::min(id.find(':', slash), id.size());
  return id.substr(0, slash + 1) + std::to_string(edge) + id.substr(colon);
}

}  // namespace

PlaneId Surface::plane_named(const std::string& id) const {
  for (const PlaneId p : planes.ids()) {
    if (planes[p].id == id) {
      return p;
    }
  }
  for (const PlaneId p : planes.ids()) {
    const Plane& plane = planes[p];
    for (const std::size_t edge : plane.run_edges) {
      if (edge != plane.edge && with_edge(plane.id, edge) == id) {
        return p;
      }
    }
  }
  return {};
}

LineId Surface::line_named(const std::string& id) const {
  // "b|a#2" names the same line as "a|b#2".
  const std::size_t bar = id.find('|');
  const std::size_t mark = std::min(id.find('#'), id.size());
  std::string turned = id;
  if (bar != std::string::npos && bar < mark) {
    turned = id.substr(bar + 1, mark - bar - 1) + "|" + id.substr(0, bar) + id.substr(mark);
  }
  for (const LineId l : lines.ids()) {
    if (lines[l].kind != LineKind::wall_edge && (lines[l].id == id || lines[l].id == turned)) {
      return l;
    }
  }
  return {};
}

std::vector<glm::dvec3> corners(const Surface& surface, const Loop& loop) {
  std::vector<glm::dvec3> points;
  points.reserve(loop.size());
  for (const LoopStep& step : loop) {
    const Line& line = surface.lines[step.line];
    points.push_back(surface.nodes[step.forward ? line.from : line.to]);
  }
  return points;
}

std::vector<glm::dvec2> corners_uv(const Surface& surface, const Frame& frame, const Loop& loop) {
  std::vector<glm::dvec2> points;
  points.reserve(loop.size());
  for (const glm::dvec3& p : corners(surface, loop)) {
    points.push_back(frame.uv(p));
  }
  return points;
}

WallLine wall_line_at(const Surface& surface, const Plane& plane, glm::dvec2 drip_uv) {
  constexpr double near_m = 1e-6;
  constexpr double reaches_m = 0.05;  // a wall's top within this of the deck carries it
  WallLine found{plane.wall_line_v_m, plane.part};
  if (surface.wall_outlines.size() < 2) {
    return found;
  }
  const glm::dvec2 start{plane.frame.at(drip_uv)};
  const glm::dvec2 up{plane.frame.up};
  double nearest = HUGE_VAL;
  for (std::size_t part = 0; part < surface.wall_outlines.size(); ++part) {
    const polygon::Loops& walls = surface.wall_outlines[part];
    const bool is_inside = polygon::contains(walls, start + near_m * up);
    const double way = is_inside ? 0.0 : polygon::nearest_side(walls, start, up);
    if (way >= nearest) {
      continue;
    }
    const double deck_m = plane.frame.at({drip_uv.x, drip_uv.y + way}).z;
    if (part == plane.part || surface.wall_tops_m[part] >= deck_m - reaches_m) {
      nearest = way;
      found = {drip_uv.y + way, part};
    }
  }
  return found;
}

std::vector<std::vector<glm::dvec2>> plan_of(const Surface& surface, const Plane& plane) {
  std::vector<std::vector<glm::dvec2>> plan;
  for (const Loop& loop : plane.loops) {
    std::vector<glm::dvec2>& flat = plan.emplace_back();
    for (const glm::dvec3& corner : corners(surface, loop)) {
      flat.emplace_back(corner);
    }
  }
  return plan;
}

polygon::Loops plan_of(const Frame& frame, const polygon::Loops& loops_uv) {
  polygon::Loops plan;
  for (const polygon::Loop& loop : loops_uv) {
    polygon::Loop& corners = plan.emplace_back();
    for (const glm::dvec2 uv : loop) {
      corners.emplace_back(frame.at(uv));
    }
  }
  return plan;
}

polygon::Loops on_plane(const Frame& frame, const polygon::Loops& plan) {
  polygon::Loops loops_uv;
  for (const polygon::Loop& loop : plan) {
    polygon::Loop& corners = loops_uv.emplace_back();
    for (const glm::dvec2 p : loop) {
      const double rise =
          -glm::dot(glm::dvec2(frame.normal), p - glm::dvec2(frame.origin)) / frame.normal.z;
      corners.push_back(frame.uv({p, frame.origin.z + rise}));
    }
  }
  return loops_uv;
}

}  // namespace ridgeward::surface
