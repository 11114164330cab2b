#include "rebuild/openings.hpp"

#include "base/polygon.hpp"

#include "rebuild/faces.hpp"

#include <glm/geometric.hpp>

#include <optional>
#include <utility>

namespace ridgeward::rebuild {

namespace {

/// The largest skylights and chimneys: common practice, no source.
constexpr double largest_opening_m2 = 4.0;
constexpr double covered_share = 0.5;

/// In plan, counter-clockwise.
polygon::Loop plan_of(const std::vector<glm::dvec3>& loop) {
  polygon::Loop plan(loop.begin(), loop.end());
  if (polygon::area(plan) < 0.0) {
    return {plan.rbegin(), plan.rend()};
  }
  return plan;
}

/// The share of a hole that other polygons cover; nothing where it is too large for an opening.
std::optional<double> covered(const std::vector<glm::dvec3>& hole,
                              const std::vector<RoofPolygon>& roof, std::size_t owner) {
  const polygon::Loop plan = plan_of(hole);
  const double area_m2 = polygon::area(plan);
  if (!(area_m2 > 0.0) || area_m2 > largest_opening_m2) {
    return std::nullopt;
  }
  const polygon::Box box = polygon::box_of(plan);
  double covered_m2 = 0.0;
  for (std::size_t i = 0; i < roof.size(); ++i) {
    if (i == owner || roof[i].empty() || roof[i].front().size() < 3) {
      continue;
    }
    const polygon::Loop other = plan_of(roof[i].front());
    if (box.touches(polygon::box_of(other))) {
      covered_m2 += polygon::overlap_area({plan}, {other});
    }
  }
  return covered_m2 / area_m2;
}

}  // namespace

Filled without_openings(Building building) {
  Filled filled;
  for (std::size_t i = 0; i < building.roof.size(); ++i) {
    RoofPolygon& polygon = building.roof[i];
    for (std::size_t hole = polygon.size(); hole-- > 1;) {
      const std::optional<double> share =
          polygon[hole].size() < 3 ? std::nullopt : covered(polygon[hole], building.roof, i);
      if (share && *share < covered_share) {
        ++filled.openings;
        filled.area_m2 += (1.0 - *share) * glm::length(newell(polygon[hole]));
        polygon.erase(polygon.begin() + static_cast<std::ptrdiff_t>(hole));
      }
    }
  }
  filled.building = std::move(building);
  return filled;
}

}  // namespace ridgeward::rebuild
