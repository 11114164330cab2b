// Uniting parts, solid included, beside the multi-tool union of Open CASCADE in the same run.
#include "solid/shape.hpp"
#include "surface/stage.hpp"

#include "support/fused.hpp"
#include "support/plans.hpp"

#include <benchmark/benchmark.h>

#include <map>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

/// A long hip roof with wings on both sides, all plates level: `parts` parts.
model::RoofModel winged(std::size_t parts) {
  model::RoofModel m;
  const auto add = [&](glm::dvec2 low, glm::dvec2 high, double rise) {
    model::Part part;
    part.id = "p" + std::to_string(m.parts.size());
    part.plate_m = 0.0;
    part.outline = {low * ft, glm::dvec2{high.x, low.y} * ft, high * ft,
                    glm::dvec2{low.x, high.y} * ft};
    part.edges.assign(4, eave(rise));
    m.parts.push_back(part);
  };
  const double length = 24.0 * static_cast<double>(parts / 2 + 1);
  add({0, 0}, {length, 28}, 8);
  for (std::size_t i = 1; i < parts; ++i) {
    const double x = 6.0 + 24.0 * static_cast<double>((i - 1) / 2);
    if (i % 2 == 1) {
      add({x, -14}, {x + 16, 14}, 8);
    } else {
      add({x + 2, 14}, {x + 16, 40}, 6);
    }
  }
  return m;
}

void unite_and_build(benchmark::State& state) {
  const model::RoofModel m = winged(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) {
    const auto surface = surface::raise(m);
    benchmark::DoNotOptimize(solid::build_unchecked(surface.value()));
  }
}

void unite_surface(benchmark::State& state) {
  const model::RoofModel m = winged(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) {
    benchmark::DoNotOptimize(surface::raise(m));
  }
}

void boolean_union(benchmark::State& state) {
  const model::RoofModel m = winged(static_cast<std::size_t>(state.range(0)));
  const Fusion fusion(m, 0.0);
  for (auto _ : state) {
    benchmark::DoNotOptimize(fusion.unite());
  }
}

BENCHMARK(unite_surface)->Arg(2)->Arg(4)->Arg(8)->Arg(16)->Arg(64)->Arg(256);
BENCHMARK(unite_and_build)->Arg(2)->Arg(4)->Arg(8)->Arg(16);
BENCHMARK(boolean_union)->Arg(2)->Arg(4)->Arg(8)->Arg(16);

}  // namespace
