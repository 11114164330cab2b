#include "attic/decks.hpp"

#include "base/regions.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

namespace {

constexpr double least_m2 = 1e-4;

/// As it is where all of it lies there.
polygon::Loops within(const polygon::Loops& outline, const polygon::Loops& walls) {
  const polygon::Loops inside = regions::common(outline, walls);
  return polygon::area(outline) - polygon::area(inside) > least_m2 ? inside : outline;
}

}  // namespace

std::vector<Deck> decks_of(const surface::Surface& surface) {
  std::vector<Deck> decks;
  for (const surface::BlindDeck& one : surface.blind_decks) {
    if (one.plane.is_none() || !one.cricket.empty()) {
      continue;
    }
    std::vector<polygon::Loops> before(
        surface.wall_outlines.begin(),
        surface.wall_outlines.begin() + static_cast<std::ptrdiff_t>(one.part));
    polygon::Loops outline =
        regions::common(plan_of(one.frame, one.outline_uv), regions::united(before));
    for (const Deck& before_it : decks) {
      if (before_it.plane == one.plane) {
        outline = regions::without(outline, before_it.outline);  // told already
      }
    }
    if (polygon::area(outline) <= least_m2) {
      continue;
    }
    Pieces pieces(outline);
    polygon::Loops room = within(outline, surface.wall_outlines[one.part]);
    Deck deck{one.part,
              surface.planes[one.plane].part,
              one.plane,
              std::move(outline),
              std::move(room),
              std::move(pieces),
              rise_of(surface.planes[one.plane]),
              {}};
    for (const std::vector<glm::dvec2>& opening : one.openings_uv) {
      deck.openings.push_back(plan_of(one.frame, {opening}));
    }
    decks.push_back(std::move(deck));
  }
  return decks;
}

polygon::Loops room_outline(const std::vector<Deck>& decks, std::size_t part) {
  std::vector<polygon::Loops> own;
  for (const Deck& deck : decks) {
    if (deck.part == part && !deck.room.empty()) {
      own.push_back(deck.room);
    }
  }
  return own.size() == 1 ? own.front() : regions::united(own);
}

namespace {

/// A region less what of it stands on decks beneath its own part.
polygon::Loops off_own_decks(polygon::Loops plan, const std::vector<Deck>& decks,
                             std::size_t part) {
  for (const Deck& deck : decks) {
    plan = deck.part == part ? regions::without(plan, deck.outline) : std::move(plan);
  }
  return plan;
}

/// Where a plane hangs out over rooms of another part, that part's own roof goes on beneath it up
/// to the wall. Takes it from `plan` and adds it as that roof.
void take_sheltered(const surface::Surface& surface, PlaneId id, polygon::Loops& plan,
                    std::vector<RoofPiece>& roof) {
  for (const surface::Sheltered& deck : surface.sheltered_decks) {
    if (deck.above != id) {
      continue;
    }
    const surface::Plane& own = surface.planes[deck.plane];
    const polygon::Loops rooms =
        regions::common(regions::common(plan, deck.plan), surface.wall_outlines[own.part]);
    if (polygon::area(rooms) > least_m2) {
      plan = regions::without(plan, rooms);
      Pieces pieces(rooms);
      roof.push_back({rooms, std::move(pieces), rise_of(own), own.part, deck.plane});
    }
  }
}

}  // namespace

std::vector<RoofPiece> roof_over_ceilings(const surface::Surface& surface,
                                          const std::vector<Deck>& decks) {
  std::vector<RoofPiece> roof;
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    polygon::Loops plan = off_own_decks(plan_of(surface, plane), decks, plane.part);
    take_sheltered(surface, id, plan, roof);
    Pieces pieces(plan);
    roof.push_back({std::move(plan), std::move(pieces), rise_of(plane), plane.part, id});
  }
  for (const Deck& deck : decks) {
    polygon::Loops plan = off_own_decks(deck.outline, decks, deck.owner);
    Pieces pieces(plan);
    roof.push_back({std::move(plan), std::move(pieces), deck.rise, deck.owner, deck.plane});
  }
  return roof;
}

std::vector<RoofPiece> roof_of_part(const surface::Surface& surface, const std::vector<Deck>& decks,
                                    std::size_t part) {
  std::vector<RoofPiece> roof;
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    if (plane.part == part) {
      polygon::Loops plan = plan_of(surface, plane);
      Pieces pieces(plan);
      roof.push_back({std::move(plan), std::move(pieces), rise_of(plane), part, id});
    }
  }
  for (const Deck& deck : decks) {
    if (deck.owner == part) {
      roof.push_back({deck.outline, deck.pieces, deck.rise, part, deck.plane});
    }
  }
  return roof;
}

namespace {

/// Adds what lies between a roof and a deck over a convex piece of the plan.
void add_between(const polygon::Loop& plan, const Rise& roof, const Rise& deck, Space& space) {
  const glm::dvec2 middle = polygon::centroid(plan);
  space.volume_m3 += polygon::area(plan) * std::max(0.0, roof.at(middle) - deck.at(middle));
  for (const glm::dvec2 corner : plan) {
    space.top_m = std::max(space.top_m, roof.at(corner));
    space.bottom_m = std::min(space.bottom_m, deck.at(corner));
  }
}

}  // namespace

void measure_over_decks(const surface::Surface& surface, const std::vector<Deck>& decks,
                        std::size_t part, Space& space) {
  space.floor_area_m2 = polygon::area(space.outline);
  space.volume_m3 = 0.0;
  space.top_m = -HUGE_VAL;
  space.bottom_m = HUGE_VAL;
  const std::vector<RoofPiece> roof = roof_of_part(surface, decks, part);
  for (const Deck& deck : decks) {
    if (deck.part != part) {
      continue;
    }
    const Pieces floor(regions::common(deck.outline, space.outline));
    for (const RoofPiece& above : roof) {
      for_overlaps(above.pieces, floor, [&](const polygon::Loop& both) {
        add_between(both, above.rise, deck.rise, space);
      });
    }
  }
  if (space.top_m < space.bottom_m) {
    space.top_m = space.bottom_m = 0.0;
  }
}

}  // namespace ridgeward::attic
