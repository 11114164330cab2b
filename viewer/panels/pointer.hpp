#pragma once
// What mouse and keys ask of the drawing: pure, no window.

#include "panels/state.hpp"

namespace ridgeward::panels {

enum class Key {
  frame,
  fit,
  clear,
  help,
  units,
  air,       ///< shown or not
  air_play,  ///< moving or not
  air_case,  ///< the next weather
  quit,
  turn_left,
  turn_right,
  turn_up,
  turn_down,
  pad_1,
  pad_2,
  pad_3,
  pad_4,
  pad_5,
  pad_6,
  pad_7,
  pad_8,
  pad_9,
  flat,
  cut,
  cut_back,
  cut_on,
  peel,
  measure,
  lengths,
  sun,
  dark,
  large
};

/// A letter ('Z') or the Delete key that was pressed, with what was held.
struct Chord {
  char letter = 0;
  bool control = false;
  bool shift = false;
  bool is_delete = false;
};

/// Mouse and keys of one frame.
struct Input {
  glm::dvec2 at{0.0};  ///< pixels of the window
  bool left_down = false;
  bool right_down = false;
  bool middle_down = false;
  bool shift = false;
  double wheel = 0.0;       ///< notches, away from the person positive
  bool over_panel = false;  ///< the pointer belongs to a panel
  bool typing = false;      ///< the keys belong to a text field
  std::vector<Key> pressed;
  std::vector<Chord> chords;
};

/// What the mouse is in the middle of.
struct Pointer {
  enum class Doing { nothing, pressing, turning, moving, cutting };
  Doing doing = Doing::nothing;
  glm::dvec2 start{0.0};
  glm::dvec2 last{0.0};
  bool was_down = false;
};

/// A press that lets go within this distance is a click.
inline constexpr double click_reach_px = 4.0;

/// Moves `pointer` on by one frame and says what was asked for. A drag that starts on a panel asks
/// nothing; one that starts on the drawing goes on over panels.
Intents follow(Pointer& pointer, const Input& input, const State& state, const scene::Scene& scene,
               const scene::Viewport& viewport);

}  // namespace ridgeward::panels
