#include "framing/layout.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <utility>

namespace ridgeward::framing {

namespace {

constexpr double near_m = 1e-9;
constexpr double upright_m = 1e-6;
/// Of one plane, so that no wall is too long to be framed: 4000 rafters at 16 in reach a mile.
constexpr double most_marks = 4000.0;

bool is_wall(surface::LineKind kind) {
  return kind == surface::LineKind::sidewall || kind == surface::LineKind::step_wall;
}

/// Whether the wall beside a line belongs to one of these parts.
bool is_of(const surface::Surface& surface, LineId id, const std::vector<std::size_t>& parts) {
  const surface::Line& line = surface.lines[id];
  for (const surface::Side& side : {line.left, line.right}) {
    if (side.of == surface::Side::Of::wall &&
        std::find(parts.begin(), parts.end(), surface.walls[side.index].part) != parts.end()) {
      return true;
    }
  }
  return false;
}

const model::MeasuredEdge* measured_edge(const model::Part& part, std::size_t edge) {
  for (const model::MeasuredEdge& measured : part.framing.measured) {
    if (measured.edge >= 0 && static_cast<std::size_t>(measured.edge) == edge &&
        !measured.at_m.empty()) {
      return &measured;
    }
  }
  return nullptr;
}

/// How far along the eave the plane's own part reaches.
std::pair<double, double> own_reach(const surface::Surface& surface, const surface::Plane& plane) {
  double from = HUGE_VAL;
  double to = -HUGE_VAL;
  if (plane.part < surface.drip_outlines.size()) {
    for (const std::vector<glm::dvec2>& loop : surface.drip_outlines[plane.part]) {
      for (const glm::dvec2 p : loop) {
        const double u = plane.frame.uv({p.x, p.y, plane.frame.origin.z}).x;
        from = std::min(from, u);
        to = std::max(to, u);
      }
    }
  }
  return from <= to ? std::pair{from, to} : std::pair{-HUGE_VAL, HUGE_VAL};
}

/// Where on the plane the layout starts. Trusses of one direction share that of the part's first
/// plane in it.
double layout_start(const model::Part& part, const surface::Surface& surface,
                    const surface::Plane& plane) {
  constexpr double parallel = 1e-9;
  const double own = plane.wall_start_u_m + part.framing.origin_m;
  if (part.framing.kind != model::FramingKind::truss) {
    return own;
  }
  const surface::Plane* first = &plane;
  for (const surface::Plane& other : surface.planes) {
    const glm::dvec2 one{other.frame.along};
    const glm::dvec2 two{plane.frame.along};
    if (other.part == plane.part && other.edge < first->edge &&
        std::abs(one.x * two.y - one.y * two.x) < parallel) {
      first = &other;
    }
  }
  if (first == &plane || first->edge == plane.edge) {
    return own;
  }
  const glm::dvec3 start = first->frame.at({first->wall_start_u_m + part.framing.origin_m, 0.0});
  return glm::dot(start - plane.frame.origin, plane.frame.along);
}

/// Whether members were measured on or beyond a gable-end wall: then the verge is as measured.
bool is_measured_beyond(const GableEnd& end, const std::vector<Mark>& measured) {
  const double way = end.is_on_right ? 1.0 : -1.0;
  return std::any_of(measured.begin(), measured.end(),
                     [&](const Mark& mark) { return way * (mark.at_m - end.wall_u_m) > 0.0; });
}

}  // namespace

Neighbours neighbours_of(const model::Part& part, std::size_t edge) {
  std::size_t first = 0;
  std::size_t count = part.edges.size();
  for (const model::Hole& hole : part.holes) {
    if (edge < first + count) {
      break;
    }
    first += count;
    count = hole.edges.size();
  }
  const std::size_t local = edge - first;
  return {first + (local + count - 1) % count, first + (local + 1) % count};
}

void Layout::add_end(double at_m, double low_v_m, double high_v_m) {
  const bool is_taken = std::any_of(marks_.begin(), marks_.end(), [&](const Mark& other) {
    return std::abs(other.at_m - at_m) < thickness_m_ - near_m && other.reaches(low_v_m, high_v_m);
  });
  if (!is_taken) {
    marks_.push_back({at_m, low_v_m, high_v_m, true});
  }
}

/// Rafters that stand at borders of the plane whatever the spacing.
void Layout::add_ends(const std::vector<GableEnd>& gables, const surface::Surface& surface,
                      const std::vector<BorderEdge>& border,
                      const std::vector<std::size_t>& dormers) {
  for (const GableEnd& end : gables) {
    add_end(end.wall_u_m + (end.is_on_right ? -0.5 : 0.5) * thickness_m_, end.low_v_m,
            end.high_v_m);
  }
  for (const BorderEdge& edge : border) {
    const glm::dvec2 d = edge.b - edge.a;
    if (std::abs(d.x) <= upright_m && std::abs(d.y) > thickness_m_ && !edge.line.is_none() &&
        is_wall(surface.lines[edge.line].kind) && !is_of(surface, edge.line, dormers)) {
      add_end(edge.a.x + (d.y > 0.0 ? -0.5 : 0.5) * thickness_m_, std::min(edge.a.y, edge.b.y),
              std::max(edge.a.y, edge.b.y));
    }
  }
}

/// Members as measured on the plane's edge; of two that overlap the first stays.
void Layout::add_measured(const model::MeasuredEdge& measured, double start_u_m) {
  for (const double at : measured.at_m) {
    const double u = start_u_m + at;
    const bool is_taken = std::any_of(marks_.begin(), marks_.end(), [&](const Mark& other) {
      return std::abs(other.at_m - u) < thickness_m_ - near_m;
    });
    if (!is_taken) {
      marks_.push_back({u, -HUGE_VAL, HUGE_VAL, true});
    }
  }
}

void Layout::add_spaced(const model::Part& part, double origin_m, double from_m, double to_m) {
  if (!(from_m < to_m)) {
    return;
  }
  const double spacing =
      std::max({part.framing.spacing_m, thickness_m_, (to_m - from_m) / most_marks});
  const double first = std::ceil((from_m - origin_m) / spacing - near_m);
  for (double k = first; origin_m + k * spacing <= to_m + near_m; k += 1.0) {
    marks_.push_back({origin_m + k * spacing, -HUGE_VAL, HUGE_VAL, false});
  }
}

Layout::Layout(const model::RoofModel& model, const surface::Surface& surface,
               const surface::Plane& plane, const std::vector<BorderEdge>& border,
               double thickness_m, const std::vector<std::size_t>& dormers)
    : thickness_m_(thickness_m) {
  const model::Part& part = model.parts[plane.part];
  double from = border.front().a.x;
  double to = from;
  for (const BorderEdge& edge : border) {
    from = std::min(from, edge.a.x);
    to = std::max(to, edge.a.x);
  }
  const double origin = layout_start(part, surface, plane);
  std::vector<GableEnd> gables = gable_ends(model, surface, plane);
  if (const model::MeasuredEdge* measured = measured_edge(part, plane.edge)) {
    add_measured(*measured, plane.wall_start_u_m);
    std::erase_if(gables, [&](const GableEnd& end) { return is_measured_beyond(end, marks_); });
    add_ends(gables, surface, border, dormers);
    const auto [own_from, own_to] = own_reach(surface, plane);
    add_spaced(part, origin, from, std::min(to, own_from - near_m));
    add_spaced(part, origin, std::max(from, own_to + near_m), to);
  } else {
    for (const GableEnd& end : gables) {
      const Mark reach{end.wall_u_m, end.low_v_m, end.high_v_m, true};
      closed_.push_back(
          {std::min(end.wall_u_m, end.rake_u_m), std::max(end.wall_u_m, end.rake_u_m), reach});
    }
    add_ends(gables, surface, border, dormers);
    add_spaced(part, origin, from, to);
  }
  std::stable_sort(marks_.begin(), marks_.end(),
                   [](const Mark& l, const Mark& r) { return l.at_m < r.at_m; });
}

void Layout::add(const std::vector<double>& centres_m) {
  for (const double at_m : centres_m) {
    marks_.push_back({at_m, -HUGE_VAL, HUGE_VAL, true});
  }
  std::stable_sort(marks_.begin(), marks_.end(),
                   [](const Mark& l, const Mark& r) { return l.at_m < r.at_m; });
}

bool Layout::stands(const Mark& mark, double low_m, double high_m) const {
  if (mark.is_end) {
    return mark.reaches(low_m, high_m);
  }
  return std::none_of(closed_.begin(), closed_.end(), [&](const Closed& strip) {
    return mark.at_m > strip.from_m - near_m && mark.at_m < strip.to_m + near_m &&
           strip.reach.reaches(low_m, high_m);
  });
}

}  // namespace ridgeward::framing
