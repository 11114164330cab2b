#pragma once
// The cutting plan: which pieces of which bought sections lie along each strip, with the fewest
// sections. Plain lengths; nothing of roofs.

#include <cstddef>
#include <vector>

namespace ridgeward::takeoff {

/// What the end of a strip asks of the piece that lies there.
struct EndNeed {
  bool is_factory = false;  ///< that end of the piece is an uncut end of its section
  double least_m = 0.0;     ///< length of the piece, at least; 0: nothing is asked
  bool is_free() const { return !is_factory && least_m <= 0.0; }
};

/// A length to cover from its left end to its right one.
struct Strip {
  double length_m = 0.0;
  EndNeed left;
  EndNeed right;
};

/// A piece in its place: section `section` (from 0, in the order of laying), of which it takes
/// `length_m` from `section_from_m` on.
struct Cutting {
  std::size_t section = 0;
  double section_from_m = 0.0;
  double length_m = 0.0;
};

struct CuttingPlan {
  std::vector<std::vector<Cutting>> strips;  ///< as asked for; the pieces from left to right
  std::size_t bought = 0;
  std::size_t lower_bound = 0;  ///< no plan buys fewer
  /// Whether `bought` is the least: it is the lower bound, or the solver found every lower number
  /// impossible.
  bool is_least = false;
};

/// What the sections allow.
struct CuttingRules {
  double section_m = 0.0;      ///< length of a bought section
  double least_piece_m = 0.0;  ///< shortest piece worth cutting
};

/// Rules: (1) a section has a left and a right end and can't be turned, for its lower edge is not
/// its upper one; so a left factory end serves left ends only. (2) A strip takes one piece at most
/// of a section. One that is shorter than a section and asks for two factory ends may take both
/// ends of one section, the middle cut out. (3) No piece is shorter than the least one, but a strip
/// that is shorter itself. (4) Nothing is taken off for the saw.
/// Among plans with the fewest sections found, one with few pieces. REQUIRES section_m > 0 and
/// lengths over 0. Needs that no plan could meet (a rake-to-rake strip shorter than two least
/// pieces; a mitre longer than a section) are given up, the right end first.
/// Pure: equal input, equal plan.
CuttingPlan plan_cuts(std::vector<Strip> strips, const CuttingRules& rules);

}  // namespace ridgeward::takeoff
