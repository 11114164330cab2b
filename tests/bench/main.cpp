// Runs all benchmarks, then prints the ratios of what was timed side by side.
#include <benchmark/benchmark.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

namespace {

struct Pair {
  const char* ours;
  const char* theirs;
  const char* counted;
};
/// What is timed side by side, by the name before the slash.
constexpr std::array<Pair, 2> pairs{Pair{"wavefront", "reference", "edges"},
                                    Pair{"unite_and_build", "boolean_union", "parts"}};

/// Prints the ratio of processor times of each pair: other work on the machine stretches the clock,
/// hardly the processor time.
class Ratios : public benchmark::ConsoleReporter {
 public:
  void ReportRuns(const std::vector<Run>& runs) override {
    ConsoleReporter::ReportRuns(runs);
    for (const Run& run : runs) {
      const std::string name = run.benchmark_name();
      const std::size_t slash = name.find('/');
      if (slash != std::string::npos) {
        times_[name.substr(0, slash)][std::atoi(name.c_str() + slash + 1)] =
            run.GetAdjustedCPUTime();
      }
    }
  }
  void Finalize() override {
    ConsoleReporter::Finalize();
    for (const Pair& pair : pairs) {
      const auto& others = times_[pair.theirs];
      for (const auto& [size, time] : times_[pair.ours]) {
        if (const auto other = others.find(size); other != others.end()) {
          std::printf("%5d %s: %s takes %.0f times as long as %s\n", size, pair.counted,
                      pair.theirs, other->second / time, pair.ours);
        }
      }
    }
  }

 private:
  std::map<std::string, std::map<int, double>> times_;
};

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  Ratios reporter;
  benchmark::RunSpecifiedBenchmarks(&reporter);
  return 0;
}
