#include "solid/held.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <glm/common.hpp>

#include <cmath>

namespace ridgeward::solid {

Report examine(const Shape& shape) {
  const TopoDS_Shape& s = shape.held().shape;
  Report report;
  // Inside-out solids pass the checker too: whoever asks looks at the volume's sign as well.
  report.is_valid = BRepCheck_Analyzer(s).IsValid();
  TopTools_IndexedDataMapOfShapeListOfShape faces_of;
  TopExp::MapShapesAndAncestors(s, TopAbs_EDGE, TopAbs_FACE, faces_of);
  report.is_closed = faces_of.Extent() > 0;
  for (int i = 1; i <= faces_of.Extent(); ++i) {
    report.is_closed = report.is_closed && faces_of(i).Extent() == 2;
  }
  for (TopExp_Explorer it(s, TopAbs_SOLID); it.More(); it.Next()) {
    ++report.solids;
  }
  for (TopExp_Explorer it(s, TopAbs_FACE); it.More(); it.Next()) {
    ++report.faces;
  }
  glm::dvec3 low(HUGE_VAL);
  glm::dvec3 high(-HUGE_VAL);
  for (TopExp_Explorer it(s, TopAbs_VERTEX); it.More(); it.Next()) {
    const gp_Pnt p = BRep_Tool::Pnt(TopoDS::Vertex(it.Current()));
    low = glm::min(low, glm::dvec3{p.X(), p.Y(), p.Z()});
    high = glm::max(high, glm::dvec3{p.X(), p.Y(), p.Z()});
  }
  if (report.faces > 0) {
    report.low = low;
    report.high = high;
  }
  GProp_GProps volume;
  BRepGProp::VolumeProperties(s, volume);
  report.volume_m3 = volume.Mass();
  GProp_GProps area;
  BRepGProp::SurfaceProperties(s, area);
  report.area_m2 = area.Mass();
  return report;
}

}  // namespace ridgeward::solid
