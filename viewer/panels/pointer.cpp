#include "panels/pointer.hpp"

#include <glm/geometric.hpp>

#include <array>
#include <cmath>

namespace ridgeward::panels {
namespace {

constexpr double turn_per_px = 0.0065;
constexpr double turn_per_key = 0.13;
constexpr double zoom_per_notch = 0.88;
constexpr double line_reach_px = 7.0;

void add_key(Key key, const State& state, Intents& intents) {
  // As the keys lie on a number pad: south at the bottom.
  constexpr std::array<const char*, 9> pad{"south-west", "south", "south-east",
                                           "west",       "above", "east",
                                           "north-west", "north", "north-east"};
  switch (key) {
    case Key::frame:
      intents.emplace_back(FrameSelection{});
      return;
    case Key::fit:
      intents.emplace_back(FrameAll{});
      return;
    case Key::clear:
      if (state.keys_shown) {
        intents.emplace_back(ShowKeys{false});
      } else {
        intents.emplace_back(Select{});
      }
      return;
    case Key::help:
      intents.emplace_back(ShowKeys{!state.keys_shown});
      return;
    case Key::units:
      intents.emplace_back(SetUnits{state.style == units::Style::metric ? units::Style::feet_inches
                                                                        : units::Style::metric});
      return;
    case Key::air:
      intents.emplace_back(
          SetLayer{scene::Layer::airflow, !state.layers.has(scene::Layer::airflow)});
      return;
    case Key::air_play:
      intents.emplace_back(play_air(!state.air.plays));
      return;
    case Key::air_case:
      intents.emplace_back(choose_air(state.air.chosen ? *state.air.chosen + 1 : 0));
      return;
    case Key::quit:
      intents.emplace_back(Close{});
      return;
    case Key::turn_left:
      intents.emplace_back(Orbit{turn_per_key, 0.0});
      return;
    case Key::turn_right:
      intents.emplace_back(Orbit{-turn_per_key, 0.0});
      return;
    case Key::turn_up:
      intents.emplace_back(Orbit{0.0, turn_per_key});
      return;
    case Key::turn_down:
      intents.emplace_back(Orbit{0.0, -turn_per_key});
      return;
    default:
      intents.emplace_back(
          LookFrom{pad[static_cast<std::size_t>(key) - static_cast<std::size_t>(Key::pad_1)]});
  }
}

void press(Pointer& pointer, const Input& input) {
  pointer.start = pointer.last = input.at;
  const bool moves = input.right_down || input.middle_down || input.shift;
  pointer.doing = input.over_panel ? Pointer::Doing::nothing
                  : moves          ? Pointer::Doing::moving
                                   : Pointer::Doing::pressing;
}

void drag(Pointer& pointer, const Input& input, Intents& intents) {
  if (pointer.doing == Pointer::Doing::pressing &&
      glm::length(input.at - pointer.start) > click_reach_px) {
    pointer.doing = Pointer::Doing::turning;
  }
  const glm::dvec2 step = input.at - pointer.last;
  if (step != glm::dvec2(0.0) && pointer.doing == Pointer::Doing::turning) {
    intents.emplace_back(Orbit{step.x * turn_per_px, step.y * turn_per_px});
  }
  if (step != glm::dvec2(0.0) && pointer.doing == Pointer::Doing::moving) {
    intents.emplace_back(Pan{step});
  }
  if (pointer.doing != Pointer::Doing::pressing) {
    pointer.last = input.at;
  }
}

}  // namespace

Intents follow(Pointer& pointer, const Input& input, const State& state, const scene::Scene& scene,
               const scene::Viewport& viewport) {
  Intents intents;
  const bool is_down = input.left_down || input.right_down || input.middle_down;
  if (is_down && !pointer.was_down) {
    press(pointer, input);
  } else if (is_down) {
    drag(pointer, input, intents);
  } else if (pointer.was_down) {
    drag(pointer, input, intents);
    if (pointer.doing == Pointer::Doing::pressing) {
      intents.emplace_back(
          Select{scene::pick(scene, {state.camera, viewport}, pointer.start, line_reach_px)});
    }
    pointer.doing = Pointer::Doing::nothing;
  }
  pointer.was_down = is_down;
  if (input.wheel != 0.0 && !input.over_panel) {
    intents.emplace_back(Zoom{std::pow(zoom_per_notch, input.wheel)});
  }
  for (const Key key : input.pressed) {
    if (!input.typing) {
      add_key(key, state, intents);
    }
  }
  return intents;
}

}  // namespace ridgeward::panels
