#include "base/rays.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <utility>

namespace ridgeward::conflicts {

namespace {

constexpr double least_m = 0.01;
constexpr double most_overhang_m = 2.0;
/// A roof that comes nearer to the one above than this dies into it instead of passing beneath.
constexpr double least_gap_m = 0.2;

/// A plane that is drawn to end at a line and goes on beneath the roof of a part.
struct AtWall {
  const surface::Plane* plane = nullptr;
  PlaneId id;
  std::size_t part = 0;
};

/// By line: a roof of several planes may hang over one.
std::map<LineId, AtWall> lines_at_walls(const surface::Surface& surface) {
  std::map<LineId, AtWall> all;
  for (const surface::Sheltered& deck : surface.sheltered_decks) {
    for (const LineId line : deck.lines) {
      all[line] = {&surface.planes[deck.plane], deck.plane, surface.planes[deck.above].part};
    }
  }
  return all;
}

/// From a line at the drip of another part's roof to that part's wall; 0 where the wall is there.
double to_wall_m(const Roof& roof, const surface::Line& line, const AtWall& at) {
  const glm::dvec3 a = roof.surface.nodes[line.from];
  const glm::dvec3 b = roof.surface.nodes[line.to];
  const glm::dvec2 way = glm::normalize(glm::dvec2(b - a));
  // The plane lies on the left where it is the left side, seen from above.
  const double side = line.left.of == surface::Side::Of::plane ? 1.0 : -1.0;
  const glm::dvec2 outward = side * glm::dvec2{way.y, -way.x};
  const glm::dvec2 middle = 0.5 * glm::dvec2(a + b);
  const double way_m = polygon::nearest_side(roof.surface.wall_outlines[at.part], middle, outward);
  return way_m < most_overhang_m ? way_m : 0.0;
}

/// How high the roof that hangs over stands above the line's middle.
double gap_m(const Roof& roof, const surface::Line& line) {
  const glm::dvec3 middle = 0.5 * (roof.surface.nodes[line.from] + roof.surface.nodes[line.to]);
  double least = HUGE_VAL;
  for (const surface::Line& other : roof.surface.lines) {
    const glm::dvec3 a = roof.surface.nodes[other.from];
    const glm::dvec3 b = roof.surface.nodes[other.to];
    const glm::dvec2 along = glm::dvec2(b - a);
    const double squared = glm::dot(along, along);
    if (&other == &line || squared < least_m * least_m) {
      continue;
    }
    const double share = glm::dot(glm::dvec2(middle - a), along) / squared;
    const glm::dvec3 nearest = a + share * (b - a);
    if (share >= 0.0 && share <= 1.0 && glm::length(glm::dvec2(nearest - middle)) <= least_m &&
        nearest.z > middle.z + least_m) {
      least = std::min(least, nearest.z - middle.z);
    }
  }
  return least < HUGE_VAL ? least : 0.0;
}

/// What of one plane goes on beneath overhangs.
struct Hidden {
  std::set<std::string> above;  ///< parts that hang over it
  double level_m = 0.0;         ///< the most of all its lines
  double longest_m = 0.0;       ///< line, where the finding stands
  glm::dvec3 at{0.0};
  std::vector<std::string> remedies;
};

std::string remedy(const Roof& roof, const surface::Line& line, const AtWall& at, double level_m) {
  const std::string where =
      " over " + length_words(roof, line.length_m) + " at " + roof.model.parts[at.part].id;
  return line.kind == surface::LineKind::headwall
             ? length_words(roof, level_m * at.plane->pitch.slope_factor()) + " up the slope" +
                   where
             : length_words(roof, level_m) + " to the side" + where;
}

std::map<PlaneId, Hidden> hidden_of(const Roof& roof) {
  std::map<PlaneId, Hidden> all;
  for (const auto& [id, at] : lines_at_walls(roof.surface)) {
    const surface::Line& line = roof.surface.lines[id];
    const double level_m = to_wall_m(roof, line, at);
    if (level_m <= least_m || gap_m(roof, line) < least_gap_m) {
      continue;
    }
    Hidden& hidden = all[at.id];
    hidden.above.insert(roof.model.parts[at.part].id);
    hidden.level_m = std::max(hidden.level_m, level_m);
    if (line.length_m > hidden.longest_m) {
      hidden.longest_m = line.length_m;
      hidden.at = 0.5 * (roof.surface.nodes[line.from] + roof.surface.nodes[line.to]);
    }
    hidden.remedies.push_back(remedy(roof, line, at, level_m));
  }
  return all;
}

/// One for each plane: a dormer alone has three such lines.
std::vector<Finding> find_deck_under_overhang(const Roof& roof) {
  std::vector<Finding> found;
  for (const auto& [plane, hidden] : hidden_of(roof)) {
    Finding finding;
    finding.kind = "deck_under_overhang";
    finding.severity = Severity::note;
    finding.plane = plane;
    finding.at = hidden.at;
    finding.measured =
        "up to " + length_words(roof, hidden.level_m) + " level from drip line to wall";
    finding.needed = "deck and edge metal up to the wall";
    finding.message = fmt::format(
        "Plane {} is drawn up to the drip line of {} above it, and goes on "
        "beneath. Rafters and shingles are counted up to the wall.",
        roof.surface.planes[plane].id, fmt::join(hidden.above, ", "));
    finding.remedy = fmt::format(
        "Add deck, and metal along its edges, to the areas and lengths of the plane: {}.",
        fmt::join(hidden.remedies, "; "));
    found.push_back(std::move(finding));
  }
  return found;
}

}  // namespace

extern const Check deck_under_overhang_kind;
const Check deck_under_overhang_kind{
    "deck_under_overhang", "a plane that goes on to a wall beneath another part's overhang",
    find_deck_under_overhang};

}  // namespace ridgeward::conflicts
