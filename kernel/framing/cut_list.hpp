#pragma once
// The cut list: what to cut, and how often, in the order in which a carpenter lays it out.

#include "framing/framing.hpp"

#include <string>
#include <vector>

namespace ridgeward::framing {

/// Equal pieces, or equal trusses.
struct CutLine {
  std::size_t part = 0;
  PlaneId plane;  ///< none for what lies between planes, and for trusses
  MemberKind kind = MemberKind::common;
  std::string stock;
  int count = 0;
  std::vector<std::string> marks;  ///< ids of the members or trusses, along the eave
  /// One of the pieces, with its cuts; of trusses only kind and part are filled in.
  Member like;
  Truss truss;  ///< trusses only
};

/// Pieces count as equal within this, cuts within a hundredth of a degree.
inline constexpr double same_cut_m = 1e-4;

/// By part, by plane (what lies between planes follows, then trusses), by kind, the longest first.
/// Laws: (1) every member is on one line once, but for top chords of trusses, which come as
/// trusses, and strips of members named already; (2) pieces of one line agree in stock, plies and
/// all cuts.
std::vector<CutLine> cut_list(const Framing& framing);

}  // namespace ridgeward::framing
