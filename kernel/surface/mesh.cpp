#include "surface/mesh.hpp"

namespace ridgeward::surface {

Mesh as_mesh(const Skeleton& skeleton, const Drip& drip, std::size_t part) {
  Mesh mesh;
  mesh.nodes.reserve(skeleton.nodes.size());
  for (const SkeletonNode& node : skeleton.nodes) {
    mesh.nodes.emplace_back(node.at, drip.base_m + node.t);
  }
  mesh.faces.reserve(skeleton.faces.size() + 1);
  for (const SkeletonFace& face : skeleton.faces) {
    MeshFace f;
    f.part = part;
    f.edge = drip.part_edge[face.edge];
    f.phase = face.phase;
    f.normal = face.normal;
    f.run_per_rise = face.run_per_rise;
    if (face.run_per_rise <= 0) {
      const bool is_step = face.is_step || drip.is_jog[face.edge] != 0;
      f.kind = is_step ? MeshFace::Kind::step : MeshFace::Kind::gable;
    }
    mesh.faces.push_back(f);
  }
  const auto underside = static_cast<std::uint32_t>(mesh.faces.size());
  MeshFace below;
  below.kind = MeshFace::Kind::underside;
  below.part = part;
  mesh.faces.push_back(below);
  const auto face_of = [underside](std::int32_t face) {
    return face < 0 ? underside : static_cast<std::uint32_t>(face);
  };
  mesh.arcs.reserve(skeleton.arcs.size());
  for (const SkeletonArc& arc : skeleton.arcs) {
    const MeshArc a{arc.from, arc.to, face_of(arc.left), face_of(arc.right)};
    mesh.arcs.push_back(a);
    mesh.faces[a.left].anchor = mesh.nodes[a.from];
    mesh.faces[a.right].anchor = mesh.nodes[a.from];
  }
  return mesh;
}

}  // namespace ridgeward::surface
