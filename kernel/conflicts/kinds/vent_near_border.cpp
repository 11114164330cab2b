#include "base/segment.hpp"
#include "conflicts/check.hpp"
#include "conflicts/words.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::conflicts {

namespace {

/// The line of the plane's border that comes nearest to a place; ridges and eaves as any other.
struct Border {
  LineId line;
  double apart_m = HUGE_VAL;
};

Border nearest_border(const Roof& roof, const surface::Plane& plane, glm::dvec2 at) {
  Border nearest;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = roof.surface.lines[step.line];
      const double apart = segment::distance(plane.frame.uv(roof.surface.nodes[line.from]),
                                             plane.frame.uv(roof.surface.nodes[line.to]), at);
      if (apart < nearest.apart_m) {
        nearest = {step.line, apart};
      }
    }
  }
  return nearest;
}

std::vector<Finding> find_vent_near_border(const Roof& roof) {
  std::vector<Finding> found;
  for (const ExhaustId id : roof.vents.exhausts.ids()) {
    const vents::Exhaust& exhaust = roof.vents.exhausts[id];
    const model::Product* product = product_of(roof, exhaust.product);
    if (exhaust.plane.is_none() || product == nullptr) {
      continue;
    }
    const surface::Plane& plane = roof.surface.planes[exhaust.plane];
    const Border border = nearest_border(roof, plane, exhaust.at_uv);
    const double needed_m = std::max(product->slot.hold_back_m, 0.5 * exhaust.hole_m);
    if (border.line.is_none() || border.apart_m >= needed_m - tolerance_m) {
      continue;
    }
    const bool is_over = border.apart_m < 0.5 * exhaust.hole_m - tolerance_m;
    found.push_back(
        about_exhaust(roof, id, "vent_near_border", is_over ? Severity::error : Severity::warning));
    Finding& finding = found.back();
    std::string kind = surface::word(roof.surface.lines[border.line].kind);
    std::replace(kind.begin(), kind.end(), '_', ' ');
    finding.measured = "its middle " + length_words(roof, border.apart_m) + " from the " + kind;
    finding.needed = "at least " + length_words(roof, needed_m);
    finding.message = "Vent " + exhaust.id + (is_over ? " hangs over " : " comes too near ") +
                      "the border of plane " + plane.id + ".";
    finding.remedy = "Move it " + length_words(roof, needed_m - border.apart_m) +
                     " or more away from that line.";
  }
  return found;
}

}  // namespace

extern const Check vent_near_border_kind;
const Check vent_near_border_kind{
    "vent_near_border", "a vent on a plane that hangs over the plane's border or comes too near it",
    find_vent_near_border};

}  // namespace ridgeward::conflicts
