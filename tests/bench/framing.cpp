// Framing alone: the house of forty planes, and hip roofs of more and more members.
#include "attic/stage.hpp"
#include "framing/cut_list.hpp"
#include "framing/stage.hpp"
#include "model/read.hpp"
#include "surface/stage.hpp"

#include <benchmark/benchmark.h>

#include <string>

using namespace ridgeward;

namespace {

struct Raised {
  model::RoofModel model;
  surface::Surface surface;
};

Raised raised(model::RoofModel model) {
  auto surface = surface::raise(model);
  ensure(surface.ok(), "houses to be timed can be raised");
  return {std::move(model), std::move(surface).value()};
}

Raised quarry_rise() {
  auto read =
      model::read_file(std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/quarry-rise.roof.json");
  ensure(read.ok(), "demo houses can be read");
  return raised(std::move(read).value().model);
}

/// A hip roof 24 ft wide whose eaves carry about `rafters` rafters at 16 in.
Raised hip_of(std::int64_t rafters, model::FramingKind kind) {
  model::RoofModel model;
  model::Part part;
  part.id = "main";
  const double length_m = 0.5 * static_cast<double>(rafters) * 16.0 * units::inch_m;
  const double width_m = 24.0 * units::foot_m;
  part.outline = {{0, 0}, {length_m, 0}, {length_m, width_m}, {0, width_m}};
  for (int i = 0; i < 4; ++i) {
    model::Edge edge;
    edge.pitch = units::Pitch::from_rise_run(8, 12);
    edge.overhang_m = units::foot_m;
    part.edges.push_back(edge);
  }
  part.framing.spacing_m = 16.0 * units::inch_m;
  part.framing.kind = kind;
  part.framing.blocking = model::Blocking::vented;
  model.parts = {part};
  return raised(std::move(model));
}

void frame_forty_planes(benchmark::State& state) {
  const Raised house = quarry_rise();
  std::size_t members = 0;
  for (auto _ : state) {
    const framing::Framing framing = framing::frame(house.model, house.surface);
    members = framing.members.size();
    benchmark::DoNotOptimize(&framing);
  }
  state.counters["members"] = static_cast<double>(members);
}
BENCHMARK(frame_forty_planes)->Unit(benchmark::kMillisecond);

void frame_and_divide_forty_planes(benchmark::State& state) {
  const Raised house = quarry_rise();
  for (auto _ : state) {
    const framing::Framing framing = framing::frame(house.model, house.surface);
    const auto attic = attic::divide(house.model, house.surface, framing);
    benchmark::DoNotOptimize(&attic);
  }
}
BENCHMARK(frame_and_divide_forty_planes)->Unit(benchmark::kMillisecond);

void frame_hip(benchmark::State& state) {
  const Raised house = hip_of(state.range(0), model::FramingKind::rafter);
  for (auto _ : state) {
    benchmark::DoNotOptimize(framing::frame(house.model, house.surface));
  }
  state.SetComplexityN(state.range(0));
}
BENCHMARK(frame_hip)
    ->RangeMultiplier(2)
    ->Range(128, 4096)
    ->Complexity(benchmark::oN)
    ->Unit(benchmark::kMillisecond);

void frame_hip_of_trusses(benchmark::State& state) {
  const Raised house = hip_of(state.range(0), model::FramingKind::truss);
  for (auto _ : state) {
    benchmark::DoNotOptimize(framing::frame(house.model, house.surface));
  }
  state.SetComplexityN(state.range(0));
}
BENCHMARK(frame_hip_of_trusses)
    ->RangeMultiplier(2)
    ->Range(128, 4096)
    ->Complexity(benchmark::oN)
    ->Unit(benchmark::kMillisecond);

void list_cuts(benchmark::State& state) {
  const Raised house = hip_of(state.range(0), model::FramingKind::rafter);
  const framing::Framing framing = framing::frame(house.model, house.surface);
  for (auto _ : state) {
    benchmark::DoNotOptimize(framing::cut_list(framing));
  }
  state.SetComplexityN(state.range(0));
}
BENCHMARK(list_cuts)->RangeMultiplier(2)->Range(128, 4096)->Complexity()->Unit(
    benchmark::kMillisecond);

}  // namespace
