// Runs all benchmarks, then prints the ratios of the wavefront to the reference library.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <map>
#include <string>

namespace {

class Ratios : public benchmark::ConsoleReporter {
 public:
  void ReportRuns(const std::vector<Run>& runs) override {
    ConsoleReporter::ReportRuns(runs);
    for (const Run& run : runs) {
      times_[run.benchmark_name()] = run.GetAdjustedRealTime();
    }
  }
  void Finalize() override {
    ConsoleReporter::Finalize();
    std::printf("\nreference / wavefront\n");
    for (const auto& [name, time] : times_) {
      const std::string prefix = "wavefront/";
      const auto other =
          times_.find("reference/" + name.substr(std::min(prefix.size(), name.size())));
      if (name.compare(0, prefix.size(), prefix) == 0 && other != times_.end()) {
        std::printf("%6s edges: %.1f times\n", name.substr(prefix.size()).c_str(),
                    other->second / time);
      }
    }
  }

 private:
  std::map<std::string, double> times_;
};

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  Ratios reporter;
  benchmark::RunSpecifiedBenchmarks(&reporter);
  return 0;
}
