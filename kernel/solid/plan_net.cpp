#include "solid/plan_net.hpp"

#include "solid/stack.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace ridgeward::solid {

namespace {

constexpr double near_m = 2e-6;
/// Heights that differ by less don't cross.
constexpr double near_z_m = 1e-5;

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

using Ends = std::pair<std::uint32_t, std::uint32_t>;

/// Takes out sides that run both ways.
std::vector<PlanNet::Side> without_pairs(const std::vector<PlanNet::Side>& sides) {
  std::multiset<Ends> left;
  for (const PlanNet::Side& side : sides) {
    left.insert({side.from, side.to});
  }
  std::vector<PlanNet::Side> kept;
  for (const PlanNet::Side& side : sides) {
    if (left.count({side.to, side.from}) == 0) {
      kept.push_back(side);
    }
  }
  return kept;
}

/// Shares of the way from `a` to `b` at which a floor or roof of one block crosses one of the
/// other.
std::vector<double> crossings(const Block& one, const Block& two, glm::dvec2 a, glm::dvec2 b) {
  std::vector<double> places;
  for (const auto& [f, g] : {std::pair(&one.floor, &two.floor), std::pair(&one.roof, &two.roof),
                             std::pair(&one.floor, &two.roof), std::pair(&one.roof, &two.floor)}) {
    const double at_a = f->at(a) - g->at(a);
    const double at_b = f->at(b) - g->at(b);
    if ((at_a > near_z_m && at_b < -near_z_m) || (at_a < -near_z_m && at_b > near_z_m)) {
      places.push_back(at_a / (at_a - at_b));
    }
  }
  std::sort(places.begin(), places.end());
  return places;
}

}  // namespace

PlanNet::PlanNet(const std::vector<Block>& blocks) {
  for (std::uint32_t block = 0; block < blocks.size(); ++block) {
    for (const polygon::Loop& loop : blocks[block].plan) {
      add_loop(loop, block);
    }
  }
  split_at_vertices();
  split_at_crossings(blocks);
}

void PlanNet::add_loop(const std::vector<glm::dvec2>& loop, std::uint32_t block) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const std::uint32_t from = vertex_at(loop[i]);
    const std::uint32_t to = vertex_at(loop[(i + 1) % loop.size()]);
    if (from != to) {
      sides_.push_back({from, to, block});
    }
  }
}

std::uint32_t PlanNet::vertex_at(glm::dvec2 p) {
  for (std::uint32_t i = 0; i < vertices_.size(); ++i) {
    if (glm::length(vertices_[i] - p) < near_m) {
      return i;
    }
  }
  vertices_.push_back(p);
  return static_cast<std::uint32_t>(vertices_.size() - 1);
}

void PlanNet::split_at_vertices() {
  std::vector<Side> all;
  for (const Side& side : sides_) {
    const glm::dvec2 a = vertices_[side.from];
    const glm::dvec2 way = vertices_[side.to] - a;
    const double length = glm::length(way);
    std::vector<std::pair<double, std::uint32_t>> on;
    for (std::uint32_t i = 0; i < vertices_.size(); ++i) {
      const glm::dvec2 d = vertices_[i] - a;
      const double at = glm::dot(d, way) / length;
      if (i != side.from && i != side.to && std::abs(cross(way, d)) < near_m * length && at > 0.0 &&
          at < length) {
        on.emplace_back(at, i);
      }
    }
    std::sort(on.begin(), on.end());
    std::uint32_t from = side.from;
    for (const auto& [at, vertex] : on) {
      all.push_back({from, vertex, side.block});
      from = vertex;
    }
    all.push_back({from, side.to, side.block});
  }
  // A sliver of a block folds onto itself: both of its sides go.
  std::map<std::uint32_t, std::vector<Side>> by_block;
  for (const Side& side : all) {
    by_block[side.block].push_back(side);
  }
  sides_.clear();
  for (const auto& [block, own] : by_block) {
    const std::vector<Side> kept = without_pairs(own);
    sides_.insert(sides_.end(), kept.begin(), kept.end());
  }
}

void PlanNet::split_at_crossings(const std::vector<Block>& blocks) {
  std::map<Ends, std::uint32_t> block_left_of;
  for (const Side& side : sides_) {
    block_left_of[{side.from, side.to}] = side.block;
  }
  std::map<Ends, std::vector<std::uint32_t>> on;
  for (const auto& [ends, block] : block_left_of) {
    const auto other = block_left_of.find({ends.second, ends.first});
    if (other == block_left_of.end() || ends.first > ends.second) {
      continue;
    }
    const Block& one = blocks[block];
    const Block& two = blocks[other->second];
    const glm::dvec2 a = vertices_[ends.first];
    const glm::dvec2 b = vertices_[ends.second];
    const std::vector<double> places = crossings(one, two, a, b);
    for (const double place : places) {
      const std::uint32_t vertex = vertex_at(a + place * (b - a));
      std::vector<std::uint32_t>& own = on[ends];
      if (vertex != ends.first && vertex != ends.second &&
          std::find(own.begin(), own.end(), vertex) == own.end()) {
        own.push_back(vertex);
      }
    }
  }
  std::vector<Side> all;
  for (const Side& side : sides_) {
    const bool is_forward = side.from < side.to;
    const auto found = on.find(is_forward ? Ends{side.from, side.to} : Ends{side.to, side.from});
    std::vector<std::uint32_t> between =
        found == on.end() ? std::vector<std::uint32_t>{} : found->second;
    if (!is_forward) {
      std::reverse(between.begin(), between.end());
    }
    std::uint32_t from = side.from;
    for (const std::uint32_t vertex : between) {
      all.push_back({from, vertex, side.block});
      from = vertex;
    }
    all.push_back({from, side.to, side.block});
  }
  sides_ = std::move(all);
}

double PlanNet::area(const std::vector<Side>& loop) const {
  double twice = 0.0;
  const glm::dvec2 origin = vertices_[loop.front().from];
  for (const Side& side : loop) {
    twice += cross(vertices_[side.from] - origin, vertices_[side.to] - origin);
  }
  return twice / 2;
}

namespace {

/// Cuts a walk at the vertices that it passes twice.
template <class Area>
void add_simple(const std::vector<PlanNet::Side>& walk, const Area& area,
                std::vector<std::vector<PlanNet::Side>>& outer,
                std::vector<std::vector<PlanNet::Side>>& holes) {
  std::vector<PlanNet::Side> open;
  for (const PlanNet::Side& side : walk) {
    open.push_back(side);
    const auto start = std::find_if(open.begin(), open.end(),
                                    [&](const auto& one) { return one.from == side.to; });
    if (start != open.end()) {
      std::vector<PlanNet::Side> loop(start, open.end());
      open.erase(start, open.end());
      if (loop.size() >= 3) {
        (area(loop) > 0.0 ? outer : holes).push_back(std::move(loop));
      }
    }
  }
}

}  // namespace

std::vector<std::vector<PlanNet::Side>> PlanNet::loops_around(
    const std::vector<Side>& sides) const {
  const std::vector<Side> border = without_pairs(sides);
  std::multimap<std::uint32_t, std::size_t> leaving;
  for (std::size_t i = 0; i < border.size(); ++i) {
    leaving.emplace(border[i].from, i);
  }
  // The next side is the first one clockwise from where the last came from: the face between.
  const auto next_of = [&](const Side& last) {
    const glm::dvec2 back = vertices_[last.from] - vertices_[last.to];
    auto best = leaving.end();
    double least = HUGE_VAL;
    const auto [first, end] = leaving.equal_range(last.to);
    for (auto it = first; it != end; ++it) {
      const glm::dvec2 way = vertices_[border[it->second].to] - vertices_[last.to];
      double turn = std::atan2(-cross(back, way), glm::dot(back, way));
      turn += turn <= 0.0 ? 2.0 * M_PI : 0.0;
      if (turn < least) {
        least = turn;
        best = it;
      }
    }
    return best;
  };
  std::vector<std::vector<Side>> outer;
  std::vector<std::vector<Side>> holes;
  while (!leaving.empty()) {
    auto at = leaving.begin();
    std::vector<Side> walk;
    while (at != leaving.end()) {
      walk.push_back(border[at->second]);
      leaving.erase(at);
      at = next_of(walk.back());
    }
    add_simple(
        walk, [this](const auto& loop) { return area(loop); }, outer, holes);
  }
  outer.insert(outer.end(), holes.begin(), holes.end());
  return outer;
}

}  // namespace ridgeward::solid
