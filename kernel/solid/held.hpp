#pragma once
// What a Shape holds; seen only inside this folder.

#include "solid/shape.hpp"

#include <TopoDS_Shape.hxx>

namespace ridgeward::solid {

struct Shape::Held {
  TopoDS_Shape shape;
};

}  // namespace ridgeward::solid
