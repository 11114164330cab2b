#include "attic/space.hpp"

#include "base/regions.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::attic {

double Rise::at(glm::dvec2 plan) const { return base + glm::dot(gradient, plan); }

Rise rise_of(const surface::Plane& plane) {
  const glm::dvec3 n = plane.frame.normal;
  const glm::dvec2 gradient{-n.x / n.z, -n.y / n.z};
  const glm::dvec3 o = plane.frame.origin;
  return {gradient, o.z - glm::dot(gradient, glm::dvec2{o.x, o.y})};
}

Pieces::Pieces(const polygon::Loops& outline) {
  for (polygon::Loop& corners : polygon::convex_pieces(outline)) {
    const polygon::Box own = polygon::box_of(corners);
    box.add(own.low);
    box.add(own.high);
    all.push_back({std::move(corners), own});
  }
}

double Compartment::ceiling_at(glm::dvec2 plan, std::size_t part) const {
  const Level* first = nullptr;
  for (const Level& level : levels) {
    if ((first == nullptr || level.part == part) && polygon::contains(level.outline, plan)) {
      first = &level;
    }
  }
  return first == nullptr ? bottom_m : first->height_m;
}

namespace {

void add_pieces(const polygon::Loops& region, double ceiling_m, std::vector<Ceiled>& all) {
  for (polygon::Loop& corners : polygon::convex_pieces(region)) {
    const polygon::Box box = polygon::box_of(corners);
    all.push_back({std::move(corners), box, ceiling_m});
  }
}

bool is_level(const Compartment& compartment) {
  return std::all_of(compartment.levels.begin(), compartment.levels.end(), [&](const Level& level) {
    return level.height_m == compartment.levels.front().height_m;
  });
}

/// The ceiling of `part` first, then the others in their order, each where none before it lies.
std::vector<Ceiled> pieces_under(const Compartment& compartment, std::size_t part) {
  std::vector<const Level*> order;
  for (const Level& level : compartment.levels) {
    order.insert(level.part == part ? order.begin() : order.end(), &level);
  }
  std::vector<Ceiled> all;
  polygon::Loops rest = compartment.outline;
  for (const Level* level : order) {
    add_pieces(regions::common(rest, level->outline), level->height_m, all);
    rest = regions::without(rest, level->outline);
  }
  add_pieces(rest, compartment.bottom_m, all);
  return all;
}

void add_piece(const polygon::Loop& common, const Rise& rise, double ceiling_m, Enclosed& sum) {
  const polygon::Loop under = polygon::clip(common, rise.above(ceiling_m));
  if (under.empty()) {
    return;
  }
  const double area = polygon::area(under);
  sum.volume_m3 += area * (rise.at(polygon::centroid(under)) - ceiling_m);
  for (const glm::dvec2 corner : under) {
    sum.top_m = sum.is_any ? std::max(sum.top_m, rise.at(corner)) : rise.at(corner);
    sum.is_any = true;
  }
}

void add_plane(const Pieces& roof, const Rise& rise, const std::vector<Ceiled>& ceilings,
               Enclosed& sum) {
  for (const Pieces::One& r : roof.all) {
    for (const Ceiled& c : ceilings) {
      const polygon::Loop common =
          r.box.touches(c.box) ? polygon::overlap(r.corners, c.corners) : polygon::Loop{};
      if (!common.empty()) {
        add_piece(common, rise, c.ceiling_m, sum);
      }
    }
  }
}

}  // namespace

Ceilings::Ceilings(const Compartment& compartment, std::size_t part_count) {
  if (compartment.levels.empty() || is_level(compartment)) {
    by_part_.emplace_back();
    add_pieces(
        compartment.outline,
        compartment.levels.empty() ? compartment.bottom_m : compartment.levels.front().height_m,
        by_part_.back());
  } else {
    for (std::size_t part = 0; part < part_count; ++part) {
      by_part_.push_back(pieces_under(compartment, part));
    }
  }
  for (const Ceiled& piece : by_part_.front()) {
    box_.add(piece.box.low);
    box_.add(piece.box.high);
  }
}

double Ceilings::lowest_m() const {
  double lowest = HUGE_VAL;
  for (const std::vector<Ceiled>& pieces : by_part_) {
    for (const Ceiled& piece : pieces) {
      lowest = std::min(lowest, piece.ceiling_m);
    }
  }
  return lowest;
}

polygon::Loops plan_of(const surface::Surface& surface, const surface::Plane& plane) {
  polygon::Loops loops;
  for (const surface::Loop& loop : plane.loops) {
    loops.emplace_back();
    for (const glm::dvec3 corner : surface::corners(surface, loop)) {
      loops.back().emplace_back(corner.x, corner.y);
    }
  }
  return loops;
}

Enclosed enclosed(const surface::Surface& surface, const Ceilings& ceilings) {
  Enclosed sum;
  for (const surface::Plane& plane : surface.planes) {
    const Pieces roof(plan_of(surface, plane));
    if (roof.box.touches(ceilings.box())) {
      add_plane(roof, rise_of(plane), ceilings.under(plane.part), sum);
    }
  }
  return sum;
}

}  // namespace ridgeward::attic
