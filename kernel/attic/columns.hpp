#pragma once
// A space as upright columns: what is drawn and cut through.

#include "attic/decks.hpp"

#include <vector>

namespace ridgeward::attic {

/// All air over a convex counter-clockwise piece of the plan, from `floor` up to `roof`, the top of
/// a deck.
struct Column {
  polygon::Loop plan;
  Rise floor;
  Rise roof;
  PlaneId plane;  ///< that the roof is, or carries on
};

/// The volume between floor and roof. REQUIRES that the roof lies nowhere under the floor.
double volume_m3(const Column& column);

/// The columns of spaces. Overhangs and gaps have none.
/// Laws: (1) the volumes of an attic's columns sum to its `volume_m3`; (2) no two share a place;
/// (3) floor and roof meet at most at the columns' borders.
class Columns {
 public:
  explicit Columns(const surface::Surface& surface);
  std::vector<Column> of(const Space& space) const;

 private:
  const surface::Surface& surface_;
  std::vector<Deck> decks_;
  std::vector<RoofPiece> roof_;  ///< over ceilings
};

}  // namespace ridgeward::attic
