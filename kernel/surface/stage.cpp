#include "surface/stage.hpp"

#include "surface/assemble.hpp"
#include "surface/drip.hpp"
#include "surface/mesh.hpp"
#include "surface/skeleton.hpp"
#include "surface/unite.hpp"

#include <fmt/format.h>

namespace ridgeward::surface {

namespace {

Fault open_roof(const model::Part& part, const Drip& drip, const Skeleton& skeleton,
                const std::string& where) {
  std::string edges;
  for (const std::size_t edge : skeleton.open_edges) {
    const std::string id = part.id + "/" + std::to_string(drip.part_edge[edge]);
    if (edges.find(id) == std::string::npos) {
      edges += (edges.empty() ? "" : ", ") + id;
    }
  }
  return {"roof.open", where + "/edges",
          "no roof closes over this plan: above its planes only gables are left standing (" +
              edges + ")",
          "make one of these edges an eave with a pitch"};
}

/// The roof of one part alone.
Result<Mesh> raise_part(const model::Part& part, std::size_t index, const Drip& drip) {
  const std::string where = "/parts/" + std::to_string(index);
  const Skeleton skeleton = raise_wavefront(drip.plan);
  if (skeleton.outcome == Skeleton::Outcome::open) {
    return open_roof(part, drip, skeleton, where);
  }
  if (skeleton.outcome == Skeleton::Outcome::failed) {
    return Fault{"surface.failed", where + "/outline",
                 "the roof over this outline could not be worked out",
                 "look for walls closer than 1/32 in or turned by less than a hair; redraw them"};
  }
  Mesh mesh = as_mesh(skeleton, drip, index);
  tidy(mesh);
  return mesh;
}

}  // namespace

Result<Surface> raise(const model::RoofModel& model) {
  const std::vector<RegularPlan> drawn = mend(model.parts);
  std::vector<Drip> drips;
  std::vector<Mesh> meshes;
  for (std::size_t i = 0; i < model.parts.size(); ++i) {
    Result<Drip> drip = lay_out_drip(model.parts[i], drawn[i], "/parts/" + std::to_string(i));
    if (!drip) {
      return drip.faults();
    }
    drips.push_back(std::move(drip).value());
    Result<Mesh> mesh = raise_part(model.parts[i], i, drips.back());
    if (!mesh) {
      return mesh.faults();
    }
    meshes.push_back(std::move(mesh).value());
  }
  const Mesh mesh = meshes.size() == 1 ? std::move(meshes.front()) : unite(meshes);
  Surface surface = assemble(model, drips, mesh);
  classify_lines(surface);
  name_lines(surface);
  if (!model.obstacles.empty()) {
    surface.assumptions.emplace_back(
        "Chimneys, skylights, pipes and solar arrays are drawn but not cut out of planes, rafters "
        "and bays: look for them before a slot is cut.");
  }
  return surface;
}

}  // namespace ridgeward::surface
