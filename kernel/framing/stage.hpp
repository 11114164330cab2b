#pragma once
// Sets the rafters out and finds the bays between them.

#include "framing/framing.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"

namespace ridgeward::framing {

/// Members on their spacing from the stated origin and the bays between them.
/// REQUIRES `surface` raised from `model`.
/// Rafters that run into an opening's clear rectangle are cut there, with headers below and above.
/// Beneath overlaid parts rafters and bays of the earlier plane go on as far as its deck does.
/// Laws: on every plane, at every height, members, bays and openings cover the width of the plane
/// and its blind decks once;
/// bays and members (headers apart, which follow) are ordered along the eave.
Framing frame(const model::RoofModel& model, const surface::Surface& surface);

/// Broken laws, in words; empty when sound.
std::vector<std::string> verify(const surface::Surface& surface, const Framing& framing);

/// Actual size of nominal stock ("2x8": 1 1/2 x 7 1/4 in), common practice for softwood lumber;
/// also "38x184 mm" or "1.5x7.25 in" as they are. Zeros for anything else.
struct Stock {
  double thickness_m = 0.0;
  double depth_m = 0.0;
};
Stock stock_named(const std::string& name);

/// The sides of the same loop of walls before and after `edge` of `part`; REQUIRES an edge of it.
struct Neighbours {
  std::size_t before = 0;
  std::size_t after = 0;
};
Neighbours neighbours_of(const model::Part& part, std::size_t edge);

/// A gable-end wall under a plane whose rake hangs over it: a gable's, that of a half hip below the
/// clipped end, or the small gable of a gablet.
struct GableEnd {
  double wall_u_m = 0.0;  ///< outer face of the wall
  double rake_u_m = 0.0;  ///< equal without overhang; below wall_u_m at a left end
  double low_v_m = 0.0;   ///< the rake's reach up the slope
  double high_v_m = 0.0;
  bool is_on_right = false;
  bool is_upright = false;  ///< the rake runs straight up the slope
};
/// The gable-end walls of `plane`: only where it ends in a rake. Where planes of two parts lie in
/// one, that may be the other part's wall; where a neighbour goes on past its own part's gable,
/// there is none.
std::vector<GableEnd> gable_ends(const model::RoofModel& model, const surface::Surface& surface,
                                 const surface::Plane& plane);

}  // namespace ridgeward::framing
