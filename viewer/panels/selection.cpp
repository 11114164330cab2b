// One selection: on the roof and in the fields.
#include "base/overloaded.hpp"

#include "panels/hand.hpp"

#include <algorithm>
#include <optional>

namespace ridgeward::panels {

scene::Picked plane_of(const Target& target, const Assessment& assessment) {
  scene::Picked picked;
  const auto& parts = assessment.model.parts;
  for (const PlaneId id : assessment.surface.planes.ids()) {
    const surface::Plane& plane = assessment.surface.planes[id];
    const auto& edges = plane.run_edges;
    const bool is_its = target.what == Target::What::edge && parts[plane.part].id == target.id &&
                        (plane.edge == target.index ||
                         std::find(edges.begin(), edges.end(), target.index) != edges.end());
    if (is_its && picked.plane.is_none()) {
      picked.plane = id;
    }
  }
  return picked;
}

namespace {

Target target_of(const scene::Picked& picked, const Assessment& assessment) {
  PlaneId id = picked.plane;
  if (id.is_none() && !picked.line.is_none()) {
    const surface::Line& line = assessment.surface.lines[picked.line];
    if (line.kind == surface::LineKind::eave) {
      id = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    }
  }
  if (id.is_none()) {
    return {};
  }
  const surface::Plane& plane = assessment.surface.planes[id];
  return {Target::What::edge, assessment.model.parts[plane.part].id, plane.edge};
}

}  // namespace

void follow_selection(const Look& look, Intents& intents) {
  std::optional<scene::Picked> picked;
  std::optional<Target> target;
  for (const Intent& intent : intents) {
    if (const auto* select = std::get_if<Select>(&intent)) {
      picked = select->picked;
    } else if (const auto* ask = std::get_if<EditAsk>(&intent)) {
      if (const auto* turn = std::get_if<SetTarget>(&ask->what())) {
        target = turn->target;
      }
    }
  }
  // Who asks for both has made them one already.
  if (picked && !target) {
    intents.emplace_back(EditIntent(SetTarget{target_of(*picked, look.assessment)}));
  } else if (target && !picked) {
    intents.emplace_back(Select{plane_of(*target, look.assessment)});
  }
}

scene::Picked again(const scene::Picked& before, const surface::Surface& then,
                    const surface::Surface& now) {
  scene::Picked picked;
  picked.at = before.at;
  if (!before.plane.is_none()) {
    picked.plane = now.plane_named(then.planes[before.plane].id);
  }
  if (!before.line.is_none()) {
    picked.line = now.line_named(then.lines[before.line].id);
  }
  return picked;
}

}  // namespace ridgeward::panels
