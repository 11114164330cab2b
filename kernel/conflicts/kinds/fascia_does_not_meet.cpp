#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "framing/stage.hpp"
#include "units/length.hpp"

#include <glm/geometric.hpp>

#include <cmath>
#include <optional>

namespace ridgeward::conflicts {

namespace {

/// What a fascia board takes up: common practice, no source.
constexpr double least_m = units::inch_m / 16.0;

/// How far the eave of an edge hangs below the deck at the wall line.
double drop_m(const model::Edge& edge) { return edge.overhang_m * edge.pitch.tangent(); }

std::vector<NodeId> eave_ends(const surface::Surface& surface, std::size_t part, std::size_t edge) {
  std::vector<NodeId> ends;
  for (const surface::Line& line : surface.lines) {
    const PlaneId id = line.left_plane().is_none() ? line.right_plane() : line.left_plane();
    if (line.kind == surface::LineKind::eave && !id.is_none() && surface.planes[id].part == part &&
        surface.planes[id].edge == edge) {
      ends.push_back(line.from);
      ends.push_back(line.to);
    }
  }
  return ends;
}

/// The ends of two eaves where they come nearest in plan.
struct Corner {
  glm::dvec3 one{0.0};
  glm::dvec3 other{0.0};
  double apart_m = 0.0;
};

std::optional<Corner> corner_between(const surface::Surface& surface, std::size_t part,
                                     std::size_t one, std::size_t other) {
  std::optional<Corner> nearest;
  const std::vector<NodeId> others = eave_ends(surface, part, other);
  for (const NodeId a : eave_ends(surface, part, one)) {
    for (const NodeId b : others) {
      const Corner corner{surface.nodes[a], surface.nodes[b],
                          glm::length(glm::dvec2{surface.nodes[a]} - glm::dvec2{surface.nodes[b]})};
      if (!nearest || corner.apart_m < nearest->apart_m) {
        nearest = corner;
      }
    }
  }
  return nearest;
}

Finding finding_at(const Roof& roof, std::size_t part_index, std::size_t one, std::size_t other,
                   const Corner& corner) {
  const model::Part& part = roof.model.parts[part_index];
  const std::string first = part.id + "/" + std::to_string(one);
  const std::string second = part.id + "/" + std::to_string(other);
  const double meeting_m = drop_m(part.edge(one)) / part.edge(other).pitch.tangent();
  Finding finding;
  finding.kind = "fascia_does_not_meet";
  finding.severity = Severity::warning;
  finding.at = corner.one.z < corner.other.z ? corner.one : corner.other;
  finding.plane = roof.surface.plane_named(second);
  finding.measured =
      length_words(roof, std::abs(corner.one.z - corner.other.z)) + " between the two eaves";
  finding.needed = "eaves at one height";
  finding.message = "The fascias of " + first + " and " + second + " do not meet at their corner.";
  finding.remedy = "Make the fascia level, or change the overhang of " + second + " from " +
                   length_words(roof, part.edge(other).overhang_m) + " to " +
                   length_words(roof, meeting_m) + ".";
  return finding;
}

std::vector<Finding> find_fascia_does_not_meet(const Roof& roof) {
  std::vector<Finding> found;
  for (std::size_t i = 0; i < roof.model.parts.size(); ++i) {
    const model::Part& part = roof.model.parts[i];
    if (part.fascia != model::Fascia::as_given) {
      continue;
    }
    for (std::size_t edge = 0; edge < part.edge_count(); ++edge) {
      const std::size_t next = framing::neighbours_of(part, edge).after;
      const model::Edge& one = part.edge(edge);
      const model::Edge& other = part.edge(next);
      if (!model::bears_plane(one.kind) || !model::bears_plane(other.kind) ||
          std::abs(drop_m(one) - drop_m(other)) < least_m) {
        continue;
      }
      // The eaves end near their corner unless another part covers it.
      const double reach_m = 2.0 * (one.overhang_m + other.overhang_m) + units::inch_m;
      const std::optional<Corner> corner = corner_between(roof.surface, i, edge, next);
      if (corner && corner->apart_m <= reach_m) {
        found.push_back(finding_at(roof, i, edge, next, *corner));
      }
    }
  }
  return found;
}

}  // namespace

extern const Check fascia_does_not_meet_kind;
const Check fascia_does_not_meet_kind{"fascia_does_not_meet",
                                      "eaves of a part that meet at a corner at different heights",
                                      find_fascia_does_not_meet};

}  // namespace ridgeward::conflicts
