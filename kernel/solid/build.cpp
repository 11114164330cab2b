// The solid between the roof surface and one level, from the surface's own nodes and lines.
#include "solid/net.hpp"
#include "solid/shape.hpp"

#include <Standard_Failure.hxx>

namespace ridgeward::solid {

namespace {

void add_face(const std::vector<surface::Loop>& loops, const glm::dvec3& normal, Net& net) {
  Net::Face face;
  face.normal = normal;
  for (const surface::Loop& loop : loops) {
    std::vector<Net::Step>& steps = face.loops.emplace_back();
    steps.reserve(loop.size());
    for (const surface::LoopStep& step : loop) {
      steps.push_back({step.line.value, step.forward});
    }
  }
  net.faces.push_back(std::move(face));
}

Net net_of_roof(const surface::Surface& surface) {
  Net net;
  net.points.assign(surface.nodes.begin(), surface.nodes.end());
  net.edges.reserve(surface.lines.size());
  for (const surface::Line& line : surface.lines) {
    net.edges.push_back({line.from.value, line.to.value});
  }
  for (const surface::Plane& plane : surface.planes) {
    add_face(plane.loops, plane.frame.normal, net);
  }
  for (const surface::WallFace& wall : surface.walls) {
    add_face(wall.loops, wall.normal, net);
  }
  return net;
}

}  // namespace

Shape build_unchecked(const surface::Surface& surface) { return shape_of(net_of_roof(surface)); }

Result<Shape> build(const surface::Surface& surface) {
  try {
    return sound(net_of_roof(surface), "the solid of this roof");
  } catch (const Standard_Failure& failure) {
    return Fault{"solid.invalid", "",
                 std::string("the modelling kernel failed: ") + failure.GetMessageString(),
                 "report the model"};
  }
}

}  // namespace ridgeward::solid
