#include "rebuild/outline.hpp"

#include "units/length.hpp"

#include "rebuild/hidden.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

namespace ridgeward::rebuild {

namespace {

constexpr double hand_m = 0.1;
constexpr double longest_cut_m = 0.3;
constexpr double least_fall_deg = 0.1;
constexpr double steepest_deg = 89.0;
constexpr double least_piece_m2 = 1e-4;

/// What one part is made from.
struct Context {
  const Faces& all;
  const Group& group;
  const std::vector<Joint>& joints;
  double tolerance_m = 0.0;
  double plate_m = 0.0;
};

bool is_within(const Group& group, const Joint& joint) {
  return std::binary_search(group.begin(), group.end(), joint.left) &&
         std::binary_search(group.begin(), group.end(), joint.right);
}

/// As it would have been drawn: a whole quarter in twelve, or of a degree, where it is one but for
/// rounding: a fiftieth of a millimetre over 10 m.
units::Pitch drawn_pitch(double tangent) {
  constexpr double rounding = 2e-6;
  const units::Pitch exact = units::Pitch::from_tangent(tangent);
  for (const units::Pitch pitch :
       {units::Pitch::from_rise_run(std::round(exact.in_12() * 4.0) / 4.0, 12.0),
        units::Pitch::from_degrees(std::round(exact.degrees() * 4.0) / 4.0)}) {
    if (std::abs(pitch.tangent() - tangent) <= rounding) {
      return pitch;
    }
  }
  return exact;
}

/// Where the plane of `side` goes on at another pitch: level lines up its slope.
std::vector<model::Break> breaks_of(const Context& context, const Side& side) {
  const Faces& all = context.all;
  std::vector<model::Break> breaks;
  std::size_t plane = side.plane;
  const glm::dvec2 up = glm::normalize(all.planes[plane].gradient);
  for (bool found = true; found && breaks.size() < 4;) {
    found = false;
    for (const Joint& joint : context.joints) {
      const bool is_left = all.faces[joint.left].plane == plane;
      const std::size_t beyond = all.faces[is_left ? joint.right : joint.left].plane;
      const bool is_here = is_left || all.faces[joint.right].plane == plane;
      const Slope& next = all.planes[beyond];
      if (!is_here || !is_within(context.group, joint) || !joint.is_joined || beyond == plane ||
          next.is_level() || glm::dot(glm::normalize(next.gradient), up) < square_cosine) {
        continue;
      }
      const glm::dvec2 a = all.corners[joint.a];
      const glm::dvec2 b = all.corners[joint.b];
      const double height_m = all.planes[plane].z((a + b) / 2.0) - context.plate_m;
      const double least = breaks.empty() ? 0.0 : breaks.back().height_m;
      // A shed dormer that ends at the slope lies below such a line: the slope goes on past it.
      const bool is_above = is_left ? cross(b - a, up) < 0.0 : cross(b - a, up) > 0.0;
      if (is_above && std::abs(glm::dot(glm::normalize(b - a), up)) < 0.05 &&
          height_m > least + 0.01) {
        breaks.push_back({units::on_grid(height_m), drawn_pitch(next.rise_per_run())});
        plane = beyond;
        found = true;
        break;
      }
    }
  }
  return breaks;
}

/// Height of the small gable on top of the plane of `side`; 0 for none.
double small_gable_m(const Context& context, const Side& side) {
  const Faces& all = context.all;
  const glm::dvec2 up = glm::normalize(all.planes[side.plane].gradient);
  double height = 0.0;
  for (const Joint& joint : context.joints) {
    if (!is_within(context.group, joint)) {
      continue;
    }
    const bool is_left = all.faces[joint.left].plane == side.plane;
    const bool is_right = all.faces[joint.right].plane == side.plane;
    const double step = is_left ? joint.step_m : -joint.step_m;
    const glm::dvec2 way = glm::normalize(all.corners[joint.b] - all.corners[joint.a]);
    if (is_left != is_right && step > 2.0 * context.tolerance_m &&
        std::abs(glm::dot(way, up)) < 0.05) {
      height = std::max(height, step);
    }
  }
  return height;
}

model::Edge standing_edge(const Side& side) {
  model::Edge edge;
  edge.kind = side.fall == Fall::away ? model::EdgeKind::shed_top : model::EdgeKind::gable;
  edge.pitch = units::Pitch::from_degrees(30.0);
  return edge;
}

model::Edge edge_of(const Context& context, const Side& side) {
  if (side.fall != Fall::toward) {
    return standing_edge(side);
  }
  const Slope& slope = context.all.planes[side.plane];
  model::Edge edge;
  edge.kind = model::EdgeKind::eave;
  edge.pitch = drawn_pitch(slope.rise_per_run());
  const double height_m = height_of(context.all, side);
  if (side.is_clipped && height_m > context.plate_m + context.tolerance_m) {
    edge.kind = model::EdgeKind::half_hip;
    edge.from_height_m = units::on_grid(height_m - context.plate_m);
    return edge;
  }
  const double below_m = context.plate_m - height_m;
  edge.overhang_m =
      below_m > context.tolerance_m / 2.0 ? units::on_grid(below_m / slope.rise_per_run()) : 0.0;
  edge.breaks = breaks_of(context, side);
  const double gable_m = small_gable_m(context, side);
  if (gable_m > 0.0 && edge.breaks.empty()) {
    edge.kind = model::EdgeKind::gablet;
    edge.wall_height_m = units::on_grid(gable_m);
  }
  return edge;
}

std::optional<double> plate_of(const Faces& all, const std::vector<SideLoop>& loops) {
  std::optional<double> plate;
  for (const SideLoop& sides : loops) {
    for (const Side& side : sides) {
      if (side.fall == Fall::toward && !side.is_clipped) {
        plate = std::max(plate.value_or(-1e9), height_of(all, side));
      }
    }
  }
  return plate;
}

/// Level planes inside the group close it as a flat top.
std::optional<double> flat_top_of(const Context& context) {
  for (const std::size_t face : context.group) {
    const Slope& slope = context.all.slope_of(face);
    if (slope.is_level()) {
      const double z = slope.z(context.all.faces[face].plan.front().front());
      return z > context.plate_m + context.tolerance_m
                 ? std::optional(units::on_grid(z - context.plate_m))
                 : std::nullopt;
    }
  }
  return std::nullopt;
}

std::vector<glm::dvec2> outline_of(const SideLoop& sides) {
  std::vector<glm::dvec2> outline;
  for (const Side& side : sides) {
    outline.emplace_back(units::on_grid(side.a.x), units::on_grid(side.a.y));
  }
  return outline;
}

model::Part drawn(double plate_m) {
  model::Part part;
  part.drawn_to = model::DrawnTo::drip;
  part.fascia = model::Fascia::as_given;
  part.plate_m = units::on_grid(plate_m);
  return part;
}

std::optional<model::Part> part_of(Context context, const std::vector<SideLoop>& loops) {
  const std::optional<double> plate = plate_of(context.all, loops);
  if (!plate) {
    return std::nullopt;
  }
  context.plate_m = *plate;
  model::Part part = drawn(*plate);
  for (const SideLoop& sides : loops) {
    std::vector<model::Edge> edges;
    for (const Side& side : sides) {
      edges.push_back(edge_of(context, side));
    }
    if (&sides == &loops.front()) {
      part.outline = outline_of(sides);
      part.edges = std::move(edges);
    } else {
      part.holes.push_back({outline_of(sides), std::move(edges)});
    }
  }
  part.flat_top_m = flat_top_of(context);
  return part;
}

/// Cuts the corner where two sides meet at `number` square to `up`.
void cut_corner(SideLoop& sides, std::size_t number, glm::dvec2 up) {
  Side& after = sides[number];
  Side& before = sides[(number + sides.size() - 1) % sides.size()];
  const glm::dvec2 corner = after.a;
  const double length_before = glm::distance(before.a, corner);
  const double length_after = glm::distance(after.b, corner);
  const double rise_before = glm::dot(before.a - corner, up) / length_before;
  const double rise_after = glm::dot(after.b - corner, up) / length_after;
  // A hand's width at most, also along an edge that is nearly level.
  const double rise =
      std::min({hand_m / 2.0, rise_before * std::min(longest_cut_m, 0.4 * length_before),
                rise_after * std::min(longest_cut_m, 0.4 * length_after)});
  if (rise <= 1e-6) {
    return;
  }
  const glm::dvec2 p = corner + rise / rise_before * glm::normalize(before.a - corner);
  const glm::dvec2 q = corner + rise / rise_after * glm::normalize(after.b - corner);
  const Side eave{p, q, Fall::toward, after.plane};
  before.b = p;
  after.a = q;
  sides.insert(sides.begin() + static_cast<std::ptrdiff_t>(number), eave);
}

// ---- A plane by itself. ----

double least_fall() { return std::tan(std::acos(-1.0) / 180.0 * least_fall_deg); }

/// The lowest edge that the plane falls toward, of a level plane the longest; -1 where the lowest
/// corner lies lower.
std::ptrdiff_t lowest_eave(const Slope& slope, const SideLoop& sides, double tolerance_m) {
  const bool is_level = slope.rise_per_run() <= least_fall();
  const auto rank = [&](const Side& side) {
    return is_level ? -length_of(side) : slope.z((side.a + side.b) / 2.0);
  };
  std::ptrdiff_t eave = -1;
  double lowest = std::numeric_limits<double>::infinity();
  for (std::ptrdiff_t k = 0; k < std::ssize(sides); ++k) {
    const Side& side = sides[static_cast<std::size_t>(k)];
    lowest = std::min(lowest, slope.z(side.a));
    const bool falls = is_level || fall_of(slope, side.a, side.b) == Fall::toward;
    if (falls && (eave < 0 || rank(side) < rank(sides[static_cast<std::size_t>(eave)]))) {
      eave = k;
    }
  }
  const bool is_low = eave >= 0 && (is_level || rank(sides[static_cast<std::size_t>(eave)]) <=
                                                    lowest + tolerance_m);
  return is_low ? eave : -1;
}

/// Leaves one edge that falls, the lowest one.
void make_plain(const Slope& slope, std::vector<SideLoop>& loops, double tolerance_m) {
  for (SideLoop& loop : loops) {
    for (Side& side : loop) {
      side.fall = side.fall == Fall::toward ? Fall::across : side.fall;
      side.is_clipped = false;
    }
  }
  SideLoop& sides = loops.front();
  const std::ptrdiff_t eave = lowest_eave(slope, sides, tolerance_m);
  if (eave >= 0) {
    sides[static_cast<std::size_t>(eave)].fall = Fall::toward;
    return;
  }
  const auto low = std::min_element(sides.begin(), sides.end(), [&](const Side& a, const Side& b) {
    return slope.z(a.a) < slope.z(b.a);
  });
  cut_corner(sides, static_cast<std::size_t>(low - sides.begin()), glm::normalize(slope.gradient));
}

model::Part plain_part(const Slope& slope, const std::vector<SideLoop>& loops, double plate_m) {
  model::Part part = drawn(plate_m);
  const double steepest = std::tan(std::acos(-1.0) / 180.0 * steepest_deg);
  for (const SideLoop& loop : loops) {
    std::vector<model::Edge> edges;
    for (const Side& side : loop) {
      model::Edge edge = standing_edge(side);
      if (side.fall == Fall::toward) {
        edge.kind = model::EdgeKind::eave;
        edge.pitch = units::Pitch::from_tangent(
            std::clamp(slope.rise_per_run(), least_fall() * 1.0001, steepest));
      }
      edges.push_back(edge);
    }
    if (&loop == &loops.front()) {
      part.outline = outline_of(loop);
      part.edges = std::move(edges);
    } else {
      part.holes.push_back({outline_of(loop), std::move(edges)});
    }
  }
  return part;
}

SideLoop sides_of_piece(const polygon::Loop& piece, const Slope& slope, std::size_t plane) {
  SideLoop sides;
  for (std::size_t i = 0; i < piece.size(); ++i) {
    const glm::dvec2 a = piece[i];
    const glm::dvec2 b = piece[(i + 1) % piece.size()];
    sides.push_back({a, b, fall_of(slope, a, b), plane});
  }
  return sides;
}

std::vector<std::vector<SideLoop>> whole_outlines(const Faces& all, const Group& group,
                                                  double tolerance_m) {
  std::vector<std::vector<SideLoop>> outlines;
  const std::vector<BorderLoop> borders = borders_of(all, group, tolerance_m);
  for (std::size_t i = 0; i < borders.size(); ++i) {
    if (area_of(borders[i]) > 0.0) {
      outlines.push_back(loops_of(all, borders, i, tolerance_m));
    }
  }
  return outlines;
}

std::vector<std::vector<SideLoop>> convex_outlines(const Faces& all, const Group& group) {
  std::vector<std::vector<SideLoop>> outlines;
  for (const std::size_t face : group) {
    for (const polygon::Loop& piece : polygon::convex_pieces(all.faces[face].plan)) {
      if (polygon::area(piece) > least_piece_m2) {
        outlines.push_back({sides_of_piece(piece, all.slope_of(face), all.faces[face].plane)});
      }
    }
  }
  return outlines;
}

}  // namespace

std::vector<model::Part> parts_of(const Faces& all, const Group& group, Closing closing,
                                  double tolerance_m) {
  const std::vector<BorderLoop> borders = borders_of(all, group, tolerance_m);
  const std::vector<Joint> joints = joints_of(all, tolerance_m);
  std::vector<model::Part> parts;
  for (std::size_t i = 0; i < borders.size(); ++i) {
    if (area_of(borders[i]) <= 0.0) {
      continue;
    }
    std::vector<SideLoop> loops = loops_of(all, borders, i, tolerance_m);
    if (closing != Closing::as_cut) {
      loops = {closed(all, loops.front(), closing, tolerance_m)};
    }
    if (loops.front().size() < 3) {
      return {};
    }
    const std::optional<model::Part> part = part_of({all, group, joints, tolerance_m}, loops);
    if (!part) {
      return {};
    }
    parts.push_back(*part);
  }
  return parts;
}

std::vector<std::vector<model::Part>> completed_parts_of(const Faces& all, const Group& group,
                                                         double tolerance_m) {
  const std::vector<Joint> joints = joints_of(all, tolerance_m);
  std::vector<std::vector<model::Part>> choices;
  for (const SideLoop& outline : completions_of(all, group, tolerance_m)) {
    if (const auto part = part_of({all, group, joints, tolerance_m}, {outline})) {
      choices.push_back({*part});
    }
  }
  return choices;
}

std::vector<model::Part> plain_parts_of(const Faces& all, const Group& group, Pieces pieces,
                                        double tolerance_m) {
  const Slope& slope = all.slope_of(group.front());
  std::vector<std::vector<SideLoop>> outlines = pieces == Pieces::whole
                                                    ? whole_outlines(all, group, tolerance_m)
                                                    : convex_outlines(all, group);
  std::vector<model::Part> parts;
  for (std::vector<SideLoop>& loops : outlines) {
    make_plain(slope, loops, tolerance_m);
    if (const std::optional<double> plate = plate_of(all, loops)) {
      parts.push_back(plain_part(slope, loops, *plate));
    }
  }
  return parts;
}

}  // namespace ridgeward::rebuild
