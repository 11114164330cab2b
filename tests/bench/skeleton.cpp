// The wavefront beside the straight skeleton of CGAL (EPICK), equal pitches, in one run.
// The last table printed gives the ratios.
#include "surface/skeleton.hpp"

#include "surface/drip.hpp"

#include "support/cgal_skeleton.hpp"
#include "support/plans.hpp"

#include <benchmark/benchmark.h>

#include <chrono>
#include <cmath>
#include <map>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

/// House-like outlines with exactly `corners` corners, on the inch grid.
Loops house_plan(std::size_t corners, std::uint64_t seed) {
  std::mt19937_64 rng(seed);
  for (;;) {
    const int cells = std::uniform_int_distribution<int>(2, static_cast<int>(corners))(rng);
    const int size = 4 + static_cast<int>(std::sqrt(static_cast<double>(corners)) * 1.5);
    Loops loops = random_rectilinear(rng, cells, size, inch, 300);
    if (loops.size() == 1 && loops[0].size() == corners) {
      return loops;
    }
  }
}

/// A star with random rays: half of its corners look inward.
Loops star_plan(std::size_t corners, std::uint64_t seed) {
  std::mt19937_64 rng(seed);
  std::uniform_real_distribution<double> radius(8.0, 20.0);
  Loops loops(1);
  for (std::size_t i = 0; i < corners; ++i) {
    const double a = 2 * M_PI * static_cast<double>(i) / static_cast<double>(corners);
    const double r = radius(rng);
    loops[0].emplace_back(r * std::cos(a), r * std::sin(a));
  }
  return loops;
}

std::vector<Loops> plans(std::size_t corners) {
  std::vector<Loops> all;
  const std::size_t count = corners <= 64 ? 20 : 2;
  for (std::size_t i = 0; i < count; ++i) {
    all.push_back(corners <= 64 ? house_plan(corners, 100 + i) : star_plan(corners, 100 + i));
  }
  return all;
}

surface::Plan as_plan(const Loops& loops) {
  std::mt19937_64 rng(1);
  const model::RoofModel m = random_house(rng, loops, {0.0, {12}});
  return surface::lay_out_drip(m.parts[0], surface::mend(m.parts)[0], "").value().plan;
}

void wavefront(benchmark::State& state) {
  std::vector<surface::Plan> all;
  for (const Loops& loops : plans(static_cast<std::size_t>(state.range(0)))) {
    all.push_back(as_plan(loops));
  }
  for (auto _ : state) {
    for (const surface::Plan& plan : all) {
      benchmark::DoNotOptimize(surface::raise_wavefront(plan));
    }
  }
  state.counters["per_plan"] = benchmark::Counter(
      static_cast<double>(all.size()),
      benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

void reference(benchmark::State& state) {
  const std::vector<Loops> all = plans(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) {
    for (const Loops& loops : all) {
      benchmark::DoNotOptimize(reference_faces(loops));
    }
  }
  state.counters["per_plan"] = benchmark::Counter(
      static_cast<double>(all.size()),
      benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

BENCHMARK(wavefront)->Arg(8)->Arg(16)->Arg(32)->Arg(64)->Arg(100)->Arg(500)->Arg(1000)->Arg(2000);
BENCHMARK(reference)->Arg(8)->Arg(16)->Arg(32)->Arg(64)->Arg(100)->Arg(500)->Arg(1000)->Arg(2000);

}  // namespace
