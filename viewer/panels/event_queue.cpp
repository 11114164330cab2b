#include "panels/event_queue.hpp"

#include <algorithm>

namespace ridgeward::panels {
namespace {

constexpr int first_special_key = 256;  // below lie the printable ones

bool is_printable(const Event& event) { return event.code < first_special_key; }

}  // namespace

std::vector<Event> EventQueue::next_frame(bool is_typing) {
  std::vector<Event> frame;
  bool has_button = false;
  bool has_press = false;
  while (!waiting_.empty()) {
    const Event& event = waiting_.front();
    const bool is_mouse = event.kind == Event::Kind::move || event.kind == Event::Kind::button;
    if (is_mouse && has_button) {
      break;
    }
    const bool is_key = event.kind == Event::Kind::key && !(is_typing && is_printable(event));
    if (is_key && !event.down && has_press) {
      break;
    }
    const bool is_again =
        is_key && event.down && std::any_of(frame.begin(), frame.end(), [&](const Event& before) {
          return before.kind == Event::Kind::key && before.code == event.code;
        });
    if (is_again) {
      break;  // let go and pressed within one frame would look like held
    }
    has_button = has_button || event.kind == Event::Kind::button;
    has_press = has_press || (is_key && event.down);
    frame.push_back(event);
    waiting_.pop_front();
  }
  return frame;
}

}  // namespace ridgeward::panels
