#include "panels/pointer.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::panels {
namespace {

constexpr double turn_per_px = 0.0065;
constexpr double zoom_per_notch = 0.88;
constexpr double line_reach_px = 7.0;
constexpr double handle_reach_px = 14.0;

/// The cutting plane follows the pointer along its normal, as that appears on the picture.
void drag_cut(glm::dvec2 step, const scene::Lens& lens, const State& state,
              const scene::Scene& scene, Intents& intents) {
  scene::Cut further = state.sight.cut;
  const glm::dvec3 from = scene::handle(further, scene);
  const auto [low, high] = scene::extent(further, scene);
  further.share += 0.01;
  const auto a = lens.pixel(from);
  const auto b = lens.pixel(scene::handle(further, scene));
  if (!a || !b || high <= low) {
    return;
  }
  const glm::dvec2 way = (*b - *a) / (0.01 * (high - low));  // pixels for a metre
  const double squared = glm::dot(way, way);
  // A plane that is looked at square on can't be dragged along the line of sight: up is onward.
  const double by_m = squared > 4.0 ? glm::dot(step, way) / squared : -step.y / lens.px_per_m();
  intents.emplace_back(MoveCut{by_m});
}

/// What lies under a pointer that presses nothing.
void point(const Input& input, const Pointer& pointer, const State& state,
           const scene::Scene& scene, const scene::Lens& lens, Intents& intents) {
  const scene::Viewport& port = lens.viewport;
  const bool is_on_drawing = !input.over_panel && input.at.x >= port.x && input.at.y >= port.y &&
                             input.at.x < port.x + port.width && input.at.y < port.y + port.height;
  const bool is_same = input.at == state.sight.pointed_px && !state.sight.glide;
  if (is_same || pointer.doing != Pointer::Doing::nothing) {
    return;
  }
  std::optional<scene::Spot> spot;
  if (is_on_drawing) {
    spot = scene::spot_at(scene, lens, input.at, line_reach_px);
  }
  if (spot && !spot->is_on_line() && !state.sight.is_measuring) {
    spot.reset();
  }
  if (spot || state.sight.pointed) {
    intents.emplace_back(PointAt{spot, input.at});
  }
}

void click(const Pointer& pointer, const State& state, const scene::Scene& scene,
           const scene::Lens& lens, Intents& intents) {
  if (!state.sight.is_measuring) {
    intents.emplace_back(Select{scene::pick(scene, lens, pointer.start, line_reach_px)});
  }
  if (const auto spot = scene::spot_at(scene, lens, pointer.start, line_reach_px)) {
    intents.emplace_back(MeasureAt{*spot});
  }
}

void press(Pointer& pointer, const Input& input, const State& state, const scene::Scene& scene,
           const scene::Lens& lens) {
  pointer.start = pointer.last = input.at;
  if (!input.over_panel && lens.keeps) {
    const auto at = lens.pixel(scene::handle(state.sight.cut, scene));
    if (at && glm::length(*at - input.at) < handle_reach_px) {
      pointer.doing = Pointer::Doing::cutting;
      return;
    }
  }
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
  const scene::Lens lens = lens_of(state, scene, viewport);
  if (pointer.was_down && pointer.doing == Pointer::Doing::cutting) {
    // The last move may come in the very frame in which the button is let go.
    drag_cut(input.at - pointer.last, lens, state, scene, intents);
    pointer.last = input.at;
    pointer.doing = is_down ? Pointer::Doing::cutting : Pointer::Doing::nothing;
  } else if (is_down && !pointer.was_down) {
    press(pointer, input, state, scene, lens);
  } else if (is_down) {
    drag(pointer, input, intents);
  } else if (pointer.was_down) {
    drag(pointer, input, intents);
    if (pointer.doing == Pointer::Doing::pressing) {
      click(pointer, state, scene, lens, intents);
    }
    pointer.doing = Pointer::Doing::nothing;
  } else {
    point(input, pointer, state, scene, lens, intents);
  }
  pointer.was_down = is_down;
  if (input.wheel != 0.0 && !input.over_panel) {
    intents.emplace_back(Zoom{std::pow(zoom_per_notch, input.wheel)});
  }
  return intents;
}

}  // namespace ridgeward::panels
