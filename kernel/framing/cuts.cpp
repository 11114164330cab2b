#include "framing/cuts.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::framing {

namespace {

int rank(surface::LineKind kind) {
  switch (kind) {
    case surface::LineKind::ridge:
      return 0;
    case surface::LineKind::hip:
      return 1;
    case surface::LineKind::valley:
      return 2;
    default:
      return 3;
  }
}

}  // namespace

Joints::Joints(const surface::Surface& surface) : surface_(surface), lines_(surface.nodes.size()) {
  for (const LineId id : surface.lines.ids()) {
    const surface::Line& line = surface.lines[id];
    if (rank(line.kind) < 3) {
      lines_[line.from].push_back(id);
      lines_[line.to].push_back(id);
    }
  }
  for (std::vector<LineId>& here : lines_) {
    std::stable_sort(here.begin(), here.end(), [&](LineId l, LineId r) {
      return rank(surface_.lines[l].kind) < rank(surface_.lines[r].kind);
    });
  }
}

bool Joints::has_ridge(NodeId node) const {
  return !lines_[node].empty() &&
         surface_.lines[lines_[node].front()].kind == surface::LineKind::ridge;
}

std::size_t Joints::hips(NodeId node) const {
  return static_cast<std::size_t>(
      std::count_if(lines_[node].begin(), lines_[node].end(),
                    [&](LineId id) { return surface_.lines[id].kind == surface::LineKind::hip; }));
}

glm::dvec2 plan_direction(const surface::Surface& surface, const surface::Line& line) {
  const glm::dvec3 d = surface.nodes[line.to] - surface.nodes[line.from];
  const glm::dvec2 plan{d.x, d.y};
  const double length = glm::length(plan);
  return length > 0.0 ? plan / length : glm::dvec2{0.0};
}

double sine_between(glm::dvec2 one, glm::dvec2 other) {
  return std::min(1.0, std::abs(one.x * other.y - one.y * other.x));
}

bool is_overlaid_valley(const surface::Surface& surface, const std::vector<PartStock>& stock,
                        LineId id) {
  const surface::Line& line = surface.lines[id];
  if (line.kind != surface::LineKind::valley || line.left_plane().is_none() ||
      line.right_plane().is_none()) {
    return false;
  }
  const std::size_t left = surface.planes[line.left_plane()].part;
  const std::size_t right = surface.planes[line.right_plane()].part;
  return left != right && stock[std::max(left, right)].is_overlaid;
}

bool has_no_board(const surface::Surface& surface, const std::vector<PartStock>& stock, LineId id) {
  const surface::Line& line = surface.lines[id];
  std::size_t latest = 0;
  for (const PlaneId plane : {line.left_plane(), line.right_plane()}) {
    latest = std::max(latest, plane.is_none() ? 0 : surface.planes[plane].part);
  }
  const bool is_of_trusses = stock[latest].is_truss && (line.kind == surface::LineKind::ridge ||
                                                        line.kind == surface::LineKind::valley);
  return is_of_trusses || is_overlaid_valley(surface, stock, id);
}

double thickness_under(const surface::Surface& surface, const std::vector<PartStock>& stock,
                       LineId id) {
  const surface::Line& line = surface.lines[id];
  const PlaneId plane = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
  if (plane.is_none()) {
    return 0.0;
  }
  const PartStock& timber = stock[surface.planes[plane].part];
  switch (line.kind) {
    case surface::LineKind::ridge:
      return has_no_board(surface, stock, id) ? 0.0 : timber.ridge_m;
    case surface::LineKind::hip:
      return timber.hip_m;
    case surface::LineKind::valley:
      return has_no_board(surface, stock, id) ? 0.0 : timber.valley_m;
    default:
      return 0.0;
  }
}

double level_shortening_m(double thickness_m, double sine) {
  constexpr double least_sine = 1e-6;  // members in one line run into no face
  return sine > least_sine ? 0.5 * thickness_m / sine : 0.0;
}

}  // namespace ridgeward::framing
