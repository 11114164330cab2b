#include "attic/ceilings.hpp"

#include "attic/groups.hpp"
#include "base/polygon.hpp"
#include "base/regions.hpp"
#include "units/area.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace ridgeward::attic {

namespace {

Floor floor_over_group(const model::RoofModel& model, const Group& group, bool is_only) {
  const model::Part& first = model.parts[group.parts.front()];
  Floor floor;
  floor.space.id = is_only ? "attic" : "attic-" + first.id;
  floor.space.outline = group.outline;
  floor.space.floor_area_m2 = polygon::area(group.outline);
  floor.space.bottom_m = first.plate_m;
  floor.where = "/parts/" + std::to_string(group.parts.front());
  return floor;
}

/// The walls of the group's parts with their plates.
void add_levels(const model::RoofModel& model, const surface::Surface& surface, const Group& group,
                Space& space) {
  if (group.parts.size() == 1) {
    return;
  }
  for (const std::size_t part : group.parts) {
    space.levels.push_back({part, surface.wall_outlines[part], model.parts[part].plate_m});
    space.bottom_m = std::min(space.bottom_m, model.parts[part].plate_m);
  }
}

Floor floor_of_ceiling(const model::Ceiling& ceiling, std::size_t index) {
  Floor floor;
  floor.kind = ceiling.kind;
  floor.space.id = floor.space.ceiling = ceiling.id;
  floor.space.outline = {ceiling.outline};
  if (polygon::area(ceiling.outline) < 0.0) {
    std::reverse(floor.space.outline.front().begin(), floor.space.outline.front().end());
  }
  floor.space.floor_area_m2 = polygon::area(floor.space.outline);
  floor.space.bottom_m = ceiling.height_m;
  floor.space.insulation_m = ceiling.insulation_m;
  floor.space.baffles = ceiling.baffles;
  floor.where = "/ceilings/" + std::to_string(index);
  return floor;
}

polygon::Loops walls_of(const surface::Surface& surface) {
  return surface.wall_outlines.size() == 1 ? surface.wall_outlines.front()
                                           : regions::united(surface.wall_outlines);
}

/// Courtyards of the house: of its one part, or what the walls of all parts leave open.
polygon::Loops courtyards_of(const polygon::Loops& walls) {
  polygon::Loops courts;
  for (const polygon::Loop& loop : walls) {
    if (polygon::area(loop) < 0.0) {
      courts.push_back(loop);
    }
  }
  return courts;
}

/// Courtyards within a ceiling's outline are no floor: they become its holes. An outline that
/// already goes around one keeps as it is.
void take_courtyards_out(const polygon::Loops& courtyards, Space& space) {
  const polygon::Loop outer = space.outline.front();
  for (const polygon::Loop& court : courtyards) {
    const polygon::Loops pieces = polygon::convex_pieces({court});
    const bool is_within =
        std::all_of(court.begin(), court.end(),
                    [&](glm::dvec2 corner) { return polygon::contains(outer, corner); }) &&
        std::all_of(pieces.begin(), pieces.end(), [&](const polygon::Loop& piece) {
          return polygon::contains(outer, polygon::centroid(piece));
        });
    if (is_within) {
      space.outline.push_back(court);
    }
  }
  space.floor_area_m2 = polygon::area(space.outline);
}

/// What reaches out past the walls is under eaves or in the open, and no floor. Outlines drawn a
/// hair past the walls keep as they are.
void cut_at_walls(const polygon::Loops& walls, Floor& floor, Faults& faults,
                  std::vector<std::string>& assumptions) {
  constexpr double least_m2 = 0.005;
  Space& space = floor.space;
  const double outside_m2 = space.floor_area_m2 - polygon::overlap_area(space.outline, walls);
  if (outside_m2 <= least_m2) {
    return;
  }
  polygon::Loops inside = regions::common(space.outline, walls);
  const double inside_m2 = polygon::area(inside);
  if (inside_m2 <= least_m2) {
    faults.push_back({"ceiling.outside", floor.where + "/outline",
                      "Ceiling " + space.id + " lies outside the walls.",
                      "Draw it within the walls of a part."});
    return;
  }
  assumptions.push_back(fmt::format(
      "Ceiling {} is drawn past the walls by {:.2f} m2 ({:.0f} ft2): only what lies within them is "
      "taken as floor.",
      space.id, outside_m2, outside_m2 / units::square_foot_m2));
  space.outline = std::move(inside);
  space.floor_area_m2 = inside_m2;
}

/// A ceiling without an outline lies over the walls of all parts.
std::vector<Floor> floors_of_bare_ceiling(const model::RoofModel& model, std::size_t index,
                                          const std::vector<Group>& groups) {
  std::vector<Floor> floors;
  const model::Ceiling& ceiling = model.ceilings[index];
  for (const Group& group : groups) {
    Floor floor = floor_of_ceiling(ceiling, index);
    floor.space.outline = group.outline;
    floor.space.floor_area_m2 = polygon::area(group.outline);
    if (groups.size() > 1) {
      floor.space.id += "-" + model.parts[group.parts.front()].id;
    }
    floors.push_back(std::move(floor));
  }
  return floors;
}

/// Two ceilings over each other would count floor and bays twice.
void check_overlaps(const std::vector<Floor>& floors, Faults& faults) {
  constexpr double least_m2 = 1e-6;
  for (std::size_t i = 0; i < floors.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      const Space& one = floors[k].space;
      const Space& other = floors[i].space;
      const double both_m2 = polygon::overlap_area(one.outline, other.outline);
      if (both_m2 > least_m2) {
        faults.push_back({"ceiling.overlaps", floors[i].where + "/outline",
                          fmt::format("Ceiling {} lies over {:.3g} m2 of ceiling {}.", other.id,
                                      both_m2, one.id),
                          "Draw the outlines so that ceilings share borders but no floor."});
      }
    }
  }
}

}  // namespace

Result<std::vector<Floor>> floors_of(const model::RoofModel& model, const surface::Surface& surface,
                                     std::vector<std::string>& assumptions) {
  std::vector<Floor> floors;
  if (model.ceilings.empty()) {
    const std::vector<Group> groups = groups_of(model, surface, assumptions);
    for (const Group& group : groups) {
      floors.push_back(floor_over_group(model, group, groups.size() == 1));
      add_levels(model, surface, group, floors.back().space);
    }
    assumptions.emplace_back(
        "No ceiling is given: one flat ceiling over the walls at plate height is taken, without "
        "insulation.");
    return floors;
  }
  Faults faults;
  const polygon::Loops walls = walls_of(surface);
  const polygon::Loops courtyards = courtyards_of(walls);
  for (std::size_t i = 0; i < model.ceilings.size(); ++i) {
    const model::Ceiling& ceiling = model.ceilings[i];
    if (ceiling.outline.size() < 3) {
      for (Floor& floor :
           floors_of_bare_ceiling(model, i, groups_of(model, surface, assumptions))) {
        floors.push_back(std::move(floor));
      }
    } else {
      floors.push_back(floor_of_ceiling(ceiling, i));
      take_courtyards_out(courtyards, floors.back().space);
      cut_at_walls(walls, floors.back(), faults, assumptions);
    }
  }
  check_overlaps(floors, faults);
  if (!faults.empty()) {
    return faults;
  }
  return floors;
}

std::vector<Floor> floors_over_decks(const model::RoofModel& model,
                                     const std::vector<Deck>& decks) {
  std::vector<Floor> floors;
  for (std::size_t part = 0; part < model.parts.size(); ++part) {
    Floor floor;
    floor.over_deck_of = part;
    floor.space.id = model.parts[part].id + " over the blind deck";
    floor.space.outline = room_outline(decks, part);
    floor.where = "/parts/" + std::to_string(part);
    if (!floor.space.outline.empty()) {
      floors.push_back(std::move(floor));
    }
  }
  return floors;
}

}  // namespace ridgeward::attic
