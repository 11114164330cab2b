#include "attic/space.hpp"

#include "base/regions.hpp"

#include <glm/common.hpp>
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

namespace {

/// A line along the border of a piece, up to this far beside it, counts as within it.
constexpr double along_m = 1e-5;

/// The share of a line from `from` that lies within a convex counter-clockwise loop; empty for
/// none.
Reach within_one(const polygon::Loop& convex, glm::dvec2 from, glm::dvec2 to) {
  Reach part{0.0, 1.0};
  const glm::dvec2 way = to - from;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const glm::dvec2 a = convex[i];
    const glm::dvec2 side = convex[(i + 1) % convex.size()] - a;
    const glm::dvec2 inward = glm::dvec2{-side.y, side.x} / glm::length(side);
    const double start = glm::dot(inward, from - a);
    const double step = glm::dot(inward, way);
    if (std::abs(step) <= along_m) {
      part.to = start < -along_m ? 0.0 : part.to;
    } else if (step > 0.0) {
      part.from = std::max(part.from, -start / step);
    } else {
      part.to = std::min(part.to, -start / step);
    }
  }
  return part;
}

void add_pieces(const polygon::Loops& region, double ceiling_m, std::vector<Ceiled>& all) {
  for (polygon::Loop& corners : polygon::convex_pieces(region)) {
    const polygon::Box box = polygon::box_of(corners);
    all.push_back({std::move(corners), box, ceiling_m});
  }
}

/// A part of an attic's plan under one ceiling.
struct Region {
  polygon::Loops plan;
  polygon::Box box;
  double ceiling_m = 0.0;
};

polygon::Box box_of(const polygon::Loops& loops) {
  polygon::Box box;
  for (const polygon::Loop& loop : loops) {
    for (const glm::dvec2 p : loop) {
      box.add(p);
    }
  }
  return box;
}

/// The ceilings in their order, each where none before it lies.
std::vector<Region> regions_of(const Space& space) {
  std::vector<Region> all;
  const auto add = [&](polygon::Loops plan, double ceiling_m) {
    const polygon::Box box = box_of(plan);
    all.push_back({std::move(plan), box, ceiling_m});
  };
  polygon::Loops rest = space.outline;
  for (const Level& level : space.levels) {
    add(regions::common(rest, level.outline), level.height_m);
    rest = regions::without(rest, level.outline);
  }
  add(std::move(rest), space.bottom_m);
  return all;
}

/// The same with the ceiling of one part first; nothing when that changes nothing.
std::vector<Ceiled> pieces_with_first(const std::vector<Region>& regions, const Level& first) {
  const polygon::Box box = box_of(first.outline);
  std::vector<Ceiled> all;
  bool is_other = false;
  for (const Region& region : regions) {
    if (region.ceiling_m == first.height_m || !region.box.touches(box)) {
      add_pieces(region.plan, region.ceiling_m, all);
      continue;
    }
    const polygon::Loops own = regions::common(region.plan, first.outline);
    is_other = is_other || !own.empty();
    add_pieces(own, first.height_m, all);
    add_pieces(regions::without(region.plan, first.outline), region.ceiling_m, all);
  }
  return is_other ? all : std::vector<Ceiled>{};
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

Ceilings::Ceilings(const Space& space, std::size_t part_count) : choice_(part_count, 0) {
  const std::vector<Region> regions = regions_of(space);
  choices_.emplace_back();
  for (const Region& region : regions) {
    add_pieces(region.plan, region.ceiling_m, choices_.back());
  }
  for (const Level& level : space.levels) {
    std::vector<Ceiled> own = pieces_with_first(regions, level);
    if (level.part < part_count && !own.empty()) {
      choice_[level.part] = choices_.size();
      choices_.push_back(std::move(own));
    }
  }
  for (const Ceiled& piece : choices_.front()) {
    box_.add(piece.box.low);
    box_.add(piece.box.high);
  }
}

double Ceilings::lowest_m() const {
  double lowest = HUGE_VAL;
  for (const std::vector<Ceiled>& pieces : choices_) {
    for (const Ceiled& piece : pieces) {
      lowest = std::min(lowest, piece.ceiling_m);
    }
  }
  return lowest;
}

std::vector<Reach> within(const Pieces& pieces, glm::dvec2 from, glm::dvec2 to) {
  std::vector<Reach> all;
  polygon::Box box;
  box.add(glm::min(from, to) - along_m);
  box.add(glm::max(from, to) + along_m);
  for (const Pieces::One& one : pieces.all) {
    const Reach part = one.box.touches(box) ? within_one(one.corners, from, to) : Reach{};
    if (part.to > part.from) {
      all.push_back(part);
    }
  }
  std::sort(all.begin(), all.end(), [](const Reach& l, const Reach& r) { return l.from < r.from; });
  std::vector<Reach> joined;
  for (const Reach& part : all) {
    if (!joined.empty() && part.from <= joined.back().to + polygon::tolerance) {
      joined.back().to = std::max(joined.back().to, part.to);
    } else {
      joined.push_back(part);
    }
  }
  return joined;
}

polygon::Loop plan_of(const surface::Plane& plane, const std::vector<glm::dvec2>& outline_uv) {
  polygon::Loop loop;
  loop.reserve(outline_uv.size());
  for (const glm::dvec2 uv : outline_uv) {
    const glm::dvec3 p = plane.frame.at(uv);
    loop.emplace_back(p.x, p.y);
  }
  return loop;
}

Enclosed enclosed(const std::vector<RoofPiece>& roof, const Ceilings& ceilings) {
  Enclosed sum;
  for (const RoofPiece& piece : roof) {
    if (piece.pieces.box.touches(ceilings.box())) {
      add_plane(piece.pieces, piece.rise, ceilings.under(piece.part), sum);
    }
  }
  return sum;
}

}  // namespace ridgeward::attic
