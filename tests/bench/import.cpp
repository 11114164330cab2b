// A city, building by building: read in a process of its own, handed over, rebuilt. Buildings a
// second, and the most memory that reading took, which must not grow with the city.
#include "base/fault.hpp"
#include "model/file_bytes.hpp"
#include "model/read.hpp"
#include "plugin/guard.hpp"

#include "rebuild/stage.hpp"

#include <benchmark/benchmark.h>
#include <nlohmann/json.hpp>

#include <string>
#include <sys/resource.h>

using namespace ridgeward;

namespace {

/// The sample's house and shed over and over, 40 m apart, as a CityJSON sequence.
std::string sequence(std::int64_t buildings) {
  const auto sample = model::file_bytes(RIDGEWARD_SOURCE_DIR
                                        "/importers/cityjson/samples/house-and-shed.city.json");
  ensure(sample.ok(), "the sample can be read");
  const nlohmann::json file = nlohmann::json::parse(sample.value());
  nlohmann::json first = file;
  first["CityObjects"] = nlohmann::json::object();
  first["vertices"] = nlohmann::json::array();
  std::string lines = first.dump() + "\n";
  for (std::int64_t i = 0; i < buildings; ++i) {
    const char* kind = i % 2 == 0 ? "house" : "shed";
    nlohmann::json feature{{"type", "CityJSONFeature"}, {"vertices", file["vertices"]}};
    feature["CityObjects"][kind + std::to_string(i)] = file["CityObjects"][kind];
    for (nlohmann::json& corner : feature["vertices"]) {
      corner[0] = corner[0].get<std::int64_t>() + 40000 * (i % 100);
      corner[1] = corner[1].get<std::int64_t>() + 40000 * (i / 100);
    }
    lines += feature.dump() + "\n";
  }
  return lines;
}

void import_city(benchmark::State& state) {
  const std::string city = sequence(state.range(0));
  std::int64_t models = 0;
  for (auto _ : state) {
    const auto notes = plugin::read_each_apart(
        RIDGEWARD_BUILD_DIR "/importers/cityjson.so", {city, "", ""}, {}, [&](std::string json) {
          const auto planes = rebuild::read_planes(json);
          ensure(planes.ok(), "planes can be read");
          const auto rebuilt = rebuild::rebuild(planes.value());
          ensure(rebuilt.ok(), "the building can be rebuilt");
          benchmark::DoNotOptimize(model::write(rebuilt.value().model, -1));
          ++models;
          return true;
        });
    ensure(notes.ok(), "the city can be read");
  }
  state.SetItemsProcessed(models);
  rusage used{};
  getrusage(RUSAGE_CHILDREN, &used);
  state.counters["city_MiB"] = static_cast<double>(city.size()) / 1048576.0;
  // Of all children so far, with what they share with us; the sizes run from small to large.
  state.counters["reader_MiB"] = static_cast<double>(used.ru_maxrss) / 1024.0;
}

BENCHMARK(import_city)
    ->Arg(100)
    ->Arg(1000)
    ->Arg(10000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace
