#include "scene/cut.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <string>

namespace ridgeward::scene {
namespace {

constexpr double beyond_share = 0.06;  // of the sheet over the house's extent

glm::dvec3 normal_of(CutWay way, const Scene& scene) {
  if (way == CutWay::level) {
    return {0.0, 0.0, 1.0};
  }
  if (way == CutWay::across) {
    return {scene.along, 0.0};
  }
  return {-scene.along.y, scene.along.x, 0.0};
}

std::pair<double, double> extent_along(glm::dvec3 way, const Scene& scene) {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (const glm::dvec3& p : scene.corners) {
    low = std::min(low, glm::dot(way, p));
    high = std::max(high, glm::dot(way, p));
  }
  return {low, high};
}

std::optional<double> share_of(std::string_view text) {
  double value = 0.0;
  const bool is_percent = !text.empty() && text.back() == '%';
  if (is_percent) {
    text.remove_suffix(1);
  }
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, value);
  value /= is_percent ? 100.0 : 1.0;
  const bool is_good = read.ec == std::errc() && read.ptr == end && value >= 0.0 && value <= 1.0;
  return is_good ? std::optional(value) : std::nullopt;
}

}  // namespace

const char* word(CutWay way) {
  switch (way) {
    case CutWay::none:
      return "";
    case CutWay::across:
      return "across";
    case CutWay::along:
      return "along";
    case CutWay::level:
      return "level";
  }
  return "";
}

Result<Cut> parse_cut(std::string_view text) {
  const std::size_t colon = text.find(':');
  const std::string_view name = text.substr(0, colon);
  Cut cut;
  for (const CutWay way : {CutWay::across, CutWay::along, CutWay::level}) {
    cut.way = name == word(way) ? way : cut.way;
  }
  const auto share =
      colon == std::string_view::npos ? std::optional(0.5) : share_of(text.substr(colon + 1));
  if (cut.way == CutWay::none || !share) {
    return Fault{"cut.unknown", "--cut", "there is no cut '" + std::string(text) + "'",
                 "across, along or level, and where if not in the middle: across:0.3, level:60%"};
  }
  cut.share = *share;
  return cut;
}

std::pair<double, double> extent(const Cut& cut, const Scene& scene) {
  return extent_along(normal_of(cut.way, scene), scene);
}

std::optional<HalfSpace> half_that_stays(const Cut& cut, const Scene& scene) {
  if (cut.way == CutWay::none || scene.is_empty()) {
    return std::nullopt;
  }
  const glm::dvec3 normal = normal_of(cut.way, scene);
  const auto [low, high] = extent(cut, scene);
  const double at = low + cut.share * (high - low);
  return cut.keeps_high ? HalfSpace{-normal, -at} : HalfSpace{normal, at};
}

Cut moved(Cut cut, double by_m, const Scene& scene) {
  if (cut.way == CutWay::none || scene.is_empty()) {
    return cut;
  }
  const auto [low, high] = extent(cut, scene);
  cut.share = std::clamp(cut.share + by_m / std::max(1e-6, high - low), 0.0, 1.0);
  return cut;
}

Cut opened_towards(Cut cut, const Camera& camera, const Scene& scene) {
  cut.keeps_high = glm::dot(normal_of(cut.way, scene), camera.axes().back) < 0;
  return cut;
}

std::vector<glm::dvec3> kept(const std::vector<glm::dvec3>& loop,
                             const std::optional<HalfSpace>& half) {
  if (!half) {
    return loop;
  }
  std::vector<glm::dvec3> stays;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec3 one = loop[i];
    const glm::dvec3 next = loop[(i + 1) % loop.size()];
    const double from = half->beyond_m(one);
    const double to = half->beyond_m(next);
    if (from <= 0.0) {
      stays.push_back(one);
    }
    if ((from < 0.0 && to > 0.0) || (from > 0.0 && to < 0.0)) {
      stays.push_back(one + from / (from - to) * (next - one));
    }
  }
  return stays;
}

std::vector<glm::dvec3> standing(const Cut& cut, const Scene& scene) {
  const auto half = half_that_stays(cut, scene);
  if (!half) {
    return scene.corners;
  }
  std::vector<glm::dvec3> points;
  for (const glm::dvec3& p : scene.corners) {
    if (half->holds(p)) {
      points.push_back(p);
    }
  }
  for (const Face& face : scene.faces) {
    if (face.role != FaceRole::roof && face.role != FaceRole::wall) {
      continue;
    }
    for (const Segment& piece : section(face.triangles, *half)) {
      points.push_back(piece.first);
      points.push_back(piece.second);
    }
  }
  return points;
}

std::array<glm::dvec3, 4> sheet(const Cut& cut, const Scene& scene) {
  const glm::dvec3 normal = normal_of(cut.way, scene);
  const glm::dvec3 across = cut.way == CutWay::level ? glm::dvec3(scene.along, 0.0)
                                                     : glm::dvec3(-normal.y, normal.x, 0.0);
  const glm::dvec3 up = cut.way == CutWay::level ? glm::dvec3(-scene.along.y, scene.along.x, 0.0)
                                                 : glm::dvec3(0.0, 0.0, 1.0);
  const auto [low, high] = extent(cut, scene);
  const auto [left, right] = extent_along(across, scene);
  const auto [bottom, top] = extent_along(up, scene);
  const double more = beyond_share * scene.radius_m;
  const glm::dvec3 on_plane = normal * (low + cut.share * (high - low));
  const auto at = [&](double a, double b) { return on_plane + a * across + b * up; };
  return {at(left - more, bottom - more), at(right + more, bottom - more),
          at(right + more, top + more), at(left - more, top + more)};
}

glm::dvec3 handle(const Cut& cut, const Scene& scene) {
  const std::array<glm::dvec3, 4> corners = sheet(cut, scene);
  return (corners[2] + corners[3]) / 2.0;
}

bool is_body(FaceRole role) {
  switch (role) {
    case FaceRole::deck:
    case FaceRole::wall_core:
    case FaceRole::obstacle:
    case FaceRole::insulation:
    case FaceRole::timber:
    case FaceRole::air:
      return true;
    default:
      return false;
  }
}

std::vector<Segment> section(const std::vector<Triangle>& triangles, const HalfSpace& half) {
  std::vector<Segment> all;
  for (const Triangle& t : triangles) {
    std::array<glm::dvec3, 2> ends{};
    std::size_t found = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      const glm::dvec3& a = t[i];
      const glm::dvec3& b = t[(i + 1) % 3];
      const double from = half.beyond_m(a);
      const double to = half.beyond_m(b);
      // A corner in the plane counts as within, so that neighbours agree on it.
      if ((from > 0) != (to > 0) && found < 2) {
        ends[found++] = a + (b - a) * (from / (from - to));
      }
    }
    if (found == 2) {
      all.emplace_back(ends[0], ends[1]);
    }
  }
  return all;
}

}  // namespace ridgeward::scene
