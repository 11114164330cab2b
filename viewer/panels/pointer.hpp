#pragma once
// What the mouse asks of the drawing: pure, no window. Keys: commands.hpp.

#include "panels/state.hpp"

#include <string>
#include <vector>

namespace ridgeward::panels {

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
  /// Keys by their names, with what was held: "X", "Shift+X", "Ctrl+Shift+S", "Page Up".
  std::vector<std::string> pressed;
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
