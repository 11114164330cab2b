#include "surface/stage.hpp"

#include "surface/assemble.hpp"
#include "surface/drip.hpp"
#include "surface/mesh.hpp"
#include "surface/skeleton.hpp"

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

}  // namespace

Result<Surface> raise(const model::RoofModel& model) {
  if (model.parts.size() != 1) {
    return Fault{
        "parts.several", "/parts",
        fmt::format("the model has {} parts; uniting parts is not built yet", model.parts.size()),
        "draw the house as one part with one outline"};
  }
  std::vector<Drip> drips;
  Mesh mesh;
  for (std::size_t i = 0; i < model.parts.size(); ++i) {
    const model::Part& part = model.parts[i];
    const std::string where = "/parts/" + std::to_string(i);
    Result<Drip> drip = lay_out_drip(part, where);
    if (!drip) {
      return drip.faults();
    }
    drips.push_back(std::move(drip).value());
    const Skeleton skeleton = raise_wavefront(drips.back().plan);
    if (skeleton.outcome == Skeleton::Outcome::open) {
      return open_roof(part, drips.back(), skeleton, where);
    }
    if (skeleton.outcome == Skeleton::Outcome::failed) {
      return Fault{"surface.failed", where + "/outline",
                   "the roof over this outline could not be worked out",
                   "look for walls closer than 1/32 in or turned by less than a hair; redraw them"};
    }
    mesh = as_mesh(skeleton, drips.back(), i);
    tidy(mesh);
  }
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
