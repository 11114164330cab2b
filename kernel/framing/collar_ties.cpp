#include "framing/collar_ties.hpp"

#include "framing/seats.hpp"
#include "framing/stage.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

namespace ridgeward::framing {

namespace {

struct AtRidge {
  MemberId rafter;
  double at_m = 0.0;  ///< along the ridge
};

/// Commons that end at a ridge on one plane, along it.
std::vector<AtRidge> commons_at(const Building& building, const Framing& framing, LineId line,
                                PlaneId plane) {
  std::vector<AtRidge> all;
  if (plane.is_none()) {
    return all;
  }
  const surface::Line& ridge = building.surface.lines[line];
  const glm::dvec3 start = building.surface.nodes[ridge.from];
  const glm::dvec3 along = (building.surface.nodes[ridge.to] - start) / ridge.length_m;
  const PlaneFraming& own = framing.planes[plane];
  for (std::uint32_t i = own.first_member; i < own.end_member; ++i) {
    const Member& member = framing.members[MemberId(i)];
    if (member.head_line == line && member.kind == MemberKind::common) {
      all.push_back({MemberId(i), glm::dot(member.to - start, along)});
    }
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const AtRidge& l, const AtRidge& r) { return l.at_m < r.at_m; });
  return all;
}

/// The point of a rafter's centre line on the roof at a height; false beyond its ends.
bool at_height(const Member& rafter, double z, glm::dvec3& point) {
  const double share = (z - rafter.from.z) / (rafter.to.z - rafter.from.z);
  point = rafter.from + share * (rafter.to - rafter.from);
  return share > 0.0 && share < 1.0;
}

/// The tie between two rafters; a member without length where it can't stand.
Member tie_between(const model::Part& part, const model::CollarTies& ties, const Member& left,
                   const Member& right) {
  const Stock stock = stock_named(ties.stock);
  Member tie;
  const double slope_rad = 0.5 * M_PI - left.plumb_cut_rad;
  const double other_rad = 0.5 * M_PI - right.plumb_cut_rad;
  const double top_z = part.plate_m + ties.height_m + stock.depth_m;
  glm::dvec3 from{0.0};
  glm::dvec3 to{0.0};
  // Its upper corners lie under the deck.
  if (!at_height(left, top_z + part.deck_m / std::cos(slope_rad), from) ||
      !at_height(right, top_z + part.deck_m / std::cos(other_rad), to)) {
    return tie;
  }
  from.z = to.z = top_z;
  tie.from = from;
  tie.to = to;
  tie.kind = MemberKind::collar_tie;
  tie.lie = Lie::free;
  tie.stock = ties.stock;
  tie.thickness_m = stock.thickness_m;
  tie.depth_m = stock.depth_m;
  tie.line_length_m = tie.length_m = tie.short_point_m = glm::length(to - from);
  tie.long_point_m =
      tie.length_m + stock.depth_m / std::tan(slope_rad) + stock.depth_m / std::tan(other_rad);
  tie.plumb_cut_rad = slope_rad;  // its ends follow the rafters
  return tie;
}

/// What became of the pairs at one ridge.
struct Tally {
  int pairs = 0;
  std::size_t ties = 0;
  std::size_t alone = 0;
  std::size_t impossible = 0;
};

Tally tie_ridge(const Building& building, LineId line, std::size_t part,
                const model::CollarTies& ties, Framing& framing) {
  const surface::Line& ridge = building.surface.lines[line];
  const std::vector<AtRidge> left = commons_at(building, framing, line, ridge.left_plane());
  const std::vector<AtRidge> right = commons_at(building, framing, line, ridge.right_plane());
  const double reach_m = building.stock[part].rafter_m + 1e-6;
  const int every = std::max(1, ties.every);
  Tally tally;
  std::size_t next = 0;
  for (const AtRidge& one : left) {
    while (next < right.size() && right[next].at_m < one.at_m - reach_m) {
      ++next;
    }
    if (next == right.size() || right[next].at_m > one.at_m + reach_m) {
      ++tally.alone;
      continue;
    }
    if (tally.pairs++ % every != 0) {
      continue;
    }
    Member tie = tie_between(building.model.parts[part], ties, framing.members[one.rafter],
                             framing.members[right[next].rafter]);
    if (tie.length_m <= 0.0) {
      ++tally.impossible;
      continue;
    }
    tie.part = part;
    tie.id = ridge.id + "/c" + std::to_string(++tally.ties);
    framing.members.push_back(std::move(tie));
  }
  return tally;
}

}  // namespace

void add_collar_ties(const Building& building, Framing& framing) {
  for (const LineId line : building.surface.lines.ids()) {
    const surface::Line& ridge = building.surface.lines[line];
    const PlaneId first = ridge.left_plane().is_none() ? ridge.right_plane() : ridge.left_plane();
    if (ridge.kind != surface::LineKind::ridge || first.is_none()) {
      continue;
    }
    const std::size_t part = building.surface.planes[first].part;
    const std::optional<model::CollarTies>& ties = building.model.parts[part].framing.collar_ties;
    if (!ties) {
      continue;
    }
    const Tally tally = tie_ridge(building, line, part, *ties, framing);
    if (tally.alone > 0) {
      framing.assumptions.push_back(std::to_string(tally.alone) + " rafters at ridge " + ridge.id +
                                    " have none opposite and get no collar tie.");
    }
    if (tally.impossible > 0) {
      framing.assumptions.push_back("Collar ties at ridge " + ridge.id +
                                    " would lie outside the rafters and are left out.");
    }
  }
}

}  // namespace ridgeward::framing
