#pragma once
// Takes out of a skeleton what is too small to cut: lines shorter than a micrometre.

#include "surface/skeleton.hpp"

namespace ridgeward::surface {

inline constexpr double least_line_m = 1e-6;

/// Joins the ends of arcs shorter than least_line_m and the arcs that then coincide, and makes one
/// arc of two that go on in one line between the same faces.
/// Law: every arc still has a face on each side, and no face is left with fewer than three arcs.
void tidy(Skeleton& skeleton);

}  // namespace ridgeward::surface
