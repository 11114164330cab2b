#pragma once
// Crickets: the small saddle roofs that shed the water behind wide chimneys.

#include "model/roof_model.hpp"
#include "surface/mesh.hpp"
#include "surface/surface.hpp"

#include <vector>

namespace ridgeward::surface {

/// One cricket as a mesh that can be united with the roof, and its foot on the plane.
struct CricketRoof {
  std::size_t obstacle = 0;  ///< index into RoofModel::obstacles
  PlaneId plane;             ///< that it stands on
  Mesh mesh;
};

/// Crickets behind the chimneys of `model` that need one: wider than 30 in across the slope and
/// clear of the ridge (IRC R1003.20; R903.2.2 asks the same of any penetration), or that ask for
/// one. Its planes have the pitch of the roof: the height at the chimney is half the width times
/// rise over run, as in table R1003.20 (from memory but for its 12/12 row); its ridge is level and
/// its valleys run up at 45 degrees in plan.
/// Where there is no room for one, or it stands on several planes, Surface::assumptions says so.
/// REQUIRES regions that are laid out.
std::vector<CricketRoof> raise_crickets(const model::RoofModel& model, Surface& surface);

/// The deck that goes on beneath each cricket. REQUIRES the surface with them.
void lay_out_cricket_decks(const std::vector<CricketRoof>& crickets, const model::RoofModel& model,
                           Surface& surface);

}  // namespace ridgeward::surface
