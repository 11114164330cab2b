#pragma once
// Roofs as planes that say nothing else, and what becomes of them.
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "rebuild/stage.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::tests {

inline surface::Surface raised(const model::RoofModel& roof) {
  const auto surface = surface::raise(roof);
  INFO(tests::words(surface));
  REQUIRE(surface.ok());
  CHECK(surface::verify(surface.value()).empty());
  return surface.value();
}

/// The planes of a surface as polygons that say nothing else.
inline std::vector<rebuild::RoofPolygon> polygons_of(const surface::Surface& surface) {
  std::vector<rebuild::RoofPolygon> all;
  for (const surface::Plane& plane : surface.planes) {
    // A face in pieces gives a polygon for each outer loop.
    for (const surface::Loop& loop : plane.loops) {
      const std::vector<glm::dvec3> corners = surface::corners(surface, loop);
      double twice = 0.0;
      for (std::size_t i = 0; i < corners.size(); ++i) {
        const glm::dvec3 a = corners[i];
        const glm::dvec3 b = corners[(i + 1) % corners.size()];
        twice += a.x * b.y - a.y * b.x;
      }
      if (twice > 0.0 || all.empty()) {
        all.push_back({corners});
      } else {
        all.back().push_back(corners);
      }
    }
  }
  return all;
}

inline rebuild::RoofPlanes planes_of(std::vector<rebuild::RoofPolygon> polygons,
                                     double tolerance_m = 0.005) {
  return {"", {{"house", std::move(polygons), 0.0}}, tolerance_m};
}

inline rebuild::Rebuilt rebuilt(const rebuild::RoofPlanes& planes) {
  auto result = rebuild::rebuild(planes);
  INFO(tests::words(result));
  REQUIRE(result.ok());
  // What comes out is a model like any other.
  const auto read = model::read(model::write(result.value().model));
  INFO(tests::words(read));
  REQUIRE(read.ok());
  return std::move(result).value();
}

inline std::map<std::string, double> lengths_of(const surface::Surface& surface) {
  std::map<std::string, double> sums;
  for (const surface::Line& line : surface.lines) {
    if (line.kind != surface::LineKind::wall_edge) {
      sums[surface::word(line.kind)] += line.length_m;
    }
  }
  return sums;
}

inline double area_of(const surface::Surface& surface) {
  double sum = 0.0;
  for (const surface::Plane& plane : surface.planes) {
    sum += plane.area_m2;
  }
  return sum;
}

}  // namespace ridgeward::tests
