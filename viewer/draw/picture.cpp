#include "draw/picture.hpp"

#include "airflow/words.hpp"

#include "draw/gui.hpp"
#include "draw/offscreen.hpp"
#include "draw/renderer.hpp"
#include "draw/target.hpp"
#include "panels/screen.hpp"
#include "scene/from_assessment.hpp"

#include <algorithm>
#include <charconv>
#include <optional>

namespace ridgeward::draw {
namespace {

Fault size_fault(const std::string& text) {
  return {"picture.size", "--size", "'" + text + "' is no size of a picture",
          "width x height in pixels, each from " + std::to_string(least_side_px) + " to " +
              std::to_string(most_side_px) + ", for example 1280x800"};
}

double scale_for(const PictureOrder& order) {
  if (order.scale > 0) {
    return order.scale;
  }
  const double fits = std::min(order.width_px / 1280.0, order.height_px / 800.0);
  return std::clamp(fits, 0.85, 6.0);
}

Result<scene::Camera> camera_for(const scene::Scene& scene, const PictureOrder& order) {
  const std::string from = order.from.value_or("above");
  if (order.is_flat) {
    return scene::looking_flat_from(from, scene.north_deg, scene.along);
  }
  return order.from ? scene::looking_from(from, scene.north_deg) : scene::best_view(scene);
}

/// The case of the air that was asked for, or the usual one.
Result<std::size_t> case_for(const Assessment& assessment, const PictureOrder& order) {
  const airflow::Airflow& air = assessment.airflow;
  if (order.weather.empty()) {
    return scene::usual_case(air);
  }
  const std::size_t index = scene::case_named(air, order.weather);
  if (index < air.cases.size()) {
    return index;
  }
  std::string names;
  for (const airflow::CaseAir& one : air.cases) {
    names += (names.empty() ? "" : ", ") + airflow::case_words(one, order.style);
  }
  return Fault{"picture.weather", "--weather", "no weather begins with '" + order.weather + "'",
               names.empty() ? "this roof has no air space" : "weather of this roof: " + names};
}

std::optional<panels::AirShow> air_for(const Assessment& assessment, const PictureOrder& order,
                                       std::size_t index) {
  if (!order.layers.has(scene::Layer::airflow) || assessment.airflow.cases.empty()) {
    return std::nullopt;
  }
  return panels::shown_air(assessment, index);
}

}  // namespace

Result<Size> parse_size(const std::string& text) {
  Size size;
  const char* end = text.data() + text.size();
  const auto width = std::from_chars(text.data(), end, size.width_px);
  if (width.ec != std::errc() || width.ptr == end || (*width.ptr != 'x' && *width.ptr != 'X')) {
    return size_fault(text);
  }
  const auto height = std::from_chars(width.ptr + 1, end, size.height_px);
  const auto is_good = [](int side) { return side >= least_side_px && side <= most_side_px; };
  if (height.ec != std::errc() || height.ptr != end || !is_good(size.width_px) ||
      !is_good(size.height_px)) {
    return size_fault(text);
  }
  return size;
}

Result<Image> take_picture(const Assessment& assessment, const PictureOrder& order) {
  const scene::Scene scene = scene::from_assessment(assessment);
  const auto air_case = case_for(assessment, order);
  if (!air_case) {
    return air_case.faults();
  }
  auto offscreen = Offscreen::make();
  if (!offscreen) {
    return offscreen.faults();
  }
  Target target;
  target.resize(order.width_px, order.height_px);
  const double scale = scale_for(order);
  const Gui gui(scale, order.is_dark);
  panels::RibbonView ribbon;
  ribbon.is_shown = order.has_ribbon;
  scene::Viewport viewport =
      panels::house_viewport(order.width_px, order.height_px, order.layers, false);
  if (order.has_ribbon) {
    viewport.height = std::max(64.0, viewport.height - panels::ribbon_height(ribbon));
  }
  const auto camera = camera_for(scene, order);
  if (!camera) {
    return camera.faults();
  }
  panels::State state;
  state.has_model = true;
  state.ribbon = ribbon;
  state.layers = order.layers;
  state.style = order.style;
  state.camera = scene::fitted(camera.value(), scene.corners, viewport, panels::fit_margin);
  state.sight.is_dark = order.is_dark;
  state.sight.sun = order.sun;
  if (order.cut.way != scene::CutWay::none) {
    state.sight.cut = scene::opened_towards(order.cut, state.camera, scene);
    state.camera = scene::fitted(state.camera, scene::standing(state.sight.cut, scene), viewport,
                                 panels::fit_margin);
  }
  for (const scene::Face& face : scene.faces) {
    if (order.is_peeled && face.role == scene::FaceRole::roof) {
      state.sight.peeled.push_back(face.plane);
    }
  }
  const std::optional<panels::AirShow> air = air_for(assessment, order, air_case.value());
  Renderer renderer;
  renderer.load(scene);
  // Panels learn their height in the first frame and are settled in the third.
  for (int frame = 0; frame < 3; ++frame) {
    target.bind();
    renderer.draw(view_of(state, scene, viewport, scale), order.width_px, order.height_px);
    Gui::begin(order.width_px, order.height_px);
    panels::Recorder recorder;
    panels::draw_picture(
        {state, assessment, scene, order.width_px, order.height_px, air ? &*air : nullptr},
        recorder);
    Gui::end();
  }
  target.resolve();
  return target.read();
}

}  // namespace ridgeward::draw
