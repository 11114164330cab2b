#include "solid/stack.hpp"

#include "solid/plan_net.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace ridgeward::solid {

namespace {

/// Heights closer than this over one place are one.
constexpr double near_z_m = 1e-5;

/// Floor and roof of a block over one vertex of the plan, as points.
struct Rung {
  std::uint32_t floor = 0;
  std::uint32_t roof = 0;
};

class Stacker {
 public:
  explicit Stacker(const std::vector<Block>& blocks) : blocks_(blocks), plan_(blocks) {}

  Facets run();

 private:
  void raise_columns();
  void add_level_faces(bool is_roof);
  void add_walls();
  void add_wall(std::uint32_t from, std::uint32_t to, std::array<std::uint32_t, 2> low,
                std::array<std::uint32_t, 2> high);
  Rung rung(std::uint32_t block, std::uint32_t vertex) const { return rungs_.at({block, vertex}); }

  const std::vector<Block>& blocks_;
  PlanNet plan_;
  Facets facets_;
  /// The points over each vertex are numbered through from below.
  std::vector<std::uint32_t> first_of_;
  std::map<std::pair<std::uint32_t, std::uint32_t>, Rung> rungs_;
};

void Stacker::raise_columns() {
  std::vector<std::vector<std::uint32_t>> blocks_at(plan_.vertices().size());
  for (const PlanNet::Side& side : plan_.sides()) {
    for (const std::uint32_t vertex : {side.from, side.to}) {
      std::vector<std::uint32_t>& here = blocks_at[vertex];
      if (std::find(here.begin(), here.end(), side.block) == here.end()) {
        here.push_back(side.block);
      }
    }
  }
  for (std::uint32_t vertex = 0; vertex < blocks_at.size(); ++vertex) {
    const glm::dvec2 plan = plan_.vertices()[vertex];
    std::vector<double> heights;
    for (const std::uint32_t block : blocks_at[vertex]) {
      heights.push_back(blocks_[block].floor.at(plan));
      heights.push_back(blocks_[block].roof.at(plan));
    }
    std::sort(heights.begin(), heights.end());
    const auto first = static_cast<std::uint32_t>(facets_.points.size());
    first_of_.push_back(first);
    for (const double z : heights) {
      if (facets_.points.size() == first || z - facets_.points.back().z > near_z_m) {
        facets_.points.emplace_back(plan.x, plan.y, z);
      }
    }
    const auto point_at = [&](double z) {
      auto point = static_cast<std::uint32_t>(facets_.points.size() - 1);
      while (point > first && facets_.points[point].z > z) {
        --point;
      }
      return point;
    };
    for (const std::uint32_t block : blocks_at[vertex]) {
      const std::uint32_t floor = point_at(blocks_[block].floor.at(plan));
      const std::uint32_t roof = point_at(blocks_[block].roof.at(plan));
      rungs_[{block, vertex}] = {floor, std::max(floor, roof)};
    }
  }
}

/// Roofs or floors: sides between blocks of one face go.
void Stacker::add_level_faces(bool is_roof) {
  std::map<std::uint32_t, std::vector<PlanNet::Side>> by_face;
  std::map<std::uint32_t, std::uint32_t> block_of;
  for (const PlanNet::Side& side : plan_.sides()) {
    const Block& block = blocks_[side.block];
    const std::uint32_t face = is_roof ? block.roof_face : block.floor_face;
    by_face[face].push_back(side);
    block_of.emplace(face, side.block);
  }
  for (const auto& [face, sides] : by_face) {
    const Slope& slope = is_roof ? blocks_[block_of[face]].roof : blocks_[block_of[face]].floor;
    const glm::dvec3 up = glm::normalize(glm::dvec3{-slope.gradient, 1.0});
    Facets::Face own;
    own.normal = is_roof ? up : -up;
    for (const std::vector<PlanNet::Side>& loop : plan_.loops_around(sides)) {
      std::vector<std::uint32_t>& points = own.loops.emplace_back();
      for (const PlanNet::Side& side : loop) {
        const Rung here = rung(side.block, side.from);
        points.push_back(is_roof ? here.roof : here.floor);
      }
      if (!is_roof) {
        std::reverse(points.begin(), points.end());
      }
    }
    if (!own.loops.empty()) {
      facets_.faces.push_back(std::move(own));
    }
  }
}

/// The upright face over a side, seen from its right; `low` and `high` at its two ends.
void Stacker::add_wall(std::uint32_t from, std::uint32_t to, std::array<std::uint32_t, 2> low,
                       std::array<std::uint32_t, 2> high) {
  if (low[0] >= high[0] && low[1] >= high[1]) {
    return;
  }
  high = {std::max(low[0], high[0]), std::max(low[1], high[1])};
  const glm::dvec2 along = glm::normalize(plan_.vertices()[to] - plan_.vertices()[from]);
  std::vector<std::uint32_t> loop;
  for (std::uint32_t point = high[0]; point > low[0]; --point) {
    loop.push_back(point);
  }
  loop.push_back(low[0]);
  for (std::uint32_t point = low[1]; point <= high[1]; ++point) {
    loop.push_back(point);
  }
  facets_.add(std::move(loop), {along.y, -along.x, 0.0});
}

/// On each side of the plan the block on its left is bare below and above the one on its right.
void Stacker::add_walls() {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> block_left_of;
  for (const PlanNet::Side& side : plan_.sides()) {
    block_left_of[{side.from, side.to}] = side.block;
  }
  for (const PlanNet::Side& side : plan_.sides()) {
    const Rung a = rung(side.block, side.from);
    const Rung b = rung(side.block, side.to);
    const auto other = block_left_of.find({side.to, side.from});
    if (other == block_left_of.end()) {
      add_wall(side.from, side.to, {a.floor, b.floor}, {a.roof, b.roof});
      continue;
    }
    const Rung c = rung(other->second, side.from);
    const Rung d = rung(other->second, side.to);
    add_wall(side.from, side.to, {a.floor, b.floor},
             {std::min(a.roof, c.floor), std::min(b.roof, d.floor)});
    add_wall(side.from, side.to, {std::max(a.floor, c.roof), std::max(b.floor, d.roof)},
             {a.roof, b.roof});
  }
}

Facets Stacker::run() {
  raise_columns();
  add_level_faces(true);
  add_level_faces(false);
  add_walls();
  return std::move(facets_);
}

}  // namespace

Facets stacked(const std::vector<Block>& blocks) { return Stacker(blocks).run(); }

}  // namespace ridgeward::solid
