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

  /// The next frame's events, in their order. Laws: nothing is lost or reordered; no move follows
  /// a button in one frame; no second button; no key's release follows a press, nor a key's press
  /// its own release, unless `is_typing` (then letters carry the text, and a fast typist must not
  /// wait for frames) and the key is a printable one.
  std::vector<Event> next_frame(bool is_typing);

 private:
  std::deque<Event> waiting_;
};

}  // namespace ridgeward::panels
