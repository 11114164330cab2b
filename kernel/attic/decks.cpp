#include "attic/decks.hpp"

#include "base/regions.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

namespace {

constexpr double least_m2 = 1e-4;

polygon::Loops in_plan(const surface::Frame& frame,
                       const std::vector<std::vector<glm::dvec2>>& loops_uv) {
  polygon::Loops loops;
  for (const std::vector<glm::dvec2>& loop : loops_uv) {
    loops.emplace_back();
    for (const glm::dvec2 uv : loop) {
      const glm::dvec3 p = frame.at(uv);
      loops.back().emplace_back(p.x, p.y);
    }
  }
  return loops;
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
        regions::common(in_plan(one.frame, one.outline_uv), regions::united(before));
    if (polygon::area(outline) <= least_m2) {
      continue;
    }
    Pieces pieces(outline);
    Deck deck{one.part,          surface.planes[one.plane].part,     one.plane, std::move(outline),
              std::move(pieces), rise_of(surface.planes[one.plane]), {}};
    for (const std::vector<glm::dvec2>& opening : one.openings_uv) {
      deck.openings.push_back(in_plan(one.frame, {opening}));
    }
    decks.push_back(std::move(deck));
  }
  return decks;
}

polygon::Loops deck_outline(const std::vector<Deck>& decks, std::size_t part) {
  std::vector<polygon::Loops> own;
  for (const Deck& deck : decks) {
    if (deck.part == part) {
      own.push_back(deck.outline);
    }
  }
  return own.size() == 1 ? own.front() : regions::united(own);
}

std::vector<RoofPiece> roof_over_ceilings(const surface::Surface& surface,
                                          const std::vector<Deck>& decks) {
  std::vector<RoofPiece> roof;
  for (const surface::Plane& plane : surface.planes) {
    polygon::Loops plan = plan_of(surface, plane);
    for (const Deck& deck : decks) {
      if (deck.part == plane.part) {
        plan = regions::without(plan, deck.outline);
      }
    }
    roof.push_back({Pieces(plan), rise_of(plane), plane.part});
  }
  for (const Deck& deck : decks) {
    roof.push_back({deck.pieces, deck.rise, deck.owner});
  }
  return roof;
}

void measure_over_decks(const surface::Surface& surface, const std::vector<Deck>& decks,
                        std::size_t part, Space& space) {
  const Pieces within(space.outline);
  space.floor_area_m2 = polygon::area(space.outline);
  space.volume_m3 = 0.0;
  space.top_m = -HUGE_VAL;
  space.bottom_m = HUGE_VAL;
  const auto add = [&](const polygon::Loop& common, const Rise& roof, const Rise& deck) {
    const glm::dvec2 middle = polygon::centroid(common);
    space.volume_m3 += polygon::area(common) * std::max(0.0, roof.at(middle) - deck.at(middle));
    for (const glm::dvec2 corner : common) {
      space.top_m = std::max(space.top_m, roof.at(corner));
      space.bottom_m = std::min(space.bottom_m, deck.at(corner));
    }
  };
  for (const surface::Plane& plane : surface.planes) {
    if (plane.part != part) {
      continue;
    }
    const Pieces own(plan_of(surface, plane));
    for (const Deck& deck : decks) {
      if (deck.part != part || !own.box.touches(deck.pieces.box)) {
        continue;
      }
      for_overlaps(own, deck.pieces, [&](const polygon::Loop& both) {
        for (const Pieces::One& piece : within.all) {
          const polygon::Loop common = polygon::overlap(both, piece.corners);
          if (!common.empty()) {
            add(common, rise_of(plane), deck.rise);
          }
        }
      });
    }
  }
  if (space.top_m < space.bottom_m) {
    space.top_m = space.bottom_m = 0.0;
  }
}

}  // namespace ridgeward::attic
