#include "framing/bay_borders.hpp"

#include "base/polygon.hpp"
#include "framing/stage.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::framing {

namespace {

constexpr double on_line_m = 1e-6;
constexpr double least_m = 1e-6;

bool may_open_across(surface::LineKind kind) {
  return kind == surface::LineKind::ridge || kind == surface::LineKind::hip ||
         kind == surface::LineKind::valley || kind == surface::LineKind::pitch_break;
}

/// A stretch of a line that one bay has on its border.
struct Stretch {
  double from_m = 0.0;
  double to_m = 0.0;
  BayId bay;
};

/// A line on the border of the plane at hand.
struct Side {
  LineId line;
  glm::dvec2 start{0.0};  ///< the line's own `from`, plane coordinates
  glm::dvec2 along{0.0};
  double length_m = 0.0;
};

std::vector<Side> sides_of(const surface::Surface& surface, const surface::Plane& plane) {
  std::vector<Side> sides;
  for (const surface::Loop& loop : plane.loops) {
    for (const surface::LoopStep& step : loop) {
      const surface::Line& line = surface.lines[step.line];
      if (!may_open_across(line.kind) || line.left_plane().is_none() ||
          line.right_plane().is_none() || line.left_plane() == line.right_plane()) {
        continue;
      }
      const glm::dvec2 start = plane.frame.uv(surface.nodes[line.from]);
      const glm::dvec2 way = plane.frame.uv(surface.nodes[line.to]) - start;
      const double length = glm::length(way);
      if (length > least_m) {
        sides.push_back({step.line, start, way / length, length});
      }
    }
  }
  return sides;
}

/// The stretch of a side that lies on the outline's edge from a to b; empty unless it does.
Stretch shared(const Side& side, glm::dvec2 a, glm::dvec2 b) {
  const auto off = [&](glm::dvec2 p) {
    const glm::dvec2 d = p - side.start;
    return std::abs(d.x * side.along.y - d.y * side.along.x);
  };
  if (off(a) > on_line_m || off(b) > on_line_m) {
    return {};
  }
  const double at_a = glm::dot(a - side.start, side.along);
  const double at_b = glm::dot(b - side.start, side.along);
  return {std::max(0.0, std::min(at_a, at_b)), std::min(side.length_m, std::max(at_a, at_b)), {}};
}

void add_shared(const Side& side, const std::vector<glm::dvec2>& outline, BayId bay,
                std::vector<Stretch>& all) {
  for (std::size_t k = 0; k < outline.size(); ++k) {
    Stretch one = shared(side, outline[k], outline[(k + 1) % outline.size()]);
    if (one.to_m - one.from_m > least_m) {
      one.bay = bay;
      all.push_back(one);
    }
  }
}

using Stretches = IndexedVector<LineId, std::vector<Stretch>>;

void collect(const surface::Surface& surface, const Framing& framing, PlaneId id, Stretches& left,
             Stretches& right) {
  const PlaneFraming& own = framing.planes[id];
  for (const Side& side : sides_of(surface, surface.planes[id])) {
    const bool is_left = surface.lines[side.line].left_plane() == id;
    for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
      add_shared(side, framing.bays[BayId(i)].outline, BayId(i),
                 (is_left ? left : right)[side.line]);
    }
  }
}

void add_across(Framing& framing, BayId bay, BayId other, LineId line, double length_m) {
  std::vector<Across>& all = framing.bays[bay].across;
  if (!all.empty() && all.back().bay == other && all.back().line == line) {
    all.back().length_m += length_m;
    return;
  }
  all.push_back({other, line, length_m});
}

void join(LineId line, std::vector<Stretch>& left, std::vector<Stretch>& right, Framing& framing) {
  const auto earlier = [](const Stretch& l, const Stretch& r) { return l.from_m < r.from_m; };
  std::stable_sort(left.begin(), left.end(), earlier);
  std::stable_sort(right.begin(), right.end(), earlier);
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < left.size() && j < right.size()) {
    const double from = std::max(left[i].from_m, right[j].from_m);
    const double to = std::min(left[i].to_m, right[j].to_m);
    if (to - from > least_m) {
      add_across(framing, left[i].bay, right[j].bay, line, to - from);
      add_across(framing, right[j].bay, left[i].bay, line, to - from);
    }
    if (left[i].to_m < right[j].to_m) {
      ++i;
    } else {
      ++j;
    }
  }
}

bool overlap_along_eave(const Bay& one, const Bay& other) {
  return std::min(one.to_u_m, other.to_u_m) - std::max(one.from_u_m, other.from_u_m) > least_m;
}

/// Tells two bays of each other where they are cut at headers of one opening, one below the other.
void join_past(Framing& framing, BayId low, BayId high) {
  Bay& bay = framing.bays[low];
  Bay& other = framing.bays[high];
  const std::string& opening = framing.members[bay.head_header].opening;
  if (low != high && framing.members[other.foot_header].opening == opening &&
      overlap_along_eave(bay, other)) {
    bay.beyond_opening.push_back(high);
    other.beyond_opening.push_back(low);
  }
}

bool is_beyond_gable(const std::vector<GableEnd>& gables, const Bay& bay) {
  const double middle = 0.5 * (bay.from_u_m + bay.to_u_m);
  return std::any_of(gables.begin(), gables.end(), [&](const GableEnd& end) {
    return middle > std::min(end.wall_u_m, end.rake_u_m) &&
           middle < std::max(end.wall_u_m, end.rake_u_m);
  });
}

AtPlate at_plate(model::Blocking blocking) {
  switch (blocking) {
    case model::Blocking::none:
      return AtPlate::open;
    case model::Blocking::vented:
      return AtPlate::vented;
    case model::Blocking::solid:
      return AtPlate::blocked;
  }
  return AtPlate::open;
}

}  // namespace

void find_across(const surface::Surface& surface, Framing& framing) {
  Stretches left(surface.lines.size());
  Stretches right(surface.lines.size());
  for (const PlaneId id : surface.planes.ids()) {
    collect(surface, framing, id, left, right);
  }
  for (const LineId line : surface.lines.ids()) {
    join(line, left[line], right[line], framing);
  }
}

void find_beyond_openings(Framing& framing) {
  for (const PlaneFraming& own : framing.planes) {
    std::vector<BayId> below;
    std::vector<BayId> above;
    for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
      const Bay& bay = framing.bays[BayId(i)];
      if (!bay.head_header.is_none()) {
        below.emplace_back(i);
      }
      if (!bay.foot_header.is_none()) {
        above.emplace_back(i);
      }
    }
    for (const BayId low : below) {
      for (const BayId high : above) {
        join_past(framing, low, high);
      }
    }
  }
}

namespace {

/// The wall beneath the middle of a bay from an eave.
surface::WallLine wall_of(const surface::Surface& surface, const Bay& bay) {
  const surface::Plane& plane = surface.planes[bay.plane];
  if (bay.foot.is_none() || surface.lines[bay.foot].kind != surface::LineKind::eave) {
    return {plane.wall_line_v_m, plane.part};
  }
  const double drip_v = plane.frame.uv(surface.nodes[surface.lines[bay.foot].from]).y;
  return surface::wall_line_at(surface, plane, {0.5 * (bay.from_u_m + bay.to_u_m), drip_v});
}

}  // namespace

void find_plates(const model::RoofModel& model, const surface::Surface& surface, Framing& framing) {
  for (const PlaneId id : surface.planes.ids()) {
    const surface::Plane& plane = surface.planes[id];
    const PlaneFraming& own = framing.planes[id];
    const std::vector<GableEnd> gables = gable_ends(model, surface, plane);
    for (std::uint32_t i = own.first_bay; i < own.end_bay; ++i) {
      Bay& bay = framing.bays[BayId(i)];
      bay.wall = wall_of(surface, bay);
      if (bay.foot.is_none() || surface.lines[bay.foot].kind != surface::LineKind::eave ||
          is_beyond_gable(gables, bay)) {
        continue;
      }
      const polygon::Box box = polygon::box_of(bay.outline);
      if (box.low.y <= bay.wall.v_m + least_m && box.high.y > bay.wall.v_m) {
        bay.at_plate = at_plate(model.parts[bay.wall.part].framing.blocking);
      }
    }
  }
}

}  // namespace ridgeward::framing
