#include "panels/event_queue.hpp"

#include <algorithm>

namespace ridgeward::panels {
namespace {

// Numbers of the window's keys; below the first special one lie the printable ones.
constexpr int first_special_key = 256;
constexpr int enter_key = 257;
constexpr int tab_key = 258;
constexpr int keypad_enter_key = 335;
constexpr int first_modifier_key = 340;
constexpr int left_control_key = 341;
constexpr int right_control_key = 345;
constexpr int last_modifier_key = 347;

bool is_press(const Event& event) { return event.kind == Event::Kind::key && event.down; }
bool is_printable(const Event& event) { return event.code < first_special_key; }
bool is_modifier(const Event& event) {
  return event.code >= first_modifier_key && event.code <= last_modifier_key;
}
/// What a field may take in.
bool is_typed(const Event& event) {
  return event.kind == Event::Kind::letter || (is_press(event) && !is_modifier(event));
}

}  // namespace

/// What a frame holds so far.
struct EventQueue::Seen {
  bool is_typing = false;
  bool has_button = false;
  bool has_press = false;
  bool may_give_keys = false;  ///< to a field
  bool has_special = false;    ///< a key without a letter
  std::vector<int> released;

  /// Looked at as a key, not only as the cause of a letter.
  bool is_key(const Event& event, bool has_control) const {
    return event.kind == Event::Kind::key && !(is_typing && is_printable(event) && !has_control);
  }
};

bool EventQueue::must_wait(const Event& event, const Seen& seen) const {
  const bool is_mouse = event.kind == Event::Kind::move || event.kind == Event::Kind::button;
  if (is_mouse) {
    return seen.has_button;
  }
  if (is_typed(event) && (settling_ > 0 || seen.may_give_keys || seen.has_special)) {
    return true;
  }
  if (!seen.is_key(event, has_control_)) {
    return false;
  }
  if (!event.down) {
    return seen.has_press;
  }
  // Let go and struck again between two looks it would seem held all along.
  return std::count(seen.released.begin(), seen.released.end(), event.code) > 0;
}

void EventQueue::note(const Event& event, Seen& seen) {
  if (event.kind == Event::Kind::button) {
    seen.has_button = seen.may_give_keys = true;
  }
  if (event.kind != Event::Kind::key) {
    return;
  }
  if (event.code == left_control_key || event.code == right_control_key) {
    has_control_ = event.down;
  }
  if (seen.is_key(event, has_control_)) {
    seen.has_press = seen.has_press || event.down;
    if (!event.down) {
      seen.released.push_back(event.code);
    }
  }
  if (is_press(event) && !is_modifier(event)) {
    const bool is_chord = has_control_ && is_printable(event);
    const bool moves_on =
        event.code == tab_key || event.code == enter_key || event.code == keypad_enter_key;
    seen.may_give_keys = seen.may_give_keys || is_chord || moves_on;
    seen.has_special = seen.has_special || !is_printable(event);
  }
}

std::vector<Event> EventQueue::next_frame(bool is_typing) {
  std::vector<Event> frame;
  Seen seen;
  seen.is_typing = is_typing;
  while (!waiting_.empty() && !must_wait(waiting_.front(), seen)) {
    note(waiting_.front(), seen);
    frame.push_back(waiting_.front());
    waiting_.pop_front();
  }
  settling_ = seen.may_give_keys ? settling_frames : std::max(0, settling_ - 1);
  return frame;
}

}  // namespace ridgeward::panels
