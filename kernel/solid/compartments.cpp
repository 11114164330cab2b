// The air spaces between ceilings and roof.
#include "base/regions.hpp"
#include "solid/blocks.hpp"
#include "solid/bodies.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace ridgeward::solid {

namespace {

/// Less than a square millimetre is two things that touch.
constexpr double least_m2 = 1e-6;

/// A ceiling over a region of the plan.
struct Ceiling {
  polygon::Loops plan;
  Slope height;
};

/// The compartment's outline cut up by ceilings as they hold under planes of `part`: that of the
/// part itself first, then the others in their order, each where none before it lies.
std::vector<Ceiling> ceilings_under(const attic::Compartment& compartment, std::size_t part) {
  std::vector<const attic::Level*> order;
  for (const attic::Level& level : compartment.levels) {
    order.insert(level.part == part ? order.begin() : order.end(), &level);
  }
  std::vector<Ceiling> all;
  polygon::Loops rest = compartment.outline;
  for (const attic::Level* level : order) {
    all.push_back({regions::common(rest, level->outline), level_at(level->height_m)});
    rest = regions::without(rest, level->outline);
  }
  all.push_back({std::move(rest), level_at(compartment.bottom_m)});
  return all;
}

double size(const polygon::Loops& loops) { return std::abs(polygon::area(loops)); }

/// The part of a region over which `roof` lies above `floor`.
polygon::Loops where_above(const polygon::Loops& region, const Slope& roof, const Slope& floor) {
  const Slope gap{roof.gradient - floor.gradient, roof.base - floor.base};
  polygon::Box box;
  bool is_any_above = false;
  bool is_any_below = false;
  for (const polygon::Loop& loop : region) {
    for (const glm::dvec2 corner : loop) {
      box.add(corner);
      is_any_above = is_any_above || gap.at(corner) > polygon::tolerance;
      is_any_below = is_any_below || gap.at(corner) < -polygon::tolerance;
    }
  }
  if (!is_any_below || !is_any_above) {
    return is_any_above ? region : polygon::Loops{};
  }
  const polygon::Loop whole{box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}};
  return regions::common(region, {polygon::clip(whole, {gap.gradient, -gap.base})});
}

std::vector<Block> blocks_of(const surface::Surface& surface,
                             const attic::Compartment& compartment) {
  std::vector<Block> blocks;
  std::map<std::size_t, std::vector<Ceiling>> by_part;
  std::map<std::array<double, 3>, std::uint32_t> faces;
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    const auto [ceilings, is_new] = by_part.try_emplace(plane.part);
    if (is_new) {
      ceilings->second = ceilings_under(compartment, plane.part);
    }
    const polygon::Loops plan = plan_of(surface, plane);
    const Slope roof = slope_of(plane);
    for (const Ceiling& ceiling : ceilings->second) {
      if (ceiling.plan.empty()) {
        continue;
      }
      polygon::Loops region =
          where_above(regions::common(plan, ceiling.plan), roof, ceiling.height);
      if (region.empty() || size(region) < least_m2) {
        continue;
      }
      const Slope& floor = ceiling.height;
      const auto face = faces
                            .emplace(std::array{floor.gradient.x, floor.gradient.y, floor.base},
                                     static_cast<std::uint32_t>(faces.size()))
                            .first->second;
      blocks.push_back({std::move(region), floor, roof, face, id.value});
    }
  }
  return blocks;
}

}  // namespace

Result<Bodies> compartment_bodies(const surface::Surface& surface, const attic::Attic& attic) {
  Bodies bodies;
  Faults faults;
  for (const attic::Compartment& compartment : attic.compartments) {
    const std::vector<Block> blocks = blocks_of(surface, compartment);
    if (blocks.empty()) {
      continue;
    }
    Result<Shape> shape = built(stacked(blocks), "the space of compartment " + compartment.id);
    if (shape) {
      bodies.all.push_back({"attic/" + compartment.id, std::move(shape).value()});
    } else {
      faults.insert(faults.end(), shape.faults().begin(), shape.faults().end());
    }
  }
  if (!faults.empty()) {
    return faults;
  }
  return bodies;
}

}  // namespace ridgeward::solid
