#pragma once
// Shapes of an IFC file written as the library reads them.

#include <functional>
#include <set>
#include <string>
#include <string_view>

namespace ridgeward::ifc {

struct Shaped {
  std::string bytes;  ///< empty: as they were
  /// Kinds of shapes of what is wanted that nobody here reads.
  std::set<std::string> unread;
  /// Bodies of what is wanted that are cut here, of elements whose openings are left out so.
  std::size_t filled = 0;
  /// Upright bodies of what is wanted that slopes cut, and that are left to the library.
  std::size_t open = 0;
};

/// The library knows IFC 2x3 only, breaks at shapes of IFC4, and leaves bodies open where half
/// spaces cut them. Of what is wanted, told by its global id, and what it is put together of:
/// 1. IfcTriangulatedFaceSet and IfcPolygonalFaceSet become IfcFaceBasedSurfaceModel,
///    IfcIndexedPolyCurve becomes IfcPolyline (ISO 16739-1).
/// 2. Extruded areas that half spaces cut become the faces of what is left (clipping.hpp), but of
///    elements with openings only where slopes cut an upright body.
/// Any other shape that has something of IFC4 in it is taken out.
Shaped shaped(std::string_view text, const std::function<bool(std::string_view id)>& is_wanted);

}  // namespace ridgeward::ifc
