#pragma once
// Named solids of one roof: its body, its deck, the air spaces under it, its timber.
//
// Names are the ids of the assessment after the word of the group: "roof", "deck/main/0",
// "attic/attic", "members/main/0/r3". Metres, coordinates of the surface.

#include "attic/attic.hpp"
#include "base/fault.hpp"
#include "base/tell.hpp"
#include "framing/framing.hpp"
#include "model/roof_model.hpp"
#include "solid/shape.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <string>
#include <vector>

namespace ridgeward::solid {

struct Bodies {
  std::vector<Body> all;
  std::vector<std::string> notes;  ///< where something was built in a simpler way, and why
};

/// The space under the roof as the house has it: roofs that meet (share a ridge, hip, valley or
/// pitch break) reach down to the lowest eave among them; a roof that only stands against another's
/// wall, or apart, to its own. So a low porch doesn't pull the body of the main roof down to its
/// own eave, while a dormer's goes on into the roof beneath it.
/// Faults: solid.not_closed, solid.invalid.
Result<Bodies> roof_body(const surface::Surface& surface);

/// The deck as a carpenter's sheets, one body a plane: the plane is its top, its underside lies the
/// part's `deck_m` further in, square to it.
/// - Towards a plane beside it the sheet is mitred: cut along the face in which both tops and both
///   undersides meet. So sheets touch along whole faces, whatever their thicknesses; at a node of
///   more than three faces each sheet keeps the corner of its own two neighbours, and two may
///   share less than the cube of a thickness. Planes that all but lie in one (a mitre flatter than
///   1 in 10) are cut square.
/// - In a valley that is laid over an earlier roof, and around a cricket, the upper sheet ends in a
///   feather edge on the lower one, which goes on beneath: Surface::blind_decks are sheets too
///   ("deck/main/0/under/wing").
/// - Against a wall (headwall, sidewall, step) it is cut plumb.
/// - Eaves, rakes, shed tops and openings are cut square to the sheet.
/// - Chimneys, skylights and pipes are cut out along their clear outline; with `slots` the intake
///   slots are too.
/// A sheet whose mitres run into each other is cut square all around, and noted.
/// Law: without mitres its volume is area times thickness.
/// Faults: solid.not_closed, solid.invalid.
Result<Bodies> deck_bodies(const model::RoofModel& model, const surface::Surface& surface,
                           const vents::Vents* slots = nullptr);

/// The air spaces of all compartments, "attic/" and the id of the space: attics between ceiling and
/// roof surface (the top of the deck), rafter spaces as thick as they are clear, laid against the
/// roof surface. Spaces without volume have no body.
/// Law: a body's volume is the `volume_m3` of the space, as attic::divide measures it; one that is
/// noted, because no sound body came about with blind decks, goes up to the visible roof.
/// Faults: solid.not_closed, solid.invalid.
Result<Bodies> compartment_bodies(const surface::Surface& surface, const attic::Attic& attic);

/// Each member of the framing as a straight piece of its thickness and depth, cut by planes.
/// - Rafters: top on the underside of the deck; plumb cuts at eave, ridge, wall, and pitch break
///   (under the line in which both undersides meet); side cuts along hips and valleys, at their
///   face; square to the deck against a header; on the deck beneath where their part is laid over
///   it; birdsmouths where the framing has them.
/// - Hips, valleys, ridge boards: flat on top (not backed), as high as the undersides of both decks
///   allow over their whole thickness: hips and ridges dropped, valleys not. Ends plumb, along the
///   face of what they run against; a hip's tail in line with both eaves.
/// - Headers: square to the deck. Lookouts and valley sleepers that lie flat: against the deck.
/// - Anything else: a plain prism between its ends, under the deck of its plane; top edge between
///   its ends where it lies free. What is only a strip of another member is left out.
/// Where several hips meet without a ridge their tips may run into each other.
/// Law: between two parallel cuts, birdsmouths apart, the volume is thickness x depth x length_m.
/// The slowest of all: `tell` counts the members.
/// Faults: solid.not_closed, solid.invalid.
Result<Bodies> member_bodies(const model::RoofModel& model, const surface::Surface& surface,
                             const framing::Framing& framing, const Tell& tell = {});

}  // namespace ridgeward::solid
