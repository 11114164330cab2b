// From the start of the program to its first picture, by the clock: it is what a person waits.
// Needs a display, as `xvfb-run -a` gives one.
#include "window/desktop.hpp"

#include <benchmark/benchmark.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <string>

using namespace ridgeward;

namespace {

void start_of_window(benchmark::State& state, const char* house) {
  if (std::getenv("DISPLAY") == nullptr) {
    state.SkipWithError("no display: run it under xvfb-run -a");
    return;
  }
  std::string home = (std::filesystem::temp_directory_path() / "start-XXXXXX").string();
  if (mkdtemp(home.data()) == nullptr) {
    state.SkipWithError("no folder for a home");
    return;
  }
  const std::string model =
      std::string(RIDGEWARD_SOURCE_DIR) + "/models/houses/" + house + ".roof.json";
  for (auto _ : state) {
    const auto from = std::chrono::steady_clock::now();
    test_window::Process program(
        {RIDGEWARD_EXECUTABLE, "view", model, "--ui-dump", home + "/widgets"},
        {"HOME=" + home, "XDG_CONFIG_HOME", "XDG_STATE_HOME"});
    if (program.line(60.0) != "ready") {
      state.SkipWithError("the window did not come");
      break;
    }
    const std::chrono::duration<double> waited = std::chrono::steady_clock::now() - from;
    state.SetIterationTime(waited.count());
  }
  std::filesystem::remove_all(home);
}

}  // namespace

BENCHMARK_CAPTURE(start_of_window, plain, "plain-gable")
    ->Name("start_of_window/plain-gable")
    ->UseManualTime()
    ->Iterations(10)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(start_of_window, quarry, "quarry-rise")
    ->Name("start_of_window/quarry-rise")
    ->UseManualTime()
    ->Iterations(10)
    ->Unit(benchmark::kMillisecond);
