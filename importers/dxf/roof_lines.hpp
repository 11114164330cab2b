#pragma once
// What the lines of a roof, drawn in space over its plan, say of the sides of an outline.

#include "dxf/drawing.hpp"

#include <optional>
#include <vector>

namespace ridgeward::dxf {

struct SideSaid {
  bool is_gable = false;           ///< rakes run along it, eaves don't
  std::optional<double> overhang;  ///< of those lines, from the side, in the drawing's unit
  bool is_by_edge = false;         ///< of the roof's outline in plan, where there are none of those
  std::optional<double> slope;     ///< of the plane over an eave, rise per run
  double drip_z = 0.0;             ///< height of that eave
};

/// Judges by the nearest lines that run along a -> b, at most `most_overhang` outside (the right),
/// and lie beside half of it or more. The slope is that of a rake, hip or valley that starts at an
/// end of the eave.
SideSaid side_said(const std::vector<RoofLine>& roof, const Position& a, const Position& b,
                   double most_overhang);

}  // namespace ridgeward::dxf
