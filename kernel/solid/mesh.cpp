// Triangles of a shape.
#include "solid/held.hpp"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <glm/geometric.hpp>

#include <utility>

namespace ridgeward::solid {

namespace {

/// False when the face has no triangles.
bool add_face(const TopoDS_Face& face, Mesh& mesh) {
  TopLoc_Location place;
  const Handle(Poly_Triangulation) triangles = BRep_Tool::Triangulation(face, place);
  if (triangles.IsNull()) {
    return false;
  }
  const auto first = static_cast<std::uint32_t>(mesh.points.size());
  for (int i = 1; i <= triangles->NbNodes(); ++i) {
    const gp_Pnt p = triangles->Node(i).Transformed(place.Transformation());
    mesh.points.emplace_back(p.X(), p.Y(), p.Z());
  }
  glm::dvec3 normal{0.0};
  for (int i = 1; i <= triangles->NbTriangles(); ++i) {
    int a = 0;
    int b = 0;
    int c = 0;
    triangles->Triangle(i).Get(a, b, c);
    if (face.Orientation() == TopAbs_REVERSED) {
      std::swap(b, c);
    }
    const auto corner = [&](int node) { return first + static_cast<std::uint32_t>(node - 1); };
    const glm::dvec3 square = glm::cross(mesh.points[corner(b)] - mesh.points[corner(a)],
                                         mesh.points[corner(c)] - mesh.points[corner(a)]);
    if (glm::length(square) > 0.0) {
      normal += square;
      mesh.corners.insert(mesh.corners.end(), {corner(a), corner(b), corner(c)});
    }
  }
  mesh.normals.resize(mesh.points.size(), glm::normalize(normal));
  return glm::length(normal) > 0.0;
}

}  // namespace

Result<Mesh> mesh_of(const Shape& shape) {
  const auto failed = [](const std::string& what) {
    return Fault{"solid.mesh_failed", "", what, "report the model"};
  };
  try {
    // Triangles are kept in the shape: a copy, so that it stays what it was.
    const TopoDS_Shape copy = BRepBuilderAPI_Copy(shape.held().shape).Shape();
    const BRepMesh_IncrementalMesh mesher(copy, 0.1);
    Mesh mesh;
    for (TopExp_Explorer it(copy, TopAbs_FACE); it.More(); it.Next()) {
      if (!add_face(TopoDS::Face(it.Current()), mesh)) {
        return failed("a face could not be cut up into triangles");
      }
    }
    return mesh;
  } catch (const Standard_Failure& failure) {
    return failed(std::string("triangles: ") + failure.GetMessageString());
  }
}

}  // namespace ridgeward::solid
