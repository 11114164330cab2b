// One step of a drag on the house of forty planes: from the edit to surface, framing, slots, code
// tests and conflicts, and the text that undo keeps. Everything but the drawing itself; airflow and
// takeoff follow on another thread. The aim is a frame at 60 Hz, 16.7 ms.
#include "assess.hpp"
#include "codes/code_set.hpp"
#include "model/catalogue.hpp"
#include "model/read.hpp"

#include "edit/stage.hpp"

#include <benchmark/benchmark.h>

#include <string>

using namespace ridgeward;

namespace {

const std::string models = std::string(RIDGEWARD_SOURCE_DIR) + "/models";

struct House {
  model::Catalogue catalogue;
  Assessment now;
};

House forty_planes() {
  auto read = model::read_file(models + "/houses/quarry-rise.roof.json");
  auto catalogue = model::read_catalogue_file(models + "/catalogues/default.json");
  ensure(read.ok() && catalogue.ok(), "the demo house and the catalogue can be read");
  auto code =
      codes::read_code_set_file(models + "/codes/" + read.value().model.site.code + ".json");
  ensure(code.ok(), "the code set of a demo house can be read");
  auto now = assess(read.value().model, catalogue.value(), code.value(), Depth::live);
  ensure(now.ok(), "demo houses can be assessed");
  return {std::move(catalogue).value(), std::move(now).value()};
}

/// What the window does at each move of the mouse.
void step(House& house, const edit::Edit& edit) {
  auto edited = edit::edited(house.now.model, edit);
  ensure(edited.ok(), "the drag stays where it may");
  auto now = edit::touches_vents_only(edit)
                 ? reassess(house.now, edited.value().model, house.catalogue, Depth::live)
                 : assess(edited.value().model, house.catalogue, house.now.code, Depth::live);
  ensure(now.ok(), "the drag stays where it may");
  benchmark::DoNotOptimize(model::write(edited.value().model));
  house.now = std::move(now).value();
}

void drag_slot(benchmark::State& state) {
  House house = forty_planes();
  model::IntakeRun run = house.now.model.intake.front();
  const double end_m = run.to_m;
  int count = 0;
  for (auto _ : state) {
    run.to_m = end_m - 0.0254 * (count++ % 12);
    step(house, edit::PutIntake{run});
  }
}

void drag_pitch(benchmark::State& state) {
  House house = forty_planes();
  model::Edge edge = house.now.model.parts.front().edges.front();
  int count = 0;
  for (auto _ : state) {
    edge.pitch = units::Pitch::from_rise_run(9.0 + 0.05 * (count++ % 10), 12.0);
    step(house, edit::SetEdge{house.now.model.parts.front().id, 0, edge});
  }
}

BENCHMARK(drag_slot)->Name("drag_slot/quarry-rise")->Unit(benchmark::kMillisecond);
BENCHMARK(drag_pitch)->Name("drag_pitch/quarry-rise")->Unit(benchmark::kMillisecond);

}  // namespace
