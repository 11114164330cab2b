// The main job on each demo house: from the model to the assessment, without reading files and
// without a solid.
#include "assess.hpp"

#include "attic/stage.hpp"
#include "codes/code_set.hpp"
#include "framing/stage.hpp"
#include "model/catalogue.hpp"
#include "model/read.hpp"
#include "papers/json.hpp"
#include "placement/stage.hpp"
#include "surface/stage.hpp"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

using namespace ridgeward;

namespace {

const std::string models = std::string(RIDGEWARD_SOURCE_DIR) + "/models";

/// Everything that is read before the clock runs.
struct Input {
  model::RoofModel model;
  model::Catalogue catalogue;
  codes::CodeSet code;
};

Input input_of(const std::string& house) {
  auto read = model::read_file(house);
  auto catalogue = model::read_catalogue_file(models + "/catalogues/default.json");
  ensure(read.ok() && catalogue.ok(), "demo houses and the catalogue can be read");
  auto code =
      codes::read_code_set_file(models + "/codes/" + read.value().model.site.code + ".json");
  ensure(code.ok(), "the code set of a demo house can be read");
  return {std::move(read).value().model, std::move(catalogue).value(), std::move(code).value()};
}

void time_assess(benchmark::State& state, const std::string& house) {
  const Input input = input_of(house);
  for (auto _ : state) {
    const auto assessment = assess(input.model, input.catalogue, input.code);
    ensure(assessment.ok(), "demo houses can be assessed");
    benchmark::DoNotOptimize(&assessment);
  }
}

/// Framing, bays, spaces and compartments of a surface that stands.
void time_framing_and_attic(benchmark::State& state, const std::string& house) {
  const Input input = input_of(house);
  const auto surface = surface::raise(input.model);
  ensure(surface.ok(), "demo houses have a surface");
  for (auto _ : state) {
    const framing::Framing framing = framing::frame(input.model, surface.value());
    const auto attic = attic::divide(input.model, surface.value(), framing);
    ensure(attic.ok(), "demo houses can be divided");
    benchmark::DoNotOptimize(&attic);
  }
}

void time_json(benchmark::State& state, const std::string& house) {
  const Input input = input_of(house);
  const auto assessment = assess(input.model, input.catalogue, input.code);
  ensure(assessment.ok(), "demo houses can be assessed");
  for (auto _ : state) {
    benchmark::DoNotOptimize(papers::to_json(assessment.value(), -1));
  }
}

/// Vents placed in the stead of the house's own.
void time_place(benchmark::State& state, const std::string& house) {
  const Input input = input_of(house);
  for (auto _ : state) {
    const auto placement = placement::place(input.model, input.catalogue, input.code);
    ensure(placement.ok() && placement.value().is_met, "demo houses can be given vents");
    benchmark::DoNotOptimize(&placement);
  }
}

const bool is_registered = [] {
  std::vector<std::filesystem::path> houses;
  for (const auto& entry : std::filesystem::directory_iterator(models + "/houses")) {
    houses.push_back(entry.path());
  }
  std::sort(houses.begin(), houses.end());
  for (const std::filesystem::path& house : houses) {
    const std::string name = house.stem().stem().string();
    benchmark::RegisterBenchmark(("assess/" + name).c_str(), time_assess, house.string())
        ->Unit(benchmark::kMillisecond);
    benchmark::RegisterBenchmark(("framing_and_attic/" + name).c_str(), time_framing_and_attic,
                                 house.string())
        ->Unit(benchmark::kMillisecond);
    benchmark::RegisterBenchmark(("place/" + name).c_str(), time_place, house.string())
        ->Unit(benchmark::kMillisecond);
    benchmark::RegisterBenchmark(("to_json/" + name).c_str(), time_json, house.string())
        ->Unit(benchmark::kMillisecond);
  }
  return true;
}();

}  // namespace
