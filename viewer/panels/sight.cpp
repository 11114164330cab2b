#include "panels/sight.hpp"

#include "base/overloaded.hpp"

#include "panels/state.hpp"

#include <algorithm>
#include <cmath>

namespace ridgeward::panels {
namespace {

void peel(State& state, const scene::Scene& scene) {
  std::vector<PlaneId>& peeled = state.sight.peeled;
  const PlaneId plane = state.selected.plane;
  if (plane.is_none()) {
    const bool is_any = !peeled.empty();
    peeled.clear();
    for (const scene::Face& face : scene.faces) {
      if (!is_any && face.role == scene::FaceRole::roof) {
        peeled.push_back(face.plane);
      }
    }
    return;
  }
  const auto found = std::find(peeled.begin(), peeled.end(), plane);
  if (found == peeled.end()) {
    peeled.push_back(plane);
  } else {
    peeled.erase(found);
  }
}

void set_flat(State& state, bool on, const scene::Scene& scene, const scene::Viewport& viewport) {
  scene::Camera camera = goal(state);
  if (camera.is_flat == on) {
    return;
  }
  if (on) {
    // The elevation or the plan nearest to how the house is looked at.
    const std::string word = scene::direction_word(camera, scene.north_deg);
    if (const auto flat = scene::looking_flat_from(word, scene.north_deg, scene.along)) {
      camera = flat.value();
    }
  } else {
    camera.is_flat = false;
    camera.elevation_rad = std::clamp(camera.elevation_rad, 0.58, 1.2);
  }
  glide_to(state, scene::fitted(camera, scene.corners, viewport, fit_margin));
}

void set_cut(State& state, const scene::Cut& cut) {
  // Whoever cuts a house open wants to see what lies in it.
  if (state.sight.cut.way == scene::CutWay::none) {
    state.layers.set(scene::Layer::ceiling, true);
    state.layers.set(scene::Layer::insulation, true);
  }
  state.sight.cut = cut;
}

}  // namespace

void apply(State& state, const SightIntent& intent, const scene::Scene& scene,
           const scene::Viewport& viewport) {
  Sight& sight = state.sight;
  std::visit(
      Overloaded{
          [&](const SetFlat& ask) { set_flat(state, ask.on, scene, viewport); },
          [&](const SetCut& ask) { set_cut(state, ask.cut); },
          [&](const NextCut&) { set_cut(state, next_cut(state, scene)); },
          [&](const CutOpen& ask) {
            set_cut(state, scene::opened_towards({ask.way, 0.5, false}, state.camera, scene));
          },
          [&](const MoveCut& ask) { sight.cut = scene::moved(sight.cut, ask.by_m, scene); },
          [&](const SetSun& ask) { sight.sun = ask.sun; },
          [&](const Peel&) { peel(state, scene); },
          [&](const SetMeasuring& ask) { sight.is_measuring = ask.on; },
          [&](const MeasureAt& ask) {
            sight.measure = scene::clicked(sight.measure, ask.spot, sight.is_measuring);
          },
          [&](const ClearMeasure&) { sight.measure = {}; },
          [&](const PointAt& ask) {
            sight.pointed = ask.spot;
            sight.pointed_px = ask.at_px;
          },
          [&](const SetDark& ask) { sight.is_dark = ask.on; },
          [&](const SetLarge& ask) { sight.is_large = ask.on; },
          [&](const SetStill& ask) {
            sight.is_still = ask.on;
            state.air.plays = state.air.plays && !ask.on;
            if (ask.on && sight.glide) {
              state.camera = sight.glide->to;
              sight.glide.reset();
            }
          },
      },
      intent);
}

void glide_to(State& state, const scene::Camera& camera, double takes_s) {
  if (state.sight.is_still) {
    state.sight.glide.reset();
    state.camera = camera;
  } else {
    state.sight.glide = Glide{state.camera, camera, 0.0, takes_s};
  }
}

const scene::Camera& goal(const State& state) {
  return state.sight.glide ? state.sight.glide->to : state.camera;
}

void stop_glide(State& state) { state.sight.glide.reset(); }

bool advance(State& state, double by_s) {
  if (!state.sight.glide) {
    return false;
  }
  Glide& glide = *state.sight.glide;
  glide.done = std::min(1.0, glide.done + by_s / glide.takes_s);
  state.camera = scene::between(glide.from, glide.to, scene::eased(glide.done));
  if (glide.done >= 1.0) {
    state.sight.glide.reset();
  }
  return true;
}

scene::Lens lens_of(const State& state, const scene::Scene& scene,
                    const scene::Viewport& viewport) {
  return {state.camera, viewport, scene::half_that_stays(state.sight.cut, scene)};
}

void forget_house(State& state) {
  state.sight.peeled.clear();
  state.sight.measure = {};
  state.sight.pointed.reset();
  state.sight.glide.reset();
}

scene::Cut next_cut(const State& state, const scene::Scene& scene) {
  scene::Cut cut;
  cut.way = static_cast<scene::CutWay>((static_cast<int>(state.sight.cut.way) + 1) % 4);
  return cut.way == scene::CutWay::none ? cut : scene::opened_towards(cut, state.camera, scene);
}

}  // namespace ridgeward::panels
