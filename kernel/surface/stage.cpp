#include "surface/stage.hpp"

#include "surface/assemble.hpp"
#include "surface/blind_decks.hpp"
#include "surface/drip.hpp"
#include "surface/mesh.hpp"
#include "surface/regions.hpp"
#include "surface/skeleton.hpp"
#include "surface/unite.hpp"

#include <fmt/format.h>

#include <algorithm>

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

Fault failed(const std::string& where) {
  return {"surface.failed", where + "/outline",
          "the roof over this outline could not be worked out",
          "look for walls closer than 1/32 in or turned by less than a hair; redraw them"};
}

/// Lets the hip ends of gablets stop below the ridge: how high they would reach is known only from
/// the roof without gablets.
Result<Plan> stop_gablets(const model::Part& part, const Drip& drip, const std::string& where) {
  Plan plan = drip.plan;
  const bool has_any = std::any_of(part.edges.begin(), part.edges.end(), [](const auto& edge) {
    return edge.kind == model::EdgeKind::gablet;
  });
  if (!has_any) {
    return plan;
  }
  const Skeleton full = raise_wavefront(plan);
  std::vector<double> tops(plan.edges.size(), 0.0);
  for (const SkeletonArc& arc : full.arcs) {
    for (const std::int32_t face : {arc.left, arc.right}) {
      if (face >= 0) {
        double& top = tops[full.faces[static_cast<std::size_t>(face)].edge];
        top = std::max({top, full.nodes[arc.from].t, full.nodes[arc.to].t});
      }
    }
  }
  for (std::size_t i = 0; i < plan.edges.size(); ++i) {
    const model::Edge& edge = part.edge(drip.part_edge[i]);
    if (edge.kind != model::EdgeKind::gablet || drip.is_jog[i] != 0) {
      continue;
    }
    const double stops_at = tops[i] - edge.wall_height_m;
    if (!(stops_at > drip.wall_height_m - drip.base_m) || !(edge.wall_height_m > 0)) {
      return Fault{"gablet.too_high",
                   where + "/edges/" + std::to_string(drip.part_edge[i]) + "/wall_height",
                   "a gablet of this height leaves no hip end beneath it",
                   fmt::format("make it lower than {}",
                               units::show(tops[i] - (drip.wall_height_m - drip.base_m),
                                           units::Style::feet_inches))};
    }
    plan.edges[i].later.push_back({stops_at, 0.0});
  }
  return plan;
}

/// The roof of one part alone.
Result<Mesh> raise_part(const model::Part& part, std::size_t index, const Drip& drip) {
  const std::string where = "/parts/" + std::to_string(index);
  Result<Plan> plan = stop_gablets(part, drip, where);
  if (!plan) {
    return plan.faults();
  }
  const Skeleton skeleton = raise_wavefront(plan.value());
  if (skeleton.outcome == Skeleton::Outcome::open) {
    return open_roof(part, drip, skeleton, where);
  }
  if (skeleton.outcome == Skeleton::Outcome::failed) {
    return failed(where);
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
  const Mesh mesh = meshes.size() == 1 ? meshes.front() : unite(meshes);
  Surface surface = assemble(model, drips, mesh);
  classify_lines(model, surface);
  name_lines(surface);
  Faults faults = lay_out_regions(model, surface);
  if (faults.empty()) {
    faults = lay_out_blind_decks(model, drips, meshes, surface);
  }
  if (!faults.empty()) {
    return faults;
  }
  return surface;
}

}  // namespace ridgeward::surface
