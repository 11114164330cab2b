#include "attic/borders.hpp"

#include "attic/groups.hpp"
#include "attic/space.hpp"
#include "base/polygon.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

namespace {

constexpr double beside_m = 0.01;  ///< apart, and still the same border
constexpr double least_m = 1e-3;
/// As far as a divider may stop short of a wall.
constexpr double reach_m = 0.3;

struct Segment {
  glm::dvec2 from{0.0};
  glm::dvec2 to{0.0};
};

/// The stretch of `along` beside which `other` runs, as shares of it; empty when it does not.
struct Beside {
  double from = 0.0;
  double to = 0.0;
};
Beside beside(const Segment& along, const Segment& other) {
  const glm::dvec2 way = along.to - along.from;
  const double length = glm::length(way);
  const glm::dvec2 direction = way / length;
  const glm::dvec2 across{-direction.y, direction.x};
  if (std::abs(glm::dot(across, other.from - along.from)) > beside_m ||
      std::abs(glm::dot(across, other.to - along.from)) > beside_m) {
    return {};
  }
  const double a = glm::dot(direction, other.from - along.from) / length;
  const double b = glm::dot(direction, other.to - along.from) / length;
  return {std::clamp(std::min(a, b), 0.0, 1.0), std::clamp(std::max(a, b), 0.0, 1.0)};
}

std::vector<Segment> sides_of(const polygon::Loops& loops) {
  std::vector<Segment> all;
  for (const polygon::Loop& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      if (glm::length(loop[(i + 1) % loop.size()] - loop[i]) > least_m) {
        all.push_back({loop[i], loop[(i + 1) % loop.size()]});
      }
    }
  }
  return all;
}

/// What of a segment no divider stands on.
std::vector<Segment> without_dividers(const model::RoofModel& model, const Segment& whole) {
  std::vector<Beside> left{{0.0, 1.0}};
  for (const model::Divider& divider : model.dividers) {
    const double length = glm::length(divider.to - divider.from);
    if (length <= least_m) {
      continue;
    }
    const glm::dvec2 further = (divider.to - divider.from) * (reach_m / length);
    const Beside taken = beside(whole, {divider.from - further, divider.to + further});
    std::vector<Beside> after;
    for (const Beside& one : left) {
      after.push_back({one.from, std::min(one.to, std::max(one.from, taken.from))});
      after.push_back({std::max(one.from, std::min(one.to, taken.to)), one.to});
    }
    left = taken.to > taken.from ? after : left;
  }
  std::vector<Segment> segments;
  const glm::dvec2 way = whole.to - whole.from;
  for (const Beside& one : left) {
    if ((one.to - one.from) * glm::length(way) > least_m) {
      segments.push_back({whole.from + one.from * way, whole.from + one.to * way});
    }
  }
  return segments;
}

/// Which of the groups of open attics hold a point; none: outside all walls.
class Openness {
 public:
  Openness(const model::RoofModel& model, const surface::Surface& surface) {
    if (model.parts.size() > 1) {
      std::vector<std::string> told_elsewhere;
      groups_ = groups_of(model, surface, told_elsewhere);
    }
  }
  /// Whether both sides of the middle of a segment belong to one attic.
  bool is_within_one(const Segment& segment) const {
    constexpr double aside_m = 2 * beside_m;
    const glm::dvec2 way = segment.to - segment.from;
    const glm::dvec2 aside = glm::dvec2{-way.y, way.x} * (aside_m / glm::length(way));
    const glm::dvec2 middle = 0.5 * (segment.from + segment.to);
    return groups_.size() < 2 || group_at(middle + aside) == group_at(middle - aside);
  }

 private:
  std::size_t group_at(glm::dvec2 p) const {
    const auto found = std::find_if(groups_.begin(), groups_.end(), [&](const Group& group) {
      return polygon::contains(group.outline, p);
    });
    return static_cast<std::size_t>(found - groups_.begin());
  }

  std::vector<Group> groups_;
};

polygon::Box box_of(const polygon::Loops& loops) {
  polygon::Box box;
  for (const polygon::Loop& loop : loops) {
    for (const glm::dvec2 p : loop) {
      box.add(p - beside_m);
      box.add(p + beside_m);
    }
  }
  return box;
}

/// Whether `floor` begins beyond a side of a space over blind decks, under the same part's roof and
/// within its walls: where it hangs out beyond them, `floor` lies beneath the deck.
bool begins_beyond(const surface::Surface& surface, const Segment& side, const Floor& deck,
                   const Floor& floor) {
  const glm::dvec2 way = side.to - side.from;
  const glm::dvec2 outward = glm::dvec2{way.y, -way.x} * (2 * beside_m / glm::length(way));
  const glm::dvec2 p = 0.5 * (side.from + side.to) + outward;
  if (!polygon::contains(floor.space.outline, p) ||
      !polygon::contains(surface.wall_outlines[*deck.over_deck_of], p)) {
    return false;
  }
  return std::any_of(surface.planes.begin(), surface.planes.end(), [&](const auto& plane) {
    return plane.part == *deck.over_deck_of && polygon::contains(plan_of(surface, plane), p);
  });
}

/// The flat ceilings that begin beyond one side of a space over blind decks.
void add_side_borders(const surface::Surface& surface, const std::vector<Floor>& floors,
                      std::size_t deck, const Segment& side, std::vector<Border>& borders) {
  for (std::size_t other = 0; other < floors.size(); ++other) {
    const Floor& floor = floors[other];
    if (!floor.over_deck_of && floor.kind == model::CeilingKind::flat &&
        begins_beyond(surface, side, floors[deck], floor)) {
      borders.push_back({std::min(other, deck), std::max(other, deck), side.from, side.to});
    }
  }
}

/// The borders of a space over blind decks, its own sides as they run around it.
void add_deck_borders(const model::RoofModel& model, const surface::Surface& surface,
                      const std::vector<Floor>& floors, std::size_t deck,
                      std::vector<Border>& borders) {
  for (const Segment& whole : sides_of(floors[deck].space.outline)) {
    for (const Segment& side : without_dividers(model, whole)) {
      add_side_borders(surface, floors, deck, side, borders);
    }
  }
}

/// What two floors' sides have in common, without dividers and within one group.
class Facing {
 public:
  Facing(const model::RoofModel& model, const surface::Surface& surface,
         std::vector<Border>& borders)
      : model_(model), openness_(model, surface), borders_(borders) {}

  void add(std::size_t one, std::size_t other, const Segment& side, const Beside& common) {
    const glm::dvec2 way = side.to - side.from;
    if ((common.to - common.from) * glm::length(way) <= least_m) {
      return;
    }
    for (const Segment& segment :
         without_dividers(model_, {side.from + common.from * way, side.from + common.to * way})) {
      if (openness_.is_within_one(segment)) {
        borders_.push_back({one, other, segment.from, segment.to});
      }
    }
  }

  void add_all(std::size_t one, std::size_t other, const std::vector<std::vector<Segment>>& sides) {
    for (const Segment& side : sides[one]) {
      for (const Segment& facing : sides[other]) {
        add(one, other, side, beside(side, facing));
      }
    }
  }

 private:
  const model::RoofModel& model_;
  Openness openness_;
  std::vector<Border>& borders_;
};

}  // namespace

std::vector<Border> borders_between(const model::RoofModel& model, const surface::Surface& surface,
                                    const std::vector<Floor>& floors) {
  std::vector<Border> borders;
  for (std::size_t i = 0; i < floors.size(); ++i) {
    if (floors[i].over_deck_of) {
      add_deck_borders(model, surface, floors, i, borders);
    }
  }
  if (floors.size() < 2 || model.ceilings.empty()) {
    return borders;  // floors that were assumed are shut off from each other already
  }
  Facing facing_sides(model, surface, borders);
  std::vector<std::vector<Segment>> sides;
  std::vector<polygon::Box> boxes;
  for (const Floor& floor : floors) {
    sides.push_back(sides_of(floor.space.outline));
    boxes.push_back(box_of(floor.space.outline));
  }
  for (std::size_t other = 1; other < floors.size(); ++other) {
    for (std::size_t one = 0; one < other; ++one) {
      if (!boxes[one].touches(boxes[other]) || floors[one].over_deck_of ||
          floors[other].over_deck_of) {
        continue;
      }
      facing_sides.add_all(one, other, sides);
    }
  }
  return borders;
}

}  // namespace ridgeward::attic
