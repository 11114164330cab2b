// The one place that asks the modelling kernel for a Boolean operation.
#include "solid/held.hpp"
#include "solid/net.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>

namespace ridgeward::solid {

Result<Shape> difference(const Shape& from, const Shape& tool, const std::string& what) {
  const Fault failed{"solid.invalid", "", "the modelling kernel could not cut " + what,
                     "report the model"};
  try {
    const TopoDS_Shape rest = BRepAlgoAPI_Cut(from.held().shape, tool.held().shape).Shape();
    TopExp_Explorer solids(rest, TopAbs_SOLID);
    if (!solids.More()) {
      return failed;
    }
    const TopoDS_Shape first = solids.Current();
    solids.Next();
    if (solids.More()) {
      return failed;
    }
    return checked(Shape(std::make_shared<const Shape::Held>(Shape::Held{first})), what);
  } catch (const Standard_Failure&) {
    return failed;
  }
}

}  // namespace ridgeward::solid
