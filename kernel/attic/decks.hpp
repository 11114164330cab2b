#pragma once
// Decks that go on beneath a part laid over them: roof for what lies below, floor for what lies
// above.

#include "attic/space.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

#include <vector>

namespace ridgeward::attic {

struct Deck {
  std::size_t part = 0;    ///< the overlaid part that stands on it
  std::size_t owner = 0;   ///< the part whose plane it carries on
  PlaneId plane;           ///< that plane
  polygon::Loops outline;  ///< in plan, within the walls of the parts before the overlaid one
  polygon::Loops room;     ///< of that what lies within the overlaid part's own walls
  Pieces pieces;
  Rise rise;
  std::vector<polygon::Loops> openings;  ///< in plan
};

/// The blind decks of the surface whose plane is to be seen somewhere; crickets stand on none that
/// matters to the air.
std::vector<Deck> decks_of(const surface::Surface& surface);

/// All decks under one part as one outline, as far as its own walls go: what its roof hangs out
/// over them is out of doors.
polygon::Loops room_outline(const std::vector<Deck>& decks, std::size_t part);

/// What is roof to an attic over ceilings: the planes less what of them stands on blind decks, and
/// those decks. Where a plane hangs out over rooms of a lower part, that part's own planes, which
/// go on beneath it up to the wall.
std::vector<RoofPiece> roof_over_ceilings(const surface::Surface& surface,
                                          const std::vector<Deck>& decks);

/// What is roof to the space over the decks under a part: its planes, and decks that it carries on
/// beneath yet another part.
std::vector<RoofPiece> roof_of_part(const surface::Surface& surface, const std::vector<Deck>& decks,
                                    std::size_t part);

/// The space between the blind decks under a part, as far as `outline` goes, and its own planes.
void measure_over_decks(const surface::Surface& surface, const std::vector<Deck>& decks,
                        std::size_t part, Space& space);

}  // namespace ridgeward::attic
