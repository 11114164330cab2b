#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <algorithm>

namespace ridgeward::conflicts {

namespace {

/// IRC R903.2.2; older editions R1003.20.
constexpr double most_without_m = 30 * units::inch_m;

/// The widest region of the obstacle across the slope.
const surface::Region* widest(const surface::Surface& surface, std::size_t obstacle,
                              double& width_m) {
  const surface::Region* found = nullptr;
  for (const surface::Region& region : surface.regions) {
    if (region.obstacle != obstacle) {
      continue;
    }
    double low = region.outline_uv.front().x;
    double high = low;
    for (const glm::dvec2 p : region.outline_uv) {
      low = std::min(low, p.x);
      high = std::max(high, p.x);
    }
    if (found == nullptr || high - low > width_m) {
      width_m = high - low;
      found = &region;
    }
  }
  return found;
}

/// Water runs off a chimney that stands astride a ridge by itself.
bool is_astride_ridge(const surface::Surface& surface, std::size_t obstacle) {
  const auto stands_on = [&](PlaneId plane) {
    return std::any_of(surface.regions.begin(), surface.regions.end(), [&](const auto& region) {
      return region.obstacle == obstacle && region.plane == plane;
    });
  };
  return std::any_of(surface.lines.begin(), surface.lines.end(), [&](const auto& line) {
    return line.kind == surface::LineKind::ridge && stands_on(line.left_plane()) &&
           stands_on(line.right_plane());
  });
}

bool has_cricket(const surface::Surface& surface, const std::string& chimney) {
  return std::any_of(surface.planes.begin(), surface.planes.end(),
                     [&](const surface::Plane& plane) { return plane.cricket == chimney; });
}

std::vector<Finding> find_chimney_without_cricket(const Roof& roof) {
  std::vector<Finding> found;
  for (std::size_t i = 0; i < roof.model.obstacles.size(); ++i) {
    const model::Obstacle& obstacle = roof.model.obstacles[i];
    double width_m = 0.0;
    const surface::Region* region = widest(roof.surface, i, width_m);
    if (obstacle.kind != model::ObstacleKind::chimney || region == nullptr ||
        width_m <= most_without_m + tolerance_m || has_cricket(roof.surface, obstacle.id) ||
        is_astride_ridge(roof.surface, i)) {
      continue;
    }
    Finding finding;
    finding.kind = "chimney_without_cricket";
    finding.severity = Severity::warning;
    finding.at = roof.surface.planes[region->plane].frame.at(region->outline_uv.front());
    finding.plane = region->plane;
    finding.measured = length_words(roof, width_m) + " wide";
    finding.needed = "a cricket over " + length_words(roof, most_without_m) +
                     section_words(roof, &codes::CodeSet::Sections::cricket);
    finding.message = "Chimney " + obstacle.id + " has no cricket on its ridge side.";
    finding.remedy = "Build a cricket as wide as the chimney, or move what leaves it no room.";
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check chimney_without_cricket_kind;
const Check chimney_without_cricket_kind{"chimney_without_cricket",
                                         "chimneys over 30 in wide that shed no water behind",
                                         find_chimney_without_cricket};

}  // namespace ridgeward::conflicts
