#include "surface/stage.hpp"

#include "surface/assemble.hpp"
#include "surface/drip.hpp"
#include "surface/skeleton.hpp"
#include "surface/tidy_skeleton.hpp"

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
  Surface surface;
  for (std::size_t i = 0; i < model.parts.size(); ++i) {
    const model::Part& part = model.parts[i];
    const std::string where = "/parts/" + std::to_string(i);
    Result<Drip> drip = lay_out_drip(part, where);
    if (!drip) {
      return drip.faults();
    }
    Skeleton skeleton = raise_wavefront(drip.value().plan);
    if (skeleton.outcome == Skeleton::Outcome::open) {
      return open_roof(part, drip.value(), skeleton, where);
    }
    if (skeleton.outcome == Skeleton::Outcome::failed) {
      return Fault{"surface.failed", where + "/outline",
                   "the roof over this outline could not be worked out",
                   "look for walls closer than 1/32 in or turned by less than a hair; redraw them"};
    }
    tidy(skeleton);
    surface.base_m = drip.value().base_m;
    add_part(part, i, drip.value(), skeleton, model.site.north_deg, surface);
    for (const std::string& text : drip.value().assumptions) {
      surface.assumptions.push_back(text);
    }
  }
  classify_lines(surface);
  name_lines(surface);
  return surface;
}

}  // namespace ridgeward::surface
