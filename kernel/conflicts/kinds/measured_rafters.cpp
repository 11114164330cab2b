#include "conflicts/check.hpp"
#include "conflicts/words.hpp"
#include "framing/rafter_centres.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace ridgeward::conflicts {

namespace {

/// A bay wider than so many spacings lacks rafters: one left out by mistake makes two.
constexpr double most_spacings = 2.0;

/// The members measured on one edge, and where the model file has them.
struct Measured {
  std::size_t part = 0;
  const model::MeasuredEdge* edge = nullptr;
  std::string where() const { return fmt::format("/parts/{}/framing/edges/{}", part, edge->edge); }
};

Finding about(const Roof& roof, PlaneId plane, glm::dvec2 uv) {
  Finding finding;
  finding.kind = "measured_rafters";
  finding.severity = Severity::warning;
  finding.plane = plane;
  finding.at = roof.surface.planes[plane].frame.at(uv);
  return finding;
}

struct Reach {
  double from_m = HUGE_VAL;
  double to_m = -HUGE_VAL;
};
Reach reach_of(const Roof& roof, const surface::Plane& plane) {
  Reach reach;
  for (const surface::Loop& loop : plane.loops) {
    for (const glm::dvec2 corner : surface::corners_uv(roof.surface, plane.frame, loop)) {
      reach = {std::min(reach.from_m, corner.x), std::max(reach.to_m, corner.x)};
    }
  }
  return reach;
}

/// Planes that rise from the edge.
std::vector<PlaneId> planes_of(const Roof& roof, const Measured& measured) {
  std::vector<PlaneId> all;
  for (const PlaneId id : roof.surface.planes.ids()) {
    const surface::Plane& plane = roof.surface.planes[id];
    if (plane.part == measured.part && plane.cricket.empty() &&
        plane.edge == static_cast<std::size_t>(measured.edge->edge)) {
      all.push_back(id);
    }
  }
  return all;
}

/// Members beyond all planes of their edge stand nowhere.
void find_off_wall(const Roof& roof, const Measured& measured, const std::vector<PlaneId>& planes,
                   std::vector<Finding>& found) {
  std::vector<std::size_t> off;
  Reach wall;  // from the wall's left end
  for (const PlaneId id : planes) {
    const surface::Plane& plane = roof.surface.planes[id];
    const Reach own = reach_of(roof, plane);
    wall = {std::min(wall.from_m, own.from_m - plane.wall_start_u_m),
            std::max(wall.to_m, own.to_m - plane.wall_start_u_m)};
  }
  for (std::size_t i = 0; i < measured.edge->at_m.size(); ++i) {
    const double at_m = measured.edge->at_m[i];
    if (at_m < wall.from_m - tolerance_m || at_m > wall.to_m + tolerance_m) {
      off.push_back(i);
    }
  }
  if (off.empty()) {
    return;
  }
  Finding finding = about(roof, planes.front(), {});
  std::vector<std::string> marks;
  marks.reserve(off.size());
  for (const std::size_t i : off) {
    marks.push_back(fmt::format("{} ({}/at/{})", length_words(roof, measured.edge->at_m[i]),
                                measured.where(), i));
  }
  finding.measured = fmt::format("{}", fmt::join(marks, ", "));
  finding.needed = fmt::format("{} to {} along the edge", length_words(roof, wall.from_m),
                               length_words(roof, wall.to_m));
  finding.message = fmt::format("Of the rafters measured on edge {} of {} {} off the roof: {}.",
                                measured.edge->edge, roof.model.parts[measured.part].id,
                                off.size() == 1 ? "one lies" : std::to_string(off.size()) + " lie",
                                finding.measured);
  finding.remedy = "Measure from the edge's left end seen from outside, and mind the unit.";
  found.push_back(std::move(finding));
}

/// The widest of the bays between which rafters must be missing.
void find_gap(const Roof& roof, const Measured& measured, PlaneId id, std::vector<Finding>& found) {
  const surface::Plane& plane = roof.surface.planes[id];
  const framing::PlaneFraming& own = roof.framing.planes[id];
  const double most_m = most_spacings * roof.model.parts[measured.part].framing.spacing_m;
  const framing::Bay* widest = nullptr;
  std::size_t count = 0;
  for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
    const framing::Bay& bay = roof.framing.bays[BayId(i)];
    const framing::Centres rafters = framing::centres_beside(roof.framing, bay);
    if (rafters.right_m - rafters.left_m > most_m + tolerance_m) {
      ++count;
      widest = widest == nullptr || bay.clear_width_m > widest->clear_width_m ? &bay : widest;
    }
  }
  if (widest == nullptr) {
    return;
  }
  const auto [from_m, to_m] = framing::centres_beside(roof.framing, *widest);
  Finding finding = about(roof, id, {0.5 * (from_m + to_m), plane.wall_line_v_m});
  finding.measured = length_words(roof, to_m - from_m) + " from rafter to rafter";
  finding.needed = fmt::format("at most {}, twice the spacing", length_words(roof, most_m));
  finding.message = fmt::format(
      "Rafters are missing on {}: none is given from {} to {} along the wall ({}/at){}.", plane.id,
      length_words(roof, from_m - plane.wall_start_u_m),
      length_words(roof, to_m - plane.wall_start_u_m), measured.where(),
      count > 1 ? fmt::format(", and {} more gaps are as wide", count - 1) : std::string());
  finding.remedy =
      "Measure all rafters of the edge: bays, slots and the cut list are as good as what is given. "
      "Or leave the edge out, and they are laid out at the spacing.";
  found.push_back(std::move(finding));
}

std::vector<Finding> find_measured_rafters(const Roof& roof) {
  std::vector<Finding> found;
  for (std::size_t part = 0; part < roof.model.parts.size(); ++part) {
    for (const model::MeasuredEdge& edge : roof.model.parts[part].framing.measured) {
      const Measured measured{part, &edge};
      const std::vector<PlaneId> planes = planes_of(roof, measured);
      if (edge.at_m.empty() || planes.empty()) {
        continue;
      }
      find_off_wall(roof, measured, planes, found);
      for (const PlaneId plane : planes) {
        find_gap(roof, measured, plane, found);
      }
    }
  }
  return found;
}

}  // namespace

extern const Check measured_rafters_kind;
const Check measured_rafters_kind{
    "measured_rafters", "measured rafters that lie off the roof, or leave a gap of over two bays",
    find_measured_rafters};

}  // namespace ridgeward::conflicts
