#include "attic/space.hpp"
#include "base/polygon.hpp"
#include "vents/pieces.hpp"

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

/// The outer face of one gable wall.
struct Gable {
  std::size_t part = 0;
  glm::dvec2 start{0.0};  ///< left end seen from outside
  glm::dvec2 along{0.0};
  glm::dvec2 inward{0.0};
  double length_m = 0.0;
};

std::optional<Gable> gable_named(const Site& site, const std::string& name) {
  const std::size_t slash = name.rfind('/');
  std::size_t edge = 0;
  if (slash == std::string::npos ||
      std::from_chars(name.data() + slash + 1, name.data() + name.size(), edge).ec != std::errc{}) {
    return std::nullopt;
  }
  for (std::size_t part = 0; part < site.model.parts.size(); ++part) {
    const model::Part& own = site.model.parts[part];
    if (own.id != name.substr(0, slash) || edge >= own.edge_count() ||
        own.edge(edge).kind != model::EdgeKind::gable) {
      continue;
    }
    std::size_t first = 0;
    for (const polygon::Loop& loop : site.surface.wall_outlines[part]) {
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
std::optional<double> deck_over(const Site& site, glm::dvec2 plan) {
  std::optional<double> highest;
  for (const surface::Plane& plane : site.surface.planes) {
    if (polygon::contains(attic::plan_of(site.surface, plane), plan)) {
      const double z = attic::rise_of(plane).at(plan) - site.model.parts[plane.part].deck_m;
      highest = highest ? std::max(*highest, z) : z;
    }
  }
  return highest;
}

/// Whether the louvre's rectangle lies within the wall, over the plate and under the deck.
bool fits(const Site& site, const Gable& gable, const model::ExhaustVent& vent,
          const model::Product& product) {
  const double plate_m = site.model.parts[gable.part].plate_m;
  const double half_m = 0.5 * product.length_m;
  const double low_m = vent.at.y - 0.5 * product.depth_m;
  const double high_m = plate_m + vent.at.y + 0.5 * product.depth_m;
  if (low_m < -near_m || vent.at.x - half_m < -near_m ||
      vent.at.x + half_m > gable.length_m + near_m) {
    return false;
  }
  for (const double s : {vent.at.x - half_m, vent.at.x, vent.at.x + half_m}) {
    const std::optional<double> deck_m =
        deck_over(site, gable.start + s * gable.along + behind_m * gable.inward);
    if (!deck_m || *deck_m < high_m - near_m) {
      return false;
    }
  }
  return true;
}

}  // namespace

void set_louvre(const Site& site, const model::ExhaustVent& vent, const model::Product& product,
                const std::string& where, Into into) {
  const std::optional<Gable> gable = gable_named(site, vent.wall);
  if (!gable) {
    into.faults.push_back(
        {"vent.wall_kind", where + "/wall",
         "Vent " + vent.id + " stands in wall \"" + vent.wall + "\", which is no gable.",
         "Name an edge of kind gable as part/edge, for example main/1."});
    return;
  }
  if (!fits(site, *gable, vent, product)) {
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
