#include "surface/stage.hpp"

#include "surface/assemble.hpp"
#include "surface/blind_decks.hpp"
#include "surface/crickets.hpp"
#include "surface/drip.hpp"
#include "surface/mesh.hpp"
#include "surface/regions.hpp"
#include "surface/sheltered.hpp"
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
  bool has_any = false;
  for (std::size_t i = 0; i < part.edge_count(); ++i) {
    has_any = has_any || part.edge(i).kind == model::EdgeKind::gablet;
  }
  if (!has_any) {
    return plan;
  }
  const Skeleton full = raise_wavefront(plan);
  if (full.outcome != Skeleton::Outcome::closed) {
    return full.outcome == Skeleton::Outcome::open ? open_roof(part, drip, full, where)
                                                   : failed(where);
  }
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

/// Whether the level deck that cuts the part off was reached.
bool is_cut_off(const Skeleton& skeleton) {
  return std::any_of(skeleton.faces.begin(), skeleton.faces.end(), [](const SkeletonFace& face) {
    return face.phase == SkeletonFace::flat_phase;
  });
}

/// The roof of one part alone.
Result<Mesh> raise_part(const model::Part& part, std::size_t index, Drip& drip) {
  const std::string where = "/parts/" + std::to_string(index);
  Result<Plan> plan = stop_gablets(part, drip, where);
  if (!plan) {
    return plan.faults();
  }
  if (part.flat_top_m) {
    plan.value().stops_at_t = part.plate_m + *part.flat_top_m - drip.base_m;
  }
  const Skeleton skeleton = raise_wavefront(plan.value());
  if (part.flat_top_m && skeleton.outcome == Skeleton::Outcome::closed && !is_cut_off(skeleton)) {
    drip.assumptions.push_back("Part " + part.id +
                               ": the flat top lies above the ridge and cuts nothing off.");
  }
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

Surface named(const model::RoofModel& model, const std::vector<Drip>& drips, const Mesh& mesh) {
  Surface surface = assemble(model, drips, mesh);
  classify_lines(model, surface);
  name_lines(surface);
  return surface;
}

/// Unites the roof with the crickets that its chimneys need: only the finished planes tell where
/// chimneys stand and how wide they are.
Faults add_crickets(const model::RoofModel& model, const std::vector<Drip>& drips, Mesh&& mesh,
                    Surface& surface) {
  const std::vector<CricketRoof> crickets = raise_crickets(model, surface);
  if (crickets.empty()) {
    return {};
  }
  std::vector<Mesh> all{std::move(mesh)};
  for (const CricketRoof& cricket : crickets) {
    all.push_back(cricket.mesh);
  }
  Surface with = named(model, drips, unite(all));
  with.assumptions = std::move(surface.assumptions);
  surface = std::move(with);
  Faults faults = lay_out_regions(model, surface);
  lay_out_cricket_decks(crickets, model, surface);
  return faults;
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
  Mesh mesh = meshes.size() == 1 ? meshes.front() : unite(meshes);
  Surface surface = named(model, drips, mesh);
  Faults faults = lay_out_regions(model, surface);
  if (faults.empty()) {
    faults = add_crickets(model, drips, std::move(mesh), surface);
  }
  if (faults.empty()) {
    faults = lay_out_blind_decks(model, drips, meshes, surface);
  }
  if (!faults.empty()) {
    return faults;
  }
  lay_out_sheltered_decks(surface);
  if (!surface.regions.empty()) {
    surface.assumptions.emplace_back(
        "Areas of planes are gross: chimneys, skylights and pipes are not taken off them. Solar "
        "arrays lie on the deck and cut nothing.");
  }
  return surface;
}

}  // namespace ridgeward::surface
