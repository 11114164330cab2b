#include "surface/drip.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace ridgeward::surface {

namespace {

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

/// Whether the edge's front stands from the start.
bool stands(const model::Edge& edge) {
  return edge.kind != model::EdgeKind::eave && edge.kind != model::EdgeKind::gablet;
}

/// Overhangs after the fascia rule. Level: every plane ends at the height of the first eave's drip
/// line, so a steeper plane hangs out less.
std::vector<double> overhangs(const model::Part& part, double& base_m, Drip& drip) {
  std::vector<double> over(part.edge_count());
  bool has_first = false;
  double level_drop = 0.0;
  double lowest_drop = 0.0;
  for (std::size_t i = 0; i < over.size(); ++i) {
    const model::Edge& edge = part.edge(i);
    over[i] = edge.overhang_m;
    if (stands(edge)) {
      continue;
    }
    const double drop = edge.overhang_m * edge.pitch.tangent();
    if (!has_first) {
      has_first = true;
      level_drop = drop;
    }
    lowest_drop = std::max(lowest_drop, drop);
    if (part.fascia == model::Fascia::level) {
      const double levelled = level_drop / edge.pitch.tangent();
      if (std::abs(levelled - over[i]) > 1e-9) {
        drip.assumptions.push_back(
            fmt::format("{}/{}: overhang taken as {} instead of {} so that the fascia is level",
                        part.id, i, units::show(levelled, units::Style::feet_inches),
                        units::show(over[i], units::Style::feet_inches)));
        over[i] = levelled;
      }
    }
  }
  base_m = drip.wall_height_m - (part.fascia == model::Fascia::level ? level_drop : lowest_drop);
  return over;
}

PlanEdge plan_edge(const model::Edge& edge, const EdgeLine& line, glm::dvec2 start, double over_m,
                   const Drip& drip) {
  PlanEdge result;
  result.direction = line.direction;
  result.anchor = line.anchor;
  result.start = start;
  if (stands(edge) && edge.kind != model::EdgeKind::half_hip) {
    return result;
  }
  const double w = 1.0 / edge.pitch.tangent();
  const double rise_to_wall = drip.wall_height_m - drip.base_m;
  const double clipped_at = edge.kind == model::EdgeKind::half_hip ? edge.from_height_m : 0.0;
  const double starts_at = rise_to_wall + clipped_at - over_m * edge.pitch.tangent();
  if (starts_at > 1e-9) {
    result.later.push_back({starts_at, w});
  } else {
    result.run_per_rise = w;
  }
  for (const model::Break& bend : edge.breaks) {
    result.later.push_back({rise_to_wall + bend.height_m, 1.0 / bend.pitch.tangent()});
  }
  return result;
}

struct Outline {
  std::vector<EdgeLine> lines;
  std::vector<glm::dvec2> starts;  // of each edge
  std::vector<glm::dvec2> ends;
};

/// Where two edges that continue each other hang out differently, they end at the same corner, each
/// on its own line.
Outline shift_out(const RegularPlan& walls, const std::vector<double>& by_m) {
  Outline out;
  for (std::size_t i = 0; i < walls.lines.size(); ++i) {
    const glm::dvec2 d = glm::normalize(walls.lines[i].direction);
    const glm::dvec2 inward{-d.y, d.x};
    out.lines.push_back({walls.lines[i].direction, walls.lines[i].anchor - by_m[i] * inward});
  }
  out.starts = corners_of(out.lines, walls.loop_ends, walls.corners);
  out.ends.resize(out.starts.size());
  for (std::size_t i = 0; i < out.lines.size(); ++i) {
    const std::size_t next = edge_after(i, walls.loop_ends);
    const glm::dvec2 d = glm::normalize(out.lines[i].direction);
    const glm::dvec2 corner = out.starts[next];
    out.ends[i] = out.lines[i].anchor + glm::dot(corner - out.lines[i].anchor, d) * d;
  }
  return out;
}

void add_jog(Drip& drip, std::size_t i, glm::dvec2 from, glm::dvec2 to, glm::dvec2 direction) {
  PlanEdge jog;
  const glm::dvec2 square{-direction.y, direction.x};
  jog.direction = glm::dot(square, to - from) > 0 ? square : -square;
  jog.anchor = from;
  jog.start = from;
  drip.plan.edges.push_back(jog);
  drip.part_edge.push_back(i);
  drip.is_jog.push_back(1);
}

bool segments_touch(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c, glm::dvec2 d) {
  const double o1 = cross(b - a, c - a);
  const double o2 = cross(b - a, d - a);
  const double o3 = cross(d - c, a - c);
  const double o4 = cross(d - c, b - c);
  if (((o1 > 0 && o2 > 0) || (o1 < 0 && o2 < 0)) || ((o3 > 0 && o4 > 0) || (o3 < 0 && o4 < 0))) {
    return false;
  }
  const auto overlap = [](double p, double q, double r, double s) {
    return std::max(std::min(p, q), std::min(r, s)) <= std::min(std::max(p, q), std::max(r, s));
  };
  return overlap(a.x, b.x, c.x, d.x) && overlap(a.y, b.y, c.y, d.y);
}

/// Plan edge at which the drip outline folds or meets itself; none: edges.size().
std::size_t collision(const Plan& plan) {
  const std::size_t n = plan.edges.size();
  std::vector<glm::dvec2> ends(n);
  for (std::size_t i = 0; i < n; ++i) {
    ends[i] = plan.edges[edge_after(i, plan.loop_ends)].start;
    if (!(glm::dot(ends[i] - plan.edges[i].start, plan.edges[i].direction) > 0)) {
      return i;
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = i + 1; k < n; ++k) {
      if (edge_after(i, plan.loop_ends) != k && edge_after(k, plan.loop_ends) != i &&
          segments_touch(plan.edges[i].start, ends[i], plan.edges[k].start, ends[k])) {
        return i;
      }
    }
  }
  return n;
}

bool is_measured(const model::Part& part, std::size_t edge) {
  const auto& all = part.framing.measured;
  return std::any_of(all.begin(), all.end(), [edge](const model::MeasuredEdge& measured) {
    return static_cast<std::size_t>(measured.edge) == edge && !measured.at_m.empty();
  });
}

/// Whether edge b goes on from a so that no carpenter would see where one ends.
bool goes_on(const model::Part& part, const Drip& drip, const Outline& outline, std::size_t a,
             std::size_t b) {
  const model::Edge& one = part.edge(a);
  const model::Edge& other = part.edge(b);
  const glm::dvec2 d = glm::normalize(outline.lines[a].direction);
  const glm::dvec2 e = glm::normalize(outline.lines[b].direction);
  const bool is_straight =
      std::abs(cross(d, e)) < 1e-12 && glm::dot(d, e) > 0 &&
      std::abs(cross(d, outline.lines[b].anchor - outline.lines[a].anchor)) < 1e-9;
  return is_straight && one == other && std::abs(drip.overhang_m[a] - drip.overhang_m[b]) < 1e-9 &&
         !is_measured(part, a) && !is_measured(part, b);
}

/// Straight runs of edges that bear one plane together.
void find_runs(const model::Part& part, const Outline& outline, Drip& drip) {
  const std::size_t count = part.edge_count();
  drip.run_first.resize(count);
  drip.run_last.resize(count);
  std::vector<std::uint8_t> follows(count, 0);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t before = edge_before(i, drip.walls.loop_ends);
    follows[i] = before != i && goes_on(part, drip, outline, before, i) ? 1 : 0;
  }
  for (std::size_t i = 0; i < count; ++i) {
    std::size_t first = i;
    while (follows[first] != 0) {
      first = edge_before(first, drip.walls.loop_ends);
    }
    std::size_t last = i;
    for (std::size_t next = edge_after(last, drip.walls.loop_ends); follows[next] != 0;
         next = edge_after(last, drip.walls.loop_ends)) {
      last = next;
    }
    drip.run_first[i] = first;
    drip.run_last[i] = last;
  }
}

/// The edge whose number the plane of the run bears.
std::size_t lowest_of_run(const Drip& drip, std::size_t edge) {
  std::size_t lowest = edge;
  for (std::size_t i = drip.run_first[edge]; i != drip.run_last[edge];
       i = edge_after(i, drip.walls.loop_ends)) {
    lowest = std::min(lowest, i);
  }
  return std::min(lowest, drip.run_last[edge]);
}

void fill_plan(const model::Part& part, const Outline& outline, Drip& drip) {
  find_runs(part, outline, drip);
  std::size_t first = 0;
  for (const std::size_t end : drip.walls.loop_ends) {
    for (std::size_t i = first; i < end; ++i) {
      if (drip.run_first[i] != i) {
        continue;
      }
      const std::size_t edge = lowest_of_run(drip, i);
      if (drip.run_last[i] != i) {
        drip.assumptions.push_back(
            fmt::format("Part {}: edges {} to {} go on in one line and bear one plane, {}/{}.",
                        part.id, i, drip.run_last[i], part.id, edge));
      }
      drip.plan.edges.push_back(
          plan_edge(part.edge(i), outline.lines[i], outline.starts[i], drip.overhang_m[i], drip));
      drip.part_edge.push_back(edge);
      drip.is_jog.push_back(0);
      const std::size_t last = drip.run_last[i];
      const std::size_t next = edge_after(last, drip.walls.loop_ends);
      if (glm::length(outline.ends[last] - outline.starts[next]) > 1e-9) {
        add_jog(drip, edge, outline.ends[last], outline.starts[next], outline.lines[i].direction);
      }
    }
    drip.plan.loop_ends.push_back(drip.plan.edges.size());
    first = end;
  }
}

}  // namespace

std::vector<RegularPlan> mend(const std::vector<model::Part>& parts) {
  std::vector<std::vector<glm::dvec2>> loops;
  for (const model::Part& part : parts) {
    loops.push_back(part.outline);
    for (const model::Hole& hole : part.holes) {
      loops.push_back(hole.outline);
    }
  }
  const RegularPlan all = regularise(loops);
  std::vector<RegularPlan> plans;
  std::size_t first = 0;
  for (const model::Part& part : parts) {
    const std::size_t end = first + 1 + part.holes.size();
    plans.push_back(take_loops(all, first, end));
    RegularPlan& plan = plans.back();
    for (std::size_t i = 0; i < plan.corners.size(); ++i) {
      const std::size_t corner = i + (first == 0 ? 0 : all.loop_ends[first - 1]);
      const double moved = all.moved_m[corner];
      if (moved > plan.most_moved_m) {
        plan.most_moved_m = moved;
        plan.most_moved_corner = i;
      }
    }
    first = end;
  }
  return plans;
}

Result<Drip> lay_out_drip(const model::Part& part, const RegularPlan& drawn,
                          const std::string& where) {
  Drip drip;
  if (drawn.most_moved_m > 1e-9) {
    drip.assumptions.push_back(fmt::format(
        "{}: nearly parallel or aligned walls made so; corner {} moved farthest, {:.2f} mm",
        part.id, drawn.most_moved_corner, drawn.most_moved_m * 1000));
  }
  drip.wall_height_m = part.plate_m + part.heel_m;
  drip.overhang_m = overhangs(part, drip.base_m, drip);
  drip.walls = drawn;
  if (part.drawn_to == model::DrawnTo::drip) {
    std::vector<double> inward(drip.overhang_m);
    for (double& over : inward) {
      over = -over;
    }
    const Outline walls = shift_out(drawn, inward);
    drip.walls.lines = walls.lines;
    drip.walls.corners = walls.starts;
  }
  const Outline outline = part.drawn_to == model::DrawnTo::drip
                              ? shift_out(drawn, std::vector<double>(drip.overhang_m.size(), 0.0))
                              : shift_out(drawn, drip.overhang_m);
  fill_plan(part, outline, drip);
  const bool hangs_over = std::any_of(drip.overhang_m.begin(), drip.overhang_m.end(),
                                      [](double over) { return over > 0; });
  const std::size_t bad = hangs_over ? collision(drip.plan) : drip.plan.edges.size();
  if (bad < drip.plan.edges.size()) {
    const std::size_t edge = drip.part_edge[bad];
    return Fault{"overhang.collides", where + "/edges/" + std::to_string(edge) + "/overhang",
                 fmt::format("with its overhang of {} this edge's drip line runs into another's",
                             units::show(drip.overhang_m[edge], units::Style::feet_inches)),
                 "make the overhangs here smaller than half the gap between the walls"};
  }
  return drip;
}

}  // namespace ridgeward::surface
