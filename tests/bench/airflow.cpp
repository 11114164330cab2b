// The airflow of each demo house with its standard cases, and of vaults of growing length: each bay
// is a channel, so time should grow as the bays do.
#include "airflow/stage.hpp"
#include "assess.hpp"
#include "model/read.hpp"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

using namespace ridgeward;

namespace {

const std::string models = std::string(RIDGEWARD_SOURCE_DIR) + "/models";

struct Roofed {
  model::Catalogue catalogue;
  Assessment roof;

  airflow::Site site() const {
    return {roof.model, catalogue, roof.surface, roof.framing, roof.attic, roof.vents};
  }
};

Roofed roofed(const model::RoofModel& model) {
  auto catalogue = model::read_catalogue_file(models + "/catalogues/default.json");
  auto code = codes::read_code_set_file(models + "/codes/us-irc-2021.json");
  ensure(catalogue.ok() && code.ok(), "catalogue and code set can be read");
  auto done = assess(model, catalogue.value(), code.value());
  ensure(done.ok(), "the roof can be assessed");
  return {std::move(catalogue).value(), std::move(done).value()};
}

void time_breathe(benchmark::State& state, const std::string& house) {
  auto read = model::read_file(house);
  ensure(read.ok(), "demo houses can be read");
  const Roofed r = roofed(read.value().model);
  for (auto _ : state) {
    benchmark::DoNotOptimize(airflow::breathe(r.site()));
  }
  state.counters["cases"] = static_cast<double>(r.roof.airflow.cases.size());
}

void time_vault(benchmark::State& state) {
  const auto length_ft = std::to_string(state.range(0));
  const std::string box = "[[0, 0], [" + length_ft + ", 0], [" + length_ft + ", 24], [0, 24]]";
  auto read = model::read(
      R"({"ridgeward": 1, "units": "ft", "parts": [{"id": "main", "outline": )" + box +
      R"(, "edges": [{"pitch": "6/12"}, {"kind": "gable"}, {"pitch": "6/12"}, {"kind": "gable"}]}],
      "ceilings": [{"id": "vault", "kind": "sloped", "outline": )" +
      box +
      R"(, "insulation": "5 in"}],
      "vents": {"intake": [{"id": "s", "product": "over-deck-10", "plane": "main/0", "whole": true},
                           {"id": "n", "product": "over-deck-10", "plane": "main/2", "whole": true}],
                "exhaust": [{"id": "top", "product": "ridge-12", "line": "main/0|main/2",
                             "whole": true}]}})");
  ensure(read.ok(), "the vault can be read");
  const Roofed r = roofed(read.value().model);
  for (auto _ : state) {
    benchmark::DoNotOptimize(airflow::breathe(r.site()));
  }
  state.counters["bays"] = static_cast<double>(r.roof.framing.bays.size());
  state.SetComplexityN(static_cast<benchmark::IterationCount>(r.roof.framing.bays.size()));
}
BENCHMARK(time_vault)
    ->Name("breathe_vault")
    ->Arg(40)
    ->Arg(80)
    ->Arg(160)
    ->Arg(320)
    ->Unit(benchmark::kMillisecond)
    ->Complexity(benchmark::oN);

const bool is_registered = [] {
  std::vector<std::filesystem::path> houses;
  for (const auto& entry : std::filesystem::directory_iterator(models + "/houses")) {
    houses.push_back(entry.path());
  }
  std::sort(houses.begin(), houses.end());
  for (const std::filesystem::path& house : houses) {
    benchmark::RegisterBenchmark(("breathe/" + house.stem().stem().string()).c_str(), time_breathe,
                                 house.string())
        ->Unit(benchmark::kMillisecond);
  }
  return true;
}();

}  // namespace
