#include "papers/framing_square.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ridgeward::papers {

SquareFigures square_figures(units::Pitch pitch, double spacing_m) {
  constexpr double run = 12.0;
  const double rise = pitch.in_12();
  SquareFigures figures;
  figures.pitch = pitch;
  figures.spacing_m = spacing_m;
  figures.common_per_12 = std::hypot(run, rise);
  figures.hip_run_per_12 = run * std::numbers::sqrt2;
  figures.hip_per_12 = std::hypot(figures.hip_run_per_12, rise);
  figures.jack_difference_m = spacing_m * pitch.slope_factor();
  return figures;
}

std::vector<SquareFigures> square_figures_of(const Assessment& assessment) {
  constexpr double same = 1e-9;
  std::vector<SquareFigures> all;
  for (const surface::Plane& plane : assessment.surface.planes) {
    const double spacing = assessment.model.parts[plane.part].framing.spacing_m;
    const bool is_there = std::any_of(all.begin(), all.end(), [&](const SquareFigures& one) {
      return std::abs(one.pitch.tangent() - plane.pitch.tangent()) < same &&
             std::abs(one.spacing_m - spacing) < same;
    });
    if (!is_there && plane.pitch.tangent() > 0.0 && plane.cricket.empty()) {
      all.push_back(square_figures(plane.pitch, spacing));
    }
  }
  std::sort(all.begin(), all.end(), [](const SquareFigures& a, const SquareFigures& b) {
    return a.pitch.tangent() != b.pitch.tangent() ? a.pitch.tangent() < b.pitch.tangent()
                                                  : a.spacing_m < b.spacing_m;
  });
  return all;
}

}  // namespace ridgeward::papers
