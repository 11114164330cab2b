#include "attic/ceilings.hpp"
#include "base/polygon.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace ridgeward::attic {

namespace {

/// How far a divider may stop short of a wall and still count as reaching it: a wall's thickness
/// and a bit.
constexpr double reach_m = 0.3;
constexpr double near_m = 1e-7;
constexpr double least_m2 = 1e-4;

/// Where the divider's line goes through an outline.
struct Crossing {
  std::size_t side = 0;  ///< from corner `side` to the next
  double along_m = 0.0;  ///< on the divider, from its start
  glm::dvec2 at{0.0};
};

double left_of(glm::dvec2 from, glm::dvec2 direction, glm::dvec2 p) {
  const glm::dvec2 d = p - from;
  const double side = direction.x * d.y - direction.y * d.x;
  return std::abs(side) <= near_m ? 0.0 : side;
}

/// Crossings of the divider's line, carried on at both ends, with the outline. A corner on the line
/// counts with the side that leaves it, so that each passage counts once.
std::vector<Crossing> crossings(const polygon::Loop& outline, glm::dvec2 from,
                                glm::dvec2 direction) {
  std::vector<Crossing> found;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const glm::dvec2 a = outline[i];
    const glm::dvec2 b = outline[(i + 1) % outline.size()];
    const double side_a = left_of(from, direction, a);
    const double side_b = left_of(from, direction, b);
    if ((side_a >= 0.0) != (side_b >= 0.0)) {
      const glm::dvec2 at = a + side_a / (side_a - side_b) * (b - a);
      found.push_back({i, glm::dot(at - from, direction), at});
    }
  }
  std::sort(found.begin(), found.end(),
            [](const Crossing& l, const Crossing& r) { return l.along_m < r.along_m; });
  return found;
}

/// The two sides of an outline cut between two of its crossings.
std::array<polygon::Loop, 2> halves(const polygon::Loop& outline, const Crossing& one,
                                    const Crossing& other) {
  const auto walk = [&](const Crossing& start, const Crossing& end) {
    polygon::Loop loop{start.at};
    for (std::size_t i = start.side; i != end.side;) {
      i = (i + 1) % outline.size();
      loop.push_back(outline[i]);
    }
    loop.push_back(end.at);
    return polygon::without_idle_points(std::move(loop));
  };
  return {walk(one, other), walk(other, one)};
}

enum class Meets { apart, splits, unclear };
struct Split {
  Meets meets = Meets::apart;
  std::array<polygon::Loop, 2> parts;
};

Split split(const polygon::Loop& outline, const model::Divider& divider) {
  const double length = glm::length(divider.to - divider.from);
  if (length <= near_m) {
    return {Meets::unclear, {}};
  }
  const glm::dvec2 direction = (divider.to - divider.from) / length;
  const std::vector<Crossing> all = crossings(outline, divider.from, direction);
  // Chords of the outline on the divider's line lie between crossings 0 1, 2 3, ...
  Split result;
  for (std::size_t i = 0; i + 1 < all.size(); i += 2) {
    const double from = all[i].along_m;
    const double to = all[i + 1].along_m;
    const double common = std::min(to, length) - std::max(from, 0.0);
    if (common <= near_m) {
      continue;
    }
    const bool is_across = from >= -reach_m && to <= length + reach_m;
    if (!is_across || result.meets != Meets::apart) {
      return {Meets::unclear, {}};
    }
    std::array<polygon::Loop, 2> parts = halves(outline, all[i], all[i + 1]);
    if (std::min(polygon::area(parts[0]), polygon::area(parts[1])) > least_m2) {
      result = {Meets::splits, std::move(parts)};  // else it runs along a side
    }
  }
  return result;
}

/// Whether a side of some floor lies on the divider.
bool runs_along_border(const model::Divider& divider, const std::vector<Floor>& floors) {
  constexpr double beside_m = 0.01;
  const double length = glm::length(divider.to - divider.from);
  const glm::dvec2 direction = (divider.to - divider.from) / length;
  const auto is_side = [&](glm::dvec2 a, glm::dvec2 b) {
    const double from = std::clamp(glm::dot(a - divider.from, direction), 0.0, length);
    const double to = std::clamp(glm::dot(b - divider.from, direction), 0.0, length);
    return std::abs(to - from) > beside_m &&
           std::abs(left_of(divider.from, direction, a)) < beside_m &&
           std::abs(left_of(divider.from, direction, b)) < beside_m;
  };
  return length > near_m && std::any_of(floors.begin(), floors.end(), [&](const Floor& floor) {
           const polygon::Loops& loops = floor.space.outline;
           return std::any_of(loops.begin(), loops.end(), [&](const polygon::Loop& loop) {
             bool is_found = false;
             for (std::size_t i = 0; i < loop.size(); ++i) {
               is_found = is_found || is_side(loop[i], loop[(i + 1) % loop.size()]);
             }
             return is_found;
           });
         });
}

std::optional<Fault> split_all(const model::Divider& divider, std::size_t index,
                               std::vector<Floor>& floors) {
  std::vector<Floor> after;
  bool has_split = false;
  for (Floor& floor : floors) {
    Split parts;
    if (floor.space.outline.size() == 1) {
      parts = split(floor.space.outline.front(), divider);
    } else if (split(floor.space.outline.front(), divider).meets != Meets::apart) {
      parts.meets = Meets::unclear;
    }
    if (parts.meets == Meets::unclear && floor.over_deck_of) {
      parts.meets = Meets::apart;  // no ceiling that the divider is drawn for
    }
    if (parts.meets == Meets::unclear) {
      return Fault{
          "divider.not_yet", "/dividers/" + std::to_string(index),
          "Divider " + divider.id + " does not cut ceiling " + floor.space.id + " in exactly two.",
          "Let it run straight from wall to wall of a ceiling without a courtyard."};
    }
    if (parts.meets == Meets::apart) {
      after.push_back(std::move(floor));
      continue;
    }
    has_split = true;
    for (std::size_t i = 0; i < 2; ++i) {
      Floor half = floor;
      half.space.id += i == 0 ? "/a" : "/b";
      half.space.outline = {std::move(parts.parts[i])};
      half.space.floor_area_m2 = polygon::area(half.space.outline);
      after.push_back(std::move(half));
    }
  }
  if (!has_split && !runs_along_border(divider, after)) {
    return Fault{"divider.not_yet", "/dividers/" + std::to_string(index),
                 "Divider " + divider.id + " lies over no ceiling.",
                 "Let it run straight from wall to wall of a ceiling."};
  }
  floors = std::move(after);
  return std::nullopt;
}

}  // namespace

Result<std::vector<Floor>> divided(const model::RoofModel& model, std::vector<Floor> floors,
                                   std::vector<std::string>& assumptions) {
  Faults faults;
  for (std::size_t i = 0; i < model.dividers.size(); ++i) {
    if (std::optional<Fault> fault = split_all(model.dividers[i], i, floors)) {
      faults.push_back(std::move(*fault));
    }
  }
  if (!faults.empty()) {
    return faults;
  }
  if (!model.dividers.empty()) {
    assumptions.emplace_back("Dividers are taken as thin, tight and reaching up to the deck.");
  }
  return floors;
}

}  // namespace ridgeward::attic
