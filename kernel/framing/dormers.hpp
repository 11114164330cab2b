#pragma once
// Dormers that are open below: where their walls stand on the rafters of an earlier roof.

#include "framing/edge_members.hpp"

#include <vector>

namespace ridgeward::framing {

/// The hole that a dormer's walls leave in the rafters of one plane beneath it.
struct DormerHole {
  std::size_t part = 0;   ///< of the dormer
  PlaneId plane;          ///< of the earlier roof
  double from_u_m = 0.0;  ///< outer faces of its side walls
  double to_u_m = 0.0;
  double front_v_m = 0.0;  ///< outer face of its front wall
  double top_v_m = 0.0;    ///< where its roof runs out on the plane; below front_v_m if it does not
};

/// A part is a dormer on a plane of an earlier part when its valleys are framed, its front wall
/// stands on that plane, and its walls lie within the earlier part's. An overlaid one has the
/// rafters go on beneath.
std::vector<DormerHole> dormer_holes(const Building& building);

/// Centres of the two plies under each side wall, from the left.
std::vector<double> trimmers_of(const DormerHole& hole, double thickness_m);

/// The header under the front wall, between the trimmers: it takes no strip of the plane, which
/// ends at the wall.
void add_front_headers(const Building& building, const std::vector<DormerHole>& holes,
                       Framing& framing);

/// Cuts the ridge boards of dormers at their upper headers: shorter by half of the header's inner
/// ply, level (NAVEDTRA 14044 p. 2-34). REQUIRES the members of planes and boards.
void fit_ridges(const Building& building, const std::vector<DormerHole>& holes, Framing& framing);

}  // namespace ridgeward::framing
