#pragma once
// Curves and outlines of an IFC file as corners. Private to this folder.

#include "ifc/table.hpp"

#include <string>
#include <vector>

namespace ridgeward::ifc {

using Loop = std::vector<importing::Point>;

/// The outline of an area in its plane: polylines, also indexed ones, rectangles; empty for other
/// profiles.
Loop outline_in(const Table& table, const std::string& profile);

/// The corners of an IfcPolyline or IfcIndexedPolyCurve, arcs in pieces of 5 degrees at most; empty
/// for other curves.
Loop corners_of_curve(const Table& table, const std::string& curve);

}  // namespace ridgeward::ifc
