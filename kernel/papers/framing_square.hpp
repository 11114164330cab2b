#pragma once
// The figures that a framing square's rafter table gives, for the pitches of one roof.

#include "assess.hpp"

#include <vector>

namespace ridgeward::papers {

/// For one pitch and one spacing of rafters. Hips and valleys between planes of this one pitch at a
/// square corner in plan. Sources: right triangles; as on the rafter table of a framing square.
struct SquareFigures {
  units::Pitch pitch;
  double spacing_m = 0.0;
  double common_per_12 = 0.0;      ///< length of a common rafter for 12 of run: sqrt(12^2 + rise^2)
  double hip_run_per_12 = 0.0;     ///< run of the hip for 12 of common run: 12 sqrt(2)
  double hip_per_12 = 0.0;         ///< length of the hip for 12 of common run
  double jack_difference_m = 0.0;  ///< from one jack to the next: spacing x length over run
};

SquareFigures square_figures(units::Pitch pitch, double spacing_m);
/// One for each pitch and spacing that the planes have, the flattest first; level planes left out.
std::vector<SquareFigures> square_figures_of(const Assessment& assessment);

}  // namespace ridgeward::papers
