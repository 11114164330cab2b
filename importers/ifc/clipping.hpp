#pragma once
// Bodies that are cut by half spaces. The library leaves such cuts open: a roof whose slopes are
// the cuts loses them. Private to this folder.

#include "ifc/curves.hpp"
#include "ifc/table.hpp"

#include <vector>

namespace ridgeward::ifc {

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

/// Done where the body is an extruded area with an outline as above and no hole, and all that it is
/// cut by are IfcHalfSpaceSolids or IfcPolygonalBoundedHalfSpaces on planes.
Clipped clipped(const Table& table, const Statement& cut);

}  // namespace ridgeward::ifc
