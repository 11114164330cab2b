#include "exports/meshes.hpp"

#include <algorithm>
#include <utility>

namespace ridgeward::exports {

namespace {

MeshGroup& group_named(const std::string& name, std::vector<MeshGroup>& groups) {
  const auto found = std::find_if(groups.begin(), groups.end(),
                                  [&](const MeshGroup& group) { return group.name == name; });
  if (found != groups.end()) {
    return *found;
  }
  groups.push_back({name, {}});
  return groups.back();
}

void add_slots(const Assessment& assessment, std::vector<MeshGroup>& groups) {
  for (const vents::Slot& slot : assessment.vents.slots) {
    const surface::Plane& plane = assessment.surface.planes[slot.plane];
    const glm::dvec3 under = -assessment.model.parts[plane.part].deck_m * plane.frame.normal;
    const double low = slot.lower_v_m();
    const double high = low + slot.width_m;
    solid::Mesh mesh;
    for (const glm::dvec2 uv : {glm::dvec2{slot.start_m, low}, glm::dvec2{slot.end_m, low},
                                glm::dvec2{slot.end_m, high}, glm::dvec2{slot.start_m, high}}) {
      mesh.points.push_back(plane.frame.at(uv) + under);
      mesh.normals.push_back(plane.frame.normal);
    }
    mesh.corners = {0, 1, 2, 0, 2, 3};
    if (slot.end_m > slot.start_m && slot.width_m > 0.0) {
      group_named("slots", groups).all.push_back({"slots/" + slot.id, std::move(mesh)});
    }
  }
}

}  // namespace

Result<std::vector<MeshGroup>> meshes_of(const Assessment& assessment, const Content& content,
                                         const Tell& tell) {
  const Result<std::vector<solid::Body>> bodies = bodies_of(assessment, content, tell);
  if (!bodies) {
    return bodies.faults();
  }
  std::vector<MeshGroup> groups;
  for (const solid::Body& body : bodies.value()) {
    Result<solid::Mesh> mesh = solid::mesh_of(body.shape);
    if (!mesh) {
      return mesh.faults();
    }
    const std::string group = body.name.substr(0, body.name.find('/'));
    group_named(group, groups).all.push_back({body.name, std::move(mesh).value()});
  }
  if (content.slots) {
    add_slots(assessment, groups);
  }
  if (groups.empty()) {
    return Fault{"solid.nothing", "", "there is no body to write",
                 "ask for bodies that this roof has: a roof without deck or ceiling has none of "
                 "theirs"};
  }
  return groups;
}

Look look_of(std::string_view group) {
  if (group == "deck") {
    return {0.60F, 0.42F, 0.24F, 1.0F};
  }
  if (group == "members") {
    return {0.72F, 0.53F, 0.30F, 1.0F};
  }
  if (group == "slots") {
    return {0.02F, 0.02F, 0.03F, 1.0F};
  }
  if (group == "attic") {
    return {0.25F, 0.50F, 0.80F, 0.35F};
  }
  return {0.35F, 0.36F, 0.38F, 1.0F};
}

}  // namespace ridgeward::exports
