#pragma once
// Laws of members and bays that hold on every roof; REQUIREs them.

#include "base/polygon.hpp"
#include "framing/cut_list.hpp"
#include "framing/framing.hpp"
#include "surface/surface.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace ridgeward::tests {

inline double off_line(const surface::Surface& surface, LineId id, glm::dvec3 p) {
  const glm::dvec3 a = surface.nodes[surface.lines[id].from];
  const glm::dvec3 way = glm::normalize(surface.nodes[surface.lines[id].to] - a);
  return glm::length(p - a - glm::dot(p - a, way) * way);
}

/// Ends, before they are shortened, lie on the lines that they are said to reach.
inline void check_ends(const surface::Surface& surface, const framing::Framing& framing) {
  for (const framing::Member& member : framing.members) {
    INFO(member.id);
    REQUIRE(member.short_point_m <= member.length_m + 1e-9);
    REQUIRE(member.length_m <= member.long_point_m + 1e-9);
    REQUIRE(std::abs(glm::length(member.to - member.from) - member.length_m) < 1e-6);
    if (member.plane.is_none() || !member.part_of.is_none()) {
      continue;
    }
    const surface::Plane& plane = surface.planes[member.plane];
    // Blind decks are joined to their plane within ten micrometres, and told by its lines.
    const bool is_joined =
        std::any_of(surface.blind_decks.begin(), surface.blind_decks.end(),
                    [&](const surface::BlindDeck& deck) { return deck.plane == member.plane; });
    const double within_m = is_joined ? 4e-5 : 5e-6;
    const glm::dvec3 up = plane.frame.up / std::cos(plane.pitch.radians());
    if (!member.head_line.is_none()) {
      CAPTURE(framing::word(member.kind), surface.lines[member.head_line].id, member.line_length_m,
              member.head_shortening_m, member.foot_shortening_m, member.length_m, member.opening);
      REQUIRE(off_line(surface, member.head_line, member.to + member.head_shortening_m * up) <
              within_m);
    }
    if (!member.foot_line.is_none()) {
      REQUIRE(off_line(surface, member.foot_line, member.from - member.foot_shortening_m * up) <
              within_m);
    }
  }
}

/// Clear widths and members sum to each eave.
inline void check_eaves(const surface::Surface& surface, const framing::Framing& framing) {
  std::map<std::uint32_t, double> covered;
  const auto cover = [&](PlaneId id, const std::vector<glm::dvec2>& outline) {
    const surface::Plane& plane = surface.planes[id];
    for (const surface::LoopStep& step : plane.loops.front()) {
      if (surface.lines[step.line].kind != surface::LineKind::eave) {
        continue;
      }
      for (std::size_t i = 0; i < outline.size(); ++i) {
        const glm::dvec3 a = plane.frame.at(outline[i]);
        const glm::dvec3 b = plane.frame.at(outline[(i + 1) % outline.size()]);
        const glm::dvec3 from = surface.nodes[surface.lines[step.line].from];
        const double length = surface.lines[step.line].length_m;
        const glm::dvec3 way = (surface.nodes[surface.lines[step.line].to] - from) / length;
        // Parts a thousandth of an inch off each other meet in nodes some 3e-6 m off the eave.
        if (off_line(surface, step.line, a) < 1e-5 && off_line(surface, step.line, b) < 1e-5) {
          const double one = glm::dot(a - from, way);
          const double other = glm::dot(b - from, way);
          covered[step.line.value] += std::max(
              0.0, std::min(length, std::max(one, other)) - std::max(0.0, std::min(one, other)));
        }
      }
    }
  };
  for (const framing::Member& member : framing.members) {
    if (!member.plane.is_none() && !member.outline.empty()) {
      cover(member.plane, member.outline);
    }
  }
  for (const framing::Bay& bay : framing.bays) {
    cover(bay.plane, bay.outline);
  }
  for (const framing::Opening& opening : framing.openings) {
    cover(opening.plane, opening.outline);
  }
  for (const auto& [line, sum] : covered) {
    INFO(surface.lines[LineId(line)].id);
    REQUIRE(sum == Approx(surface.lines[LineId(line)].length_m).epsilon(1e-6).margin(1e-5));
  }
}

/// A bay across has this one across.
inline void check_across(const framing::Framing& framing) {
  for (const BayId id : framing.bays.ids()) {
    for (const framing::Across& across : framing.bays[id].across) {
      const framing::Bay& other = framing.bays[across.bay];
      REQUIRE(other.plane != framing.bays[id].plane);
      const auto back = std::find_if(
          other.across.begin(), other.across.end(),
          [&](const framing::Across& one) { return one.bay == id && one.line == across.line; });
      REQUIRE(back != other.across.end());
      REQUIRE(back->length_m == Approx(across.length_m).epsilon(1e-9));
    }
  }
}

/// Every piece is on the cut list once, among its like, the longest first.
inline void check_cut_list(const framing::Framing& framing) {
  std::set<std::string> marks;
  std::size_t pieces = 0;
  const std::vector<framing::CutLine> list = framing::cut_list(framing);
  for (std::size_t i = 0; i < list.size(); ++i) {
    const framing::CutLine& line = list[i];
    REQUIRE(static_cast<std::size_t>(line.count) == line.marks.size());
    pieces += line.marks.size();
    marks.insert(line.marks.begin(), line.marks.end());
    if (i > 0) {
      REQUIRE(list[i - 1].part <= line.part);
      if (list[i - 1].part == line.part && list[i - 1].plane == line.plane &&
          list[i - 1].kind == line.kind && list[i - 1].stock == line.stock &&
          !framing::is_truss(line.kind)) {
        REQUIRE(list[i - 1].like.long_point_m >= line.like.long_point_m - framing::same_cut_m);
      }
    }
  }
  std::size_t loose = framing.trusses.size();
  for (const framing::Member& member : framing.members) {
    const bool is_loose = !framing::is_truss(member.kind) && member.part_of.is_none();
    loose += is_loose ? 1 : 0;
    REQUIRE((!is_loose || marks.count(member.id) == 1));
  }
  REQUIRE(pieces == loose);
}

inline void check_laws(const surface::Surface& surface, const framing::Framing& framing) {
  check_ends(surface, framing);
  check_eaves(surface, framing);
  check_across(framing);
  check_cut_list(framing);
}

}  // namespace ridgeward::tests
