#include "attic/space.hpp"
#include "base/polygon.hpp"
#include "vents/pieces.hpp"
#include "vents/stage.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

namespace ridgeward::vents {

namespace {

/// So far inside the wall the space behind it is looked for.
constexpr double behind_m = 1e-3;
constexpr double near_m = 1e-6;
/// Places are tried from the top in steps of this.
constexpr double step_m = units::inch_m;

/// The outer face of one gable wall.
struct Gable {
  std::size_t part = 0;
  glm::dvec2 start{0.0};  ///< left end seen from outside
  glm::dvec2 along{0.0};
  glm::dvec2 inward{0.0};
  double length_m = 0.0;
};

std::optional<Gable> gable_named(const model::RoofModel& model, const surface::Surface& surface,
                                 const std::string& name) {
  const std::size_t slash = name.rfind('/');
  std::size_t edge = 0;
  if (slash == std::string::npos ||
      std::from_chars(name.data() + slash + 1, name.data() + name.size(), edge).ec != std::errc{}) {
    return std::nullopt;
  }
  for (std::size_t part = 0; part < model.parts.size(); ++part) {
    const model::Part& own = model.parts[part];
    if (own.id != name.substr(0, slash) || edge >= own.edge_count() ||
        own.edge(edge).kind != model::EdgeKind::gable) {
      continue;
    }
    std::size_t first = 0;
    for (const polygon::Loop& loop : surface.wall_outlines[part]) {
      if (edge < first + loop.size()) {
        const glm::dvec2 a = loop[edge - first];
        const glm::dvec2 way = loop[(edge - first + 1) % loop.size()] - a;
        const double length = glm::length(way);
        const glm::dvec2 along = way / length;
        return Gable{part, a, along, {-along.y, along.x}, length};
      }
      first += loop.size();
    }
  }
  return std::nullopt;
}

/// Underside of the deck over a place in plan; none where no roof lies over it.
std::optional<double> deck_over(const model::RoofModel& model, const surface::Surface& surface,
                                glm::dvec2 plan) {
  std::optional<double> highest;
  for (const surface::Plane& plane : surface.planes) {
    if (polygon::contains(surface::plan_of(surface, plane), plan)) {
      const double z = attic::rise_of(plane).at(plan) - model.parts[plane.part].deck_m;
      highest = highest ? std::max(*highest, z) : z;
    }
  }
  return highest;
}

/// Whether the louvre's rectangle lies within the wall, over the plate and under the deck.
bool fits(const model::RoofModel& model, const surface::Surface& surface, const Gable& gable,
          glm::dvec2 at, const model::Product& product) {
  const double plate_m = model.parts[gable.part].plate_m;
  const double half_m = 0.5 * product.length_m;
  const double low_m = at.y - 0.5 * product.depth_m;
  const double high_m = plate_m + at.y + 0.5 * product.depth_m;
  if (low_m < -near_m || at.x - half_m < -near_m || at.x + half_m > gable.length_m + near_m) {
    return false;
  }
  for (const double s : {at.x - half_m, at.x, at.x + half_m}) {
    const std::optional<double> deck_m =
        deck_over(model, surface, gable.start + s * gable.along + behind_m * gable.inward);
    if (!deck_m || *deck_m < high_m - near_m) {
      return false;
    }
  }
  return true;
}

}  // namespace

std::optional<glm::dvec2> highest_louvre_place(const model::RoofModel& model,
                                               const surface::Surface& surface,
                                               const std::string& wall,
                                               const model::Product& product) {
  const std::optional<Gable> gable = gable_named(model, surface, wall);
  if (!gable) {
    return std::nullopt;
  }
  const double middle_m = 0.5 * gable->length_m;
  const std::optional<double> deck_m =
      deck_over(model, surface, gable->start + middle_m * gable->along + behind_m * gable->inward);
  const double room_m = deck_m ? *deck_m - model.parts[gable->part].plate_m : 0.0;
  for (auto step = static_cast<int>(std::floor(room_m / step_m)); step * step_m >= product.depth_m;
       --step) {
    const double top_m = step * step_m;
    const glm::dvec2 at{middle_m, top_m - 0.5 * product.depth_m};
    if (fits(model, surface, *gable, at, product)) {
      return at;
    }
  }
  return std::nullopt;
}

void set_louvre(const Site& site, const model::ExhaustVent& vent, const model::Product& product,
                const std::string& where, Into into) {
  const std::optional<Gable> gable = gable_named(site.model, site.surface, vent.wall);
  if (!gable) {
    into.faults.push_back(
        {"vent.wall_kind", where + "/wall",
         "Vent " + vent.id + " stands in wall \"" + vent.wall + "\", which is no gable.",
         "Name an edge of kind gable as part/edge, for example main/1."});
    return;
  }
  if (!fits(site.model, site.surface, *gable, vent.at, product)) {
    into.faults.push_back({"vent.run_outside", where + "/at",
                           "Vent " + vent.id + " does not lie within gable wall " + vent.wall +
                               ", over its plate and under its deck.",
                           "Give at as [along the wall, up from the plate] of its middle."});
    return;
  }
  const model::Part& part = site.model.parts[gable->part];
  Exhaust exhaust;
  exhaust.id = exhaust.vent = vent.id;
  exhaust.product = product.id;
  exhaust.kind = product.kind;
  exhaust.wall = vent.wall;
  exhaust.free_area_m2 = product.free_area_each_m2;
  const glm::dvec2 plan = gable->start + vent.at.x * gable->along;
  exhaust.from = exhaust.to = {plan.x, plan.y, part.plate_m + vent.at.y};
  const glm::dvec2 inside = plan + (part.wall_thickness_m + behind_m) * gable->inward;
  const CompartmentId behind = site.attic.under(inside);
  if (!behind.is_none() &&
      exhaust.from.z > site.attic.compartments[behind].ceiling_at(inside, gable->part)) {
    exhaust.compartment = behind;
  }
  into.vents.exhausts.push_back(std::move(exhaust));
}

}  // namespace ridgeward::vents
