#pragma once
// Union, difference and overlap of polygons as regions of the plan.
//
// A region is loops as in polygon.hpp: outer ones counter-clockwise, holes clockwise; it may be in
// several pieces or empty. Input loops may cross, touch or coincide with those of another region,
// not with their own. What lies within polygon::tolerance in u, or of each other, counts as one.

#include "base/polygon.hpp"

#include <span>

namespace ridgeward::regions {

/// What lies in any of them. Laws: (1) its area is that of the union, each place counted once;
/// (2) the order of the regions changes no area; (3) loops touch at points at most.
/// Cost: pairs of sides whose boxes touch, times the sides over one place.
polygon::Loops united(std::span<const polygon::Loops> all);
/// What lies in `one` and not in `other`.
/// Law: area(without(a, b)) + area(common(a, b)) = area(a).
polygon::Loops without(const polygon::Loops& one, const polygon::Loops& other);
/// What lies in both.
polygon::Loops common(const polygon::Loops& one, const polygon::Loops& other);

/// Length of border that the two run along together, within a micrometre.
double common_border(const polygon::Loops& one, const polygon::Loops& other);

}  // namespace ridgeward::regions
