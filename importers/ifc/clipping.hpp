#pragma once
// Bodies that are cut by half spaces. The library leaves such cuts open: a roof whose slopes are
// the cuts loses them. Private to this folder.

#include "ifc/table.hpp"

#include <vector>

namespace ridgeward::ifc {

using Loop = std::vector<importing::Point>;

/// A chain of IfcBooleanResults (ISO 16739-1): an IfcExtrudedAreaSolid less, or within, half
/// spaces.
struct Clipped {
  bool is_done = false;
  std::vector<Loop> faces;  ///< of the body that is left; those between its pieces left out
  /// A body that stands upright is cut by a slope: the cut may be the roof.
  bool is_sloped = false;
};

/// Whether a kind is such a cut.
bool is_cut(std::string_view kind);

/// The outline of an area in its plane: polylines, also indexed ones, rectangles; empty for other
/// profiles.
Loop outline_in(const Table& table, const std::string& profile);

/// The corners of an IfcPolyline or IfcIndexedPolyCurve, arcs in pieces of 5 degrees at most; empty
/// for other curves.
Loop corners_of_curve(const Table& table, const std::string& curve);

/// Done where the body is an extruded area with an outline as above and no hole, and all that it is
/// cut by are IfcHalfSpaceSolids or IfcPolygonalBoundedHalfSpaces on planes.
Clipped clipped(const Table& table, const Statement& cut);

}  // namespace ridgeward::ifc
