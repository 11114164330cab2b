#include "panels/state.hpp"

#include "base/overloaded.hpp"

#include <algorithm>

namespace ridgeward::panels {
namespace {

std::vector<glm::dvec3> points_of(const scene::Picked& picked, const scene::Scene& scene) {
  std::vector<glm::dvec3> points;
  for (const scene::Face& face : scene.faces) {
    if (face.role == scene::FaceRole::roof && !picked.plane.is_none() &&
        face.plane == picked.plane) {
      for (const scene::Triangle& triangle : face.triangles) {
        points.insert(points.end(), triangle.begin(), triangle.end());
      }
    }
  }
  for (const scene::Stroke& stroke : scene.strokes) {
    if (!picked.line.is_none() && stroke.line == picked.line) {
      points.push_back(stroke.from);
      points.push_back(stroke.to);
    }
  }
  return points;
}

void look_from(State& state, const std::string& word, const scene::Scene& scene,
               const scene::Viewport& viewport) {
  const auto camera = goal(state).is_flat
                          ? scene::looking_flat_from(word, scene.north_deg, scene.along)
                          : scene::looking_from(word, scene.north_deg);
  if (camera) {
    glide_to(state, scene::fitted(camera.value(), scene.corners, viewport, fit_margin));
  }
}

}  // namespace

scene::Camera framed(const State& state, const scene::Scene& scene,
                     const scene::Viewport& viewport) {
  const std::vector<glm::dvec3> points = points_of(state.selected, scene);
  const scene::Camera& camera = goal(state);
  return points.empty() ? scene::fitted(camera, scene.corners, viewport, fit_margin)
                        : scene::fitted(camera, points, viewport, 0.18);
}

State applied(State state, const Intent& intent, const scene::Scene& scene,
              const scene::Viewport& viewport) {
  std::visit(
      Overloaded{
          [&](const SetLayer& ask) { state.layers.set(ask.layer, ask.on); },
          [&](const SetUnits& ask) { state.style = ask.style; },
          [&](const Select& ask) { state.selected = ask.picked; },
          [&](const ShowKeys& ask) { state.keys_shown = ask.on; },
          [&](const LookFrom& ask) { look_from(state, ask.word, scene, viewport); },
          [&](const FrameAll&) {
            glide_to(state, scene::fitted(goal(state), scene.corners, viewport, fit_margin));
          },
          [&](const FrameSelection&) { glide_to(state, framed(state, scene, viewport)); },
          [&](const GoTo& ask) {
            scene::Camera camera = goal(state);
            camera.target = ask.at;
            camera.distance_m = std::min(camera.distance_m, ask.within_m);
            glide_to(state, camera);
          },
          [&](const Orbit& ask) {
            stop_glide(state);
            state.camera = scene::orbited(state.camera, ask.azimuth_rad, ask.elevation_rad);
          },
          [&](const Pan& ask) {
            stop_glide(state);
            state.camera = scene::panned(state.camera, ask.by_px, viewport.height);
          },
          [&](const Zoom& ask) {
            stop_glide(state);
            state.camera = scene::zoomed(state.camera, ask.factor);
          },
          [&](const EditPath& ask) { state.path_text = ask.text; },
          [&](const Open& ask) { state.wants_to_open = ask.path; },
          [&](const AirIntent& ask) { state.air = applied(std::move(state.air), ask); },
          [&](const Close&) { state.wants_to_close = true; },
          [&](const FocusIntent& ask) { apply(state.focus, ask); },
          [&](const SightIntent& ask) { apply(state, ask, scene, viewport); },
          [&](const EditAsk& ask) { state.edit = applied(std::move(state.edit), ask.what()); },
          [&](const RibbonIntent& ask) { apply(state, ask); },
          [&](const LessonIntent& ask) { apply(state, ask, scene, viewport); },
          [&](const KeyedIntent&) {},  // stands for others: follow_up()
      },
      intent);
  return state;
}

}  // namespace ridgeward::panels
