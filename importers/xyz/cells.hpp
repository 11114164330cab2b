#pragma once
// A plane cut into cells by lines, and the border of those cells that points lie on.

#include "support/crossing.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace ridgeward::xyz {

using Spot = std::array<double, 2>;

/// dot(across, p) = offset; `across` is of length 1.
struct Line {
  Spot across{1.0, 0.0};
  double offset = 0.0;
  double doubt_m = 0.1;  ///< a metre of border along it costs the points of so broad a strip
};
double off(const Line& line, const Spot& p);

/// The border of what points cover, as loops of corners: outer ones counter-clockwise, holes
/// clockwise; each corner lies exactly on the two lines that meet there. `lines` cut the box around
/// the points, `margin_m` wider, into cells; a cell is filled where it has more than half of the
/// points that its area promises (`per_m2`), less what its border costs. Lines that are not worth
/// their corners are left out, the least trusted first; where a line is missing, the outermost
/// points make one.
std::vector<std::vector<Spot>> filled(const std::vector<Spot>& points, std::vector<Line> lines,
                                      double per_m2, double margin_m);

double area_of(const std::vector<Spot>& loop);
using importing::contains;

}  // namespace ridgeward::xyz
