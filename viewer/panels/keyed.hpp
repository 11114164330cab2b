#pragma once
// What keys do that a mouse does by pointing: the next plane, line, bay or vent, moved and trimmed
// by steps, put where something is selected. What they mean depends on the roof, so they are asked
// for by these intents and turned into others by follow_up().

#include <variant>

namespace ridgeward::panels {

/// Selects the next of a kind, round and round.
struct StepTo {
  enum class What {
    plane,  ///< in plan: the next edge of an outline
    line,   ///< eaves first, as the ribbon has them; in plan: the next corner
    bay,    ///< as the ribbon has them
    thing   ///< intake runs, exhaust vents, obstacles
  };
  What what = What::plane;
  bool is_back = false;
};
/// Moves what the fields are about: a run or a vent along its line, a vent by the piece or an
/// obstacle along and up its plane, in plan a corner or an edge.
struct Nudge {
  enum class End { from, to, all };
  End end = End::all;
  int right = 0;        ///< -1, 0, 1: along the eave as seen from outside; in plan along x
  int up = 0;           ///< likewise up the slope; in plan along y
  bool is_far = false;  ///< a run by a bay, all else by 2 ft or 50 cm; else by 1 in or 1 cm
};
/// Puts what the tool in the hand puts: a run along the eave of the selected plane, a vent on the
/// selected line, or in the middle of the selected plane or gable edge.
struct PutHere {};
struct BeginLesson {};
using KeyedIntent = std::variant<StepTo, Nudge, PutHere, BeginLesson>;

}  // namespace ridgeward::panels
