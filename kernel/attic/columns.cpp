#include "attic/columns.hpp"

#include <algorithm>

namespace ridgeward::attic {
namespace {

/// Less than a square millimetre is two things that touch.
constexpr double least_m2 = 1e-6;

/// The part of a convex piece over which `roof` lies above `floor`.
void add_column(const polygon::Loop& plan, const Rise& floor, const Rise& roof, PlaneId plane,
                std::vector<Column>& all) {
  if (plan.empty()) {
    return;
  }
  const polygon::HalfPlane above{roof.gradient - floor.gradient, floor.base - roof.base};
  polygon::Loop under = polygon::clip(plan, above);
  if (under.size() >= 3 && polygon::area(under) > least_m2) {
    all.push_back({std::move(under), floor, roof, plane});
  }
}

}  // namespace

double volume_m3(const Column& column) {
  const glm::dvec2 middle = polygon::centroid(column.plan);
  return polygon::area(column.plan) * (column.roof.at(middle) - column.floor.at(middle));
}

Columns::Columns(const surface::Surface& surface)
    : surface_(surface), decks_(decks_of(surface)), roof_(roof_over_ceilings(surface, decks_)) {}

std::vector<Column> Columns::of(const Space& space) const {
  if (space.kind == SpaceKind::rafter_space) {
    return of_rafter_space(space);
  }
  if (space.kind != SpaceKind::attic) {
    return {};
  }
  return space.is_over_deck ? over_decks(space) : over_ceilings(space);
}

std::vector<Column> Columns::of_rafter_space(const Space& space) const {
  std::vector<Column> all;
  const surface::Plane& plane = surface_.planes[space.plane];
  const Rise roof = rise_of(plane);
  const Rise floor{roof.gradient, roof.base - space.clear_m / plane.frame.normal.z};
  for (const polygon::Loop& piece : polygon::convex_pieces(space.outline)) {
    all.push_back({piece, floor, roof, space.plane});
  }
  return all;
}

std::vector<Column> Columns::over_decks(const Space& space) const {
  std::vector<Column> all;
  const Pieces within(space.outline);
  const std::vector<RoofPiece> roofs = roof_of_part(surface_, decks_, space.overlaid_part);
  const auto add = [&](const Deck& deck, const RoofPiece& roof, const polygon::Loop& common) {
    for (const Pieces::One& own : within.all) {
      add_column(polygon::overlap(common, own.corners), deck.rise, roof.rise, roof.plane, all);
    }
  };
  for (const Deck& deck : decks_) {
    if (deck.part != space.overlaid_part) {
      continue;
    }
    for (const RoofPiece& roof : roofs) {
      for_overlaps(roof.pieces, deck.pieces,
                   [&](const polygon::Loop& common) { add(deck, roof, common); });
    }
  }
  return all;
}

std::vector<Column> Columns::over_ceilings(const Space& space) const {
  std::vector<Column> all;
  std::size_t parts = 0;
  for (const RoofPiece& roof : roof_) {
    parts = std::max(parts, roof.part + 1);
  }
  const Ceilings ceilings(space, parts);
  const auto add = [&](const RoofPiece& roof, const Pieces::One& piece) {
    for (const Ceiled& ceiling : ceilings.under(roof.part)) {
      if (piece.box.touches(ceiling.box)) {
        add_column(polygon::overlap(piece.corners, ceiling.corners), {{}, ceiling.ceiling_m},
                   roof.rise, roof.plane, all);
      }
    }
  };
  for (const RoofPiece& roof : roof_) {
    for (const Pieces::One& piece : roof.pieces.all) {
      if (piece.box.touches(ceilings.box())) {
        add(roof, piece);
      }
    }
  }
  return all;
}

}  // namespace ridgeward::attic
