#include "vents/strip.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::vents {

namespace {

constexpr double near_m = 1e-6;

/// A border line's ends in plane coordinates.
struct Ends {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
};

Ends ends_of(const Site& site, const surface::Plane& plane, LineId id) {
  const surface::Line& line = site.surface.lines[id];
  return {plane.frame.uv(site.surface.nodes[line.from]),
          plane.frame.uv(site.surface.nodes[line.to])};
}

}  // namespace

double vent_end_m(const Site& site, const surface::Plane& plane, const BandEnd& end, Strip strip,
                  bool is_left) {
  if (end.line.is_none()) {
    return end.u_m;
  }
  const auto [a, b] = ends_of(site, plane, end.line);
  if (std::abs(b.y - a.y) <= near_m) {
    return end.u_m;
  }
  const auto at = [a = a, b = b](double v) { return a.x + (v - a.y) / (b.y - a.y) * (b.x - a.x); };
  const double low = at(strip.low_v_m);
  const double high = at(strip.high_v_m);
  return is_left ? std::min(low, high) : std::max(low, high);
}

std::optional<Mitre> mitre_at(const Site& site, const surface::Plane& plane, const BandEnd& end,
                              double depth_m) {
  if (end.line.is_none()) {
    return std::nullopt;
  }
  const surface::LineKind kind = site.surface.lines[end.line].kind;
  if (kind != surface::LineKind::valley && kind != surface::LineKind::hip) {
    return std::nullopt;
  }
  const auto [a, b] = ends_of(site, plane, end.line);
  const double along = std::abs(b.x - a.x);
  const double up = std::abs(b.y - a.y);
  if (up <= near_m) {
    return std::nullopt;
  }
  Mitre mitre;
  mitre.line = end.line;
  mitre.is_valley = kind == surface::LineKind::valley;
  mitre.strip_angle_rad = std::atan2(up, along);
  mitre.plan_angle_rad = std::atan2(up / plane.pitch.slope_factor(), along);
  mitre.offset_m = depth_m * along / up;
  return mitre;
}

}  // namespace ridgeward::vents
