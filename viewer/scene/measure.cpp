#include "scene/measure.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace ridgeward::scene {
namespace {

constexpr double same_m = 1e-4;           // ends that near to each other are one
constexpr double corner_worth_px = 0.35;  // share of the reach by which corners win over lines

double px_to(const Lens& lens, glm::dvec3 p, glm::dvec2 pixel) {
  const auto at = lens.pixel(p);
  return at ? glm::length(*at - pixel) : std::numeric_limits<double>::infinity();
}

Spot on_stroke(const Stroke& stroke, Spot::On on, glm::dvec3 at) {
  return {on, at, stroke.line, stroke.role, stroke.from, stroke.to};
}

/// Angle between ways of any length, 0 .. pi; none where one has no length.
template <class Way>
std::optional<double> angle(Way a, Way b) {
  const double lengths = glm::length(a) * glm::length(b);
  if (lengths < same_m * same_m) {
    return std::nullopt;
  }
  return std::acos(std::clamp(glm::dot(a, b) / lengths, -1.0, 1.0));
}

std::optional<double> acute(std::optional<double> angle_rad) {
  constexpr double half_turn = 3.14159265358979323846;
  return angle_rad ? std::optional(std::min(*angle_rad, half_turn - *angle_rad)) : angle_rad;
}

double from_line(const Spot& line, glm::dvec3 p) {
  const glm::dvec3 way = glm::normalize(line.to - line.from);
  return glm::length(glm::cross(way, p - line.from));
}

void between_lines(const Spot& first, const Spot& second, Figures& all) {
  glm::dvec3 a = first.to - first.from;
  glm::dvec3 b = second.to - second.from;
  bool share_end = false;
  for (const glm::dvec3& p : {first.from, first.to}) {
    for (const glm::dvec3& q : {second.from, second.to}) {
      if (!share_end && glm::length(p - q) < same_m) {
        share_end = true;
        a = first.from + first.to - 2.0 * p;
        b = second.from + second.to - 2.0 * q;
      }
    }
  }
  const auto in_space = angle(a, b);
  const auto in_plan = angle(glm::dvec2(a), glm::dvec2(b));
  all.angle_rad = share_end ? in_space : acute(in_space);
  all.level_angle_rad = share_end ? in_plan : acute(in_plan);
  if (const auto turned = acute(in_space); turned && *turned < parallel_rad && !share_end) {
    all.square_m = from_line(first, second.at);
  }
}

}  // namespace

std::optional<Spot> spot_at(const Scene& scene, const Lens& lens, glm::dvec2 pixel,
                            double reach_px) {
  const Stroke* nearest = nullptr;
  double least = reach_px;
  Picked picked = pick(scene, lens, pixel, reach_px);
  std::optional<Spot> corner;
  for (const Stroke& stroke : scene.strokes) {
    if (stroke.line.is_none()) {
      continue;
    }
    if (stroke.line == picked.line) {
      nearest = &stroke;
    }
    const glm::dvec3 middle = (stroke.from + stroke.to) / 2.0;
    const std::array<Spot, 3> spots{on_stroke(stroke, Spot::On::corner, stroke.from),
                                    on_stroke(stroke, Spot::On::corner, stroke.to),
                                    on_stroke(stroke, Spot::On::middle, middle)};
    for (const Spot& spot : spots) {
      // Corners of the line that was hit win over others at the same place.
      const double away =
          px_to(lens, spot.at, pixel) - (stroke.line == picked.line ? corner_worth_px : 0.0);
      if (away < least && is_in_sight(scene, lens, spot.at)) {
        least = away;
        corner = spot;
      }
    }
  }
  if (corner) {
    return corner;
  }
  if (nearest != nullptr) {
    return on_stroke(*nearest, Spot::On::line, picked.at);
  }
  const Ray ray = lens.ray(pixel);
  if (const auto hit = first_hit(scene, ray, lens.keeps)) {
    Spot spot;
    spot.at = ray.from + hit->distance_m * ray.direction;
    return spot;
  }
  return std::nullopt;
}

Measure clicked(Measure measure, const Spot& spot, bool anywhere) {
  const bool may_begin = anywhere || spot.is_on_line();
  if (measure.spots.size() == 1) {
    const Spot& first = measure.spots.front();
    const bool is_same = first.is_on_line() && spot.on == Spot::On::line &&
                         spot.line == first.line && first.on == Spot::On::line;
    if (!is_same) {
      measure.spots.push_back(spot);
      return measure;
    }
  }
  if (may_begin) {
    measure.spots = {spot};
  }
  return measure;
}

Reach reach_between(glm::dvec3 from, glm::dvec3 to) {
  const glm::dvec3 way = to - from;
  return {glm::length(way), std::hypot(way.x, way.y), way.z};
}

Figures figures(const Measure& measure) {
  Figures all;
  if (measure.spots.empty()) {
    return all;
  }
  const Spot& first = measure.spots.front();
  if (measure.spots.size() == 1) {
    if (first.is_on_line()) {
      all.line = reach_between(first.from, first.to);
    }
    return all;
  }
  const Spot& second = measure.spots.back();
  all.distance = reach_between(first.at, second.at);
  if (all.distance->true_m > same_m) {
    all.slope_rad = std::atan2(std::abs(all.distance->rise_m), all.distance->level_m);
  }
  if (first.is_on_line() && second.is_on_line()) {
    if (!(first.line == second.line)) {
      between_lines(first, second, all);
    }
  } else if (first.is_on_line() || second.is_on_line()) {
    all.square_m = first.is_on_line() ? from_line(first, second.at) : from_line(second, first.at);
  }
  return all;
}

}  // namespace ridgeward::scene
