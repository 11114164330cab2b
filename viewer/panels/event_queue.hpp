#pragma once
// Mouse and key events, handed out frame by frame.
//
// The panels' library looks at mouse and keys once a frame. What happens between two frames would
// be lost or land at the wrong place: a press with its release, a click before a move. So events
// wait here, and every frame gets as many as it can tell apart.

#include <glm/vec2.hpp>

#include <deque>
#include <vector>

namespace ridgeward::panels {

struct Event {
  enum class Kind { move, button, wheel, key, letter };
  Kind kind = Kind::move;
  glm::dvec2 at{0.0};  ///< of a move, in pixels; of a wheel, notches
  int code = 0;        ///< button, key or letter
  bool down = false;   ///< of a button or key
};

class EventQueue {
 public:
  void push(const Event& event) { waiting_.push_back(event); }
  bool is_empty() const { return waiting_.empty(); }

  /// The next frame's events, in their order. `is_typing`: a field had the keys in the last frame;
  /// then printable keys without Ctrl do not count as keys: letters carry the text, and a fast
  /// typist must not wait for frames. Laws:
  /// (1) Nothing is lost or reordered.
  /// (2) No move follows a button in one frame, nor does a second button.
  /// (3) No key's release follows a press, and no press the release of the same key.
  /// (4) What is typed (presses, letters) never shares a frame with what may give the keys to a
  ///     field before it: a button, Tab, Enter, a letter with Ctrl. It waits for `settling_frames`
  ///     more, so that a field that was clicked or asked to take the keys has them by then.
  /// (5) No letter follows another key without one (Backspace, an arrow) in one frame: fields take
  ///     letters first.
  std::vector<Event> next_frame(bool is_typing);

  /// A dialog is shown one frame after it is asked for; its field has the keys one later.
  static constexpr int settling_frames = 2;

 private:
  struct Seen;
  bool must_wait(const Event& event, const Seen& seen) const;
  void note(const Event& event, Seen& seen);

  std::deque<Event> waiting_;
  bool has_control_ = false;  ///< Ctrl is held
  int settling_ = 0;          ///< frames for which typing waits
};

}  // namespace ridgeward::panels
