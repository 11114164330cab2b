// The picture of the largest demo house: making the scene, placing labels, drawing. Without a
// graphics card the drawing is done by the processor.
#include "assess.hpp"
#include "model/catalogue.hpp"
#include "model/read.hpp"

#include "draw/offscreen.hpp"
#include "draw/renderer.hpp"
#include "draw/target.hpp"
#include "scene/from_assessment.hpp"
#include "scene/labels.hpp"
#include "scene/measure.hpp"
#include "scene/pick.hpp"

#include <benchmark/benchmark.h>

#include <string>
#include <utility>

using namespace ridgeward;

namespace {

const scene::Viewport port{0.0, 0.0, 1280.0, 800.0};

const Assessment& quarry_rise() {
  static const Assessment assessment = [] {
    const std::string models = std::string(RIDGEWARD_SOURCE_DIR) + "/models";
    const auto read = model::read_file(models + "/houses/quarry-rise.roof.json");
    const auto catalogue = model::read_catalogue_file(models + "/catalogues/default.json");
    ensure(read.ok() && catalogue.ok(), "demo houses and the catalogue can be read");
    auto made = assess(read.value().model, catalogue.value(), codes::CodeSet{});
    ensure(made.ok(), "demo houses can be assessed");
    return std::move(made).value();
  }();
  return assessment;
}

draw::View view_of(const scene::Scene& house, const scene::Cut& cut) {
  draw::View view;
  view.layers = scene::usual_layers();
  view.layers.set(scene::Layer::insulation, true);
  const scene::Camera camera = scene::fitted(scene::best_view(house), house.corners, port, 0.07);
  view.cut = cut.way == scene::CutWay::none ? cut : scene::opened_towards(cut, camera, house);
  view.lens = {camera, port, scene::half_that_stays(view.cut, house)};
  return view;
}

void scene_of_quarry_rise(benchmark::State& state) {
  const Assessment& assessment = quarry_rise();
  for (auto _ : state) {
    benchmark::DoNotOptimize(scene::from_assessment(assessment));
  }
}

void labels_of_quarry_rise(benchmark::State& state) {
  const scene::Scene house = scene::from_assessment(quarry_rise());
  const draw::View view = view_of(house, {});
  scene::Lettering ink;
  ink.text_of = [](const scene::Label& label) { return std::string(label.words); };
  ink.size_of = [](const std::string&) { return glm::dvec2(60.0, 18.0); };
  for (auto _ : state) {
    benchmark::DoNotOptimize(scene::place_labels(house, view.lens, view.layers, {}, ink));
  }
}

void pointing_at_quarry_rise(benchmark::State& state) {
  const scene::Scene house = scene::from_assessment(quarry_rise());
  const draw::View view = view_of(house, {});
  double x = 300.0;
  for (auto _ : state) {
    x = x > 900.0 ? 300.0 : x + 7.0;
    benchmark::DoNotOptimize(scene::spot_at(house, view.lens, {x, 0.6 * x}, 7.0));
  }
}

void frames(benchmark::State& state, const scene::Cut& cut) {
  const scene::Scene house = scene::from_assessment(quarry_rise());
  auto offscreen = draw::Offscreen::make();
  if (!offscreen) {
    state.SkipWithError("no OpenGL without a display here");
    return;
  }
  draw::Target target;
  target.resize(1280, 800);
  draw::Renderer renderer;
  renderer.load(house);
  const draw::View view = view_of(house, cut);
  for (auto _ : state) {
    target.bind();
    renderer.draw(view, 1280, 800);
    target.resolve();
    benchmark::DoNotOptimize(target.read());
  }
}

void frame_of_quarry_rise(benchmark::State& state) { frames(state, {}); }
void cut_frame_of_quarry_rise(benchmark::State& state) {
  frames(state, {scene::CutWay::level, 0.6, false});
}

BENCHMARK(scene_of_quarry_rise)->Unit(benchmark::kMillisecond);
BENCHMARK(labels_of_quarry_rise)->Unit(benchmark::kMillisecond);
BENCHMARK(pointing_at_quarry_rise)->Unit(benchmark::kMillisecond);
BENCHMARK(frame_of_quarry_rise)->Unit(benchmark::kMillisecond);
BENCHMARK(cut_frame_of_quarry_rise)->Unit(benchmark::kMillisecond);

}  // namespace
