#pragma once
// Named solids of one roof: its body, its deck, the air spaces under it, its timber.
//
// Names are the ids of the assessment after the word of the group: "roof", "deck/main/0",
// "attic/attic", "members/main/0/r3". Metres, coordinates of the surface.

#include "attic/attic.hpp"
#include "base/fault.hpp"
#include "framing/framing.hpp"
#include "model/roof_model.hpp"
#include "solid/shape.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <string>
#include <vector>

namespace ridgeward::solid {

struct Body {
  std::string name;
  Shape shape;  ///< one solid, or several where the thing is in pieces
};

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
///   undersides meet. So sheets touch along whole faces and never overlap, whatever their
///   thicknesses; where more than three planes meet in a point each sheet keeps the corner of its
///   own two neighbours. Planes that all but lie in one (a mitre flatter than 1 in 10) are cut
///   square.
/// - Against a wall (headwall, sidewall, step) it is cut plumb.
/// - Eaves, rakes, shed tops and openings are cut square to the sheet.
/// - Chimneys, skylights and pipes are cut out along their clear outline; with `slots` the intake
///   slots are too.
/// A sheet whose mitres run into each other is cut square all around, and noted.
/// Law: without mitres its volume is area times thickness.
/// Faults: solid.not_closed, solid.invalid.
Result<Bodies> deck_bodies(const model::RoofModel& model, const surface::Surface& surface,
                           const vents::Vents* slots = nullptr);

/// The air space of each compartment, between its ceiling and the roof surface (the top of the
/// deck), as attic::divide measures it.
/// Law: its volume is the compartment's `volume_m3`.
/// Faults: solid.not_closed, solid.invalid.
Result<Bodies> compartment_bodies(const surface::Surface& surface, const attic::Attic& attic);

}  // namespace ridgeward::solid
