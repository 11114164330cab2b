#include "support/fused.hpp"

#include "solid/held.hpp"
#include "solid/shape.hpp"
#include "surface/stage.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GProp_GProps.hxx>
#include <TopTools_ListOfShape.hxx>
#include <glm/vector_relational.hpp>

namespace ridgeward::support {

struct Fusion::Held {
  TopTools_ListOfShape arguments;
  TopTools_ListOfShape tools;
};

namespace {

TopoDS_Shape block(const std::vector<glm::dvec2>& outline, double low, double high) {
  BRepBuilderAPI_MakePolygon polygon;
  for (const glm::dvec2& p : outline) {
    polygon.Add(gp_Pnt(p.x, p.y, low));
  }
  polygon.Close();
  return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(polygon.Wire()).Face(),
                               gp_Vec(0, 0, high - low))
      .Shape();
}

TopoDS_Shape united(const TopTools_ListOfShape& arguments, const TopTools_ListOfShape& tools) {
  if (tools.IsEmpty()) {
    return arguments.First();
  }
  BRepAlgoAPI_Fuse fuse;
  fuse.SetArguments(arguments);
  fuse.SetTools(tools);
  fuse.SetRunParallel(false);
  fuse.Build();
  return fuse.Shape();
}

}  // namespace

Fusion::Fusion(const model::RoofModel& model, double base_m) : held_(new Held) {
  for (const model::Part& part : model.parts) {
    model::RoofModel one;
    one.parts.push_back(part);
    const auto surface = surface::raise(one).value();
    const auto shape = solid::build(surface).value();
    (held_->arguments.IsEmpty() ? held_->arguments : held_->tools).Append(shape.held().shape);
    if (surface.base_m > base_m + 1e-9) {
      held_->tools.Append(block(surface.drip_outlines[0][0], base_m, surface.base_m));
    }
  }
}

Fusion::~Fusion() { delete held_; }

bool Fusion::unite() const { return !united(held_->arguments, held_->tools).IsNull(); }

double Fusion::volume_m3() const {
  GProp_GProps properties;
  BRepGProp::VolumeProperties(united(held_->arguments, held_->tools), properties);
  return properties.Mass();
}

double common_m3(const solid::Shape& one, const solid::Shape& other) {
  const solid::Report a = solid::examine(one);
  const solid::Report b = solid::examine(other);
  const bool is_apart =
      glm::any(glm::greaterThan(a.low, b.high)) || glm::any(glm::greaterThan(b.low, a.high));
  if (is_apart) {
    return 0.0;
  }
  GProp_GProps properties;
  BRepGProp::VolumeProperties(BRepAlgoAPI_Common(one.held().shape, other.held().shape).Shape(),
                              properties);
  return properties.Mass();
}

}  // namespace ridgeward::support
