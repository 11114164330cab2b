// The laws of a surface, looked at one by one.
#include "base/polygon.hpp"
#include "surface/stage.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::surface {

namespace {

/// What the roof covers: of one part its drip outline, of several what the underside covers.
double covered_m2(const Surface& s) {
  double area = 0.0;
  if (s.drip_outlines.size() == 1) {
    for (const auto& loop : s.drip_outlines[0]) {
      area += polygon::area(loop);
    }
    return area;
  }
  for (const WallFace& wall : s.walls) {
    for (const Loop& loop : wall.loops) {
      std::vector<glm::dvec2> flat;
      for (const glm::dvec3& p : corners(s, loop)) {
        flat.emplace_back(p);
      }
      area -= wall.kind == WallFace::Kind::underside ? polygon::area(flat) : 0.0;
    }
  }
  return area;
}

void check_area(const Surface& s, std::vector<std::string>& broken) {
  double planes = 0.0;
  for (const Plane& plane : s.planes) {
    planes += plane.plan_area_m2;
  }
  const double covered = covered_m2(s);
  // A micrometre along every line is what tidying may move.
  double reach = 1e-9 * covered;
  for (const Line& line : s.lines) {
    reach += 1e-6 * line.plan_length_m;
  }
  if (!(std::abs(planes - covered) <= std::min(reach, 1e-6 * covered + 1e-9))) {
    broken.push_back(fmt::format("planes cover {} m2 of {} m2", planes, covered));
  }
}

void check_sides(const Surface& s, std::vector<std::string>& broken) {
  for (const Line& line : s.lines) {
    if (line.left.of == Side::Of::nothing || line.right.of == Side::Of::nothing ||
        (line.left.of == line.right.of && line.left.index == line.right.index)) {
      broken.push_back("a line lacks a face: " + line.id);
    }
    if (!(line.length_m > 0)) {
      broken.push_back("a line without length: " + line.id);
    }
  }
}

void check_nodes(const Surface& s, const Plane& plane, std::vector<std::string>& broken) {
  for (const Loop& loop : plane.loops) {
    for (const glm::dvec3& p : corners(s, loop)) {
      const double off = glm::dot(p - plane.frame.origin, plane.frame.normal);
      if (!(std::abs(off) <= 1e-5)) {
        broken.push_back(fmt::format("a node lies {} m off plane {}", off, plane.id));
      }
    }
  }
}

bool holds_eave(const Surface& s, const Plane& plane) {
  for (const Loop& loop : plane.loops) {
    for (const LoopStep& step : loop) {
      const LineKind kind = s.lines[step.line].kind;
      if (kind == LineKind::eave || kind == LineKind::pitch_break) {
        return true;
      }
    }
  }
  return false;
}

void check_planes(const Surface& s, std::vector<std::string>& broken) {
  for (const Plane& plane : s.planes) {
    if (!(plane.plan_area_m2 > 0)) {
      broken.push_back(fmt::format("plane {} covers {} m2", plane.id, plane.plan_area_m2));
    }
    if (s.drip_outlines.size() == 1 && plane.cricket.empty() && !holds_eave(s, plane)) {
      broken.push_back("plane " + plane.id + " does not hold its eave");
    }
    check_nodes(s, plane, broken);
  }
}

/// Around every face the loops must wind as many times as the face has outer borders.
void check_loops(const Surface& s, std::vector<std::string>& broken) {
  std::vector<int> uses(s.lines.size(), 0);
  const auto count = [&](const std::vector<Loop>& loops) {
    for (const Loop& loop : loops) {
      for (const LoopStep& step : loop) {
        ++uses[step.line.value];
      }
    }
  };
  for (const Plane& plane : s.planes) {
    count(plane.loops);
  }
  for (const WallFace& wall : s.walls) {
    count(wall.loops);
  }
  for (std::size_t i = 0; i < uses.size(); ++i) {
    if (uses[i] != 2) {
      broken.push_back(fmt::format("line {} is used {} times", i, uses[i]));
    }
  }
}

}  // namespace

std::vector<std::string> verify(const Surface& surface) {
  std::vector<std::string> broken;
  check_area(surface, broken);
  check_sides(surface, broken);
  check_planes(surface, broken);
  check_loops(surface, broken);
  return broken;
}

}  // namespace ridgeward::surface
