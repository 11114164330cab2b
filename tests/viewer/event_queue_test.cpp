#include "panels/event_queue.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace ridgeward;
using panels::Event;
using panels::EventQueue;

namespace {

Event move(double x) { return {Event::Kind::move, {x, 0}, 0, false}; }
Event button(bool down) { return {Event::Kind::button, {}, 0, down}; }
Event key(int code, bool down) { return {Event::Kind::key, {}, code, down}; }
Event letter(int code) { return {Event::Kind::letter, {}, code, false}; }

// Numbers of GLFW's header.
constexpr int control = 341;
constexpr int shift = 340;
constexpr int backspace = 259;
constexpr int tab = 258;

bool is_typed(const Event& event) {
  return event.kind == Event::Kind::letter || (event.kind == Event::Kind::key && event.down);
}

/// How many frames it takes until something typed comes.
int frames_until_typed(EventQueue& queue, bool is_typing) {
  for (int frames = 0; frames < 20; ++frames) {
    const auto frame = queue.next_frame(is_typing);
    if (std::any_of(frame.begin(), frame.end(), is_typed)) {
      return frames;
    }
  }
  return 20;
}

}  // namespace

TEST_CASE("a click between two frames takes two frames, a drag three") {
  EventQueue queue;
  for (const Event& event : {move(5), button(true), button(false)}) {
    queue.push(event);
  }
  CHECK(queue.next_frame(false).size() == 2);
  CHECK(queue.next_frame(false).size() == 1);
  CHECK(queue.is_empty());
  for (const Event& event : {button(true), move(6), move(7), button(false)}) {
    queue.push(event);
  }
  CHECK(queue.next_frame(false).size() == 1);
  CHECK(queue.next_frame(false).size() == 3);
  CHECK(queue.next_frame(false).empty());
}

TEST_CASE("a click stays where it was made though the mouse has moved on") {
  EventQueue queue;
  for (const Event& event : {move(1), button(true), button(false), move(99)}) {
    queue.push(event);
  }
  CHECK(queue.next_frame(false).front().at.x == 1);
  CHECK(queue.next_frame(false).size() == 1);
  CHECK(queue.next_frame(false).front().at.x == 99);
}

TEST_CASE("a key struck twice between two frames is struck twice") {
  EventQueue queue;
  for (const Event& event : {key('X', true), key('X', false), key('X', true), key('X', false)}) {
    queue.push(event);
  }
  for (const bool down : {true, false, true, false}) {
    const auto frame = queue.next_frame(false);
    REQUIRE(frame.size() == 1);
    CHECK(frame.front().down == down);
  }
  CHECK(queue.is_empty());
}

TEST_CASE("a chord is seen whole before it is let go") {
  EventQueue queue;
  for (const Event& event :
       {key(control, true), key('Q', true), key('Q', false), key(control, false)}) {
    queue.push(event);
  }
  const auto pressed = queue.next_frame(false);
  REQUIRE(pressed.size() == 2);
  CHECK(pressed[0].down);
  CHECK(pressed[1].down);
  CHECK(queue.next_frame(false).size() == 2);
}

TEST_CASE("a key struck twice is seen twice") {
  EventQueue queue;
  for (const bool down : {true, false, true, false}) {
    queue.push({Event::Kind::key, {}, 32, down});
  }
  int presses = 0;
  bool was_down = false;
  while (!queue.is_empty()) {
    bool is_down = was_down;
    for (const Event& event : queue.next_frame(false)) {
      is_down = event.down;
    }
    presses += is_down && !was_down ? 1 : 0;  // as the panels' library looks at it
    was_down = is_down;
  }
  CHECK(presses == 2);
}

TEST_CASE("typing does not wait for frames, its special keys do") {
  EventQueue queue;
  for (const char c : {'A', 'B', 'C'}) {
    queue.push(key(c, true));
    queue.push(letter(c));
    queue.push(key(c, false));
  }
  CHECK(queue.next_frame(true).size() == 9);
  queue.push(key(control, true));
  queue.push(key(control, false));
  CHECK(queue.next_frame(true).size() == 1);
}

TEST_CASE("what is typed right after a click waits until the field has the keys") {
  EventQueue queue;
  for (const Event& event : {move(5), button(true), button(false), key('D', true), letter('d'),
                             key('D', false), key('X', true), letter('x')}) {
    queue.push(event);
  }
  CHECK(queue.next_frame(false).size() == 2);  // the press: the field takes the keys
  CHECK(queue.next_frame(false).size() == 1);  // let go
  // From here on the field says that it is typed into; a dialog asked for by the click is shown
  // one frame later and has its field's keys two later.
  CHECK(frames_until_typed(queue, true) == EventQueue::settling_frames);
  CHECK(queue.is_empty());
}

TEST_CASE("what is typed right after Tab or a chord waits, what is typed on does not") {
  for (const int code : {tab, static_cast<int>('O')}) {
    EventQueue queue;
    if (code != tab) {
      queue.push(key(control, true));
    }
    queue.push(key(code, true));
    queue.push(key(code, false));
    if (code != tab) {
      queue.push(key(control, false));
    }
    queue.push(key('D', true));
    queue.push(letter('d'));
    const auto first = queue.next_frame(true);
    CHECK(first.back().code == code);  // its release comes later, though a field has the keys
    CHECK(frames_until_typed(queue, true) == EventQueue::settling_frames);
  }
  EventQueue queue;
  for (const Event& event : {key(shift, true), key('D', true), letter('D'), key('D', false)}) {
    queue.push(event);
  }
  CHECK(queue.next_frame(true).size() == 4);
}

TEST_CASE("a letter after Backspace comes after it") {
  EventQueue queue;
  for (const Event& event :
       {letter('a'), key(backspace, true), key(backspace, false), letter('b'), letter('c')}) {
    queue.push(event);
  }
  CHECK(queue.next_frame(true).size() == 2);
  CHECK(queue.next_frame(true).size() == 3);
}

TEST_CASE("laws: nothing is lost, nothing reordered, no move after a button") {
  const unsigned seed = 99;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  for (int round = 0; round < 200; ++round) {
    EventQueue queue;
    std::vector<int> sent;
    for (int i = 0; i < 60; ++i) {
      Event event;
      event.kind = static_cast<Event::Kind>(random() % 5);
      event.code = i;
      event.down = random() % 2 == 0;
      sent.push_back(i);
      queue.push(event);
    }
    std::vector<int> got;
    int idle = 0;
    while (!queue.is_empty()) {
      const auto frame = queue.next_frame(random() % 2 == 0);
      // Never longer than a field takes to get the keys.
      idle = frame.empty() ? idle + 1 : 0;
      REQUIRE(idle <= EventQueue::settling_frames);
      bool has_button = false;
      for (const Event& event : frame) {
        const bool is_mouse = event.kind == Event::Kind::move || event.kind == Event::Kind::button;
        CHECK_FALSE((is_mouse && has_button));
        has_button = has_button || event.kind == Event::Kind::button;
        got.push_back(event.code);
      }
    }
    CHECK(got == sent);
  }
}
