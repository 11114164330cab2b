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
    print_ratios("wavefront/", "reference/", "edges");
    print_ratios("unite_and_build/", "boolean_union/", "parts");
  }

 private:
  /// How many times longer `theirs` took than `ours` at the same size.
  void print_ratios(const std::string& ours, const std::string& theirs, const char* what) const {
    std::map<int, double> ratios;
    for (const auto& [name, time] : times_) {
      if (name.compare(0, ours.size(), ours) != 0) {
        continue;
      }
      const std::string size = name.substr(ours.size());
      const auto other = times_.find(theirs + size);
      if (other != times_.end()) {
        ratios[std::stoi(size)] = other->second / time;
      }
    }
    if (!ratios.empty()) {
      std::printf("\n%s over %s\n", theirs.c_str(), ours.c_str());
    }
    for (const auto& [size, ratio] : ratios) {
      std::printf("%6d %s: %.1f times\n", size, what, ratio);
    }
  }

  std::map<std::string, double> times_;
};

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  Ratios reporter;
  benchmark::RunSpecifiedBenchmarks(&reporter);
  return 0;
}
