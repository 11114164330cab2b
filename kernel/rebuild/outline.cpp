#include "rebuild/outline.hpp"

#include "units/length.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

namespace ridgeward::rebuild {

namespace {

/// An edge within this of square to its plane's fall is level enough for an eave.
constexpr double square_cosine = 0.996;  // 5 degrees
constexpr double hand_m = 0.1;
constexpr double beyond_m = 0.1;
constexpr double least_fall_deg = 0.1;
constexpr double least_piece_m2 = 1e-4;
constexpr double steepest_deg = 89.0;

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

enum class Fall { toward, away, across };

/// A side of an outline that may be made of several of the border.
struct Side {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  Fall fall = Fall::across;
  std::size_t plane = 0;
  std::size_t face = 0;
  bool is_clipped = false;  ///< an eave in the middle of a standing side
};

Fall fall_of(const Slope& slope, glm::dvec2 a, glm::dvec2 b) {
  if (slope.is_level()) {
    return Fall::across;
  }
  const glm::dvec2 outward = glm::normalize(glm::dvec2(b.y - a.y, a.x - b.x));
  const double up = glm::dot(slope.gradient, outward) / slope.rise_per_run();
  return up < -square_cosine ? Fall::toward : (up > square_cosine ? Fall::away : Fall::across);
}

bool go_on(const Side& one, const Side& next, double tolerance_m) {
  const glm::dvec2 chord = next.b - one.a;
  const double length = glm::length(chord);
  if (length < 1e-9 || glm::dot(next.b - next.a, one.b - one.a) <= 0.0) {
    return false;
  }
  return std::abs(cross(chord, one.b - one.a)) / length <= tolerance_m / 2.0;
}

bool are_alike(const Side& one, const Side& next) {
  const bool one_falls = one.fall == Fall::toward;
  const bool next_falls = next.fall == Fall::toward;
  return one_falls == next_falls && (!one_falls || one.plane == next.plane);
}

/// Makes one side of two that go on in one line and are alike.
void join_sides(std::vector<Side>& sides, double tolerance_m) {
  for (std::size_t i = 0; i < sides.size() && sides.size() > 3;) {
    const std::size_t next = (i + 1) % sides.size();
    if (are_alike(sides[i], sides[next]) && go_on(sides[i], sides[next], tolerance_m)) {
      sides[i].fall = sides[i].fall == sides[next].fall ? sides[i].fall : Fall::across;
      sides[i].b = sides[next].b;
      sides.erase(sides.begin() + static_cast<std::ptrdiff_t>(next));
      i = next == 0 ? sides.size() : i;
    } else {
      ++i;
    }
  }
}

/// Standing, falling, standing in one line: a gable whose top is clipped.
void clip_gables(std::vector<Side>& sides, double tolerance_m) {
  for (std::size_t i = 0; i < sides.size() && sides.size() > 4; ++i) {
    const std::size_t count = sides.size();
    const Side before = sides[i];
    const Side middle = sides[(i + 1) % count];
    const Side after = sides[(i + 2) % count];
    const bool is_clipped = before.fall != Fall::toward && middle.fall == Fall::toward &&
                            after.fall != Fall::toward && go_on(before, middle, tolerance_m) &&
                            go_on(middle, after, tolerance_m);
    if (is_clipped) {
      Side whole = middle;
      whole.a = before.a;
      whole.b = after.b;
      whole.is_clipped = true;
      sides[(i + 1) % count] = whole;
      const std::size_t last = std::max(i, (i + 2) % count);
      const std::size_t first = std::min(i, (i + 2) % count);
      sides.erase(sides.begin() + static_cast<std::ptrdiff_t>(last));
      sides.erase(sides.begin() + static_cast<std::ptrdiff_t>(first));
    }
  }
}

std::vector<Side> sides_of(const Faces& all, const BorderLoop& loop, double tolerance_m) {
  std::vector<Side> sides;
  for (const Border& border : loop) {
    Side side{border.a, border.b, Fall::across, all.faces[border.face].plane, border.face};
    side.fall =
        border.is_joint ? Fall::across : fall_of(all.slope_of(border.face), border.a, border.b);
    sides.push_back(side);
  }
  join_sides(sides, tolerance_m);
  clip_gables(sides, tolerance_m);
  return sides;
}

double length_of(const Side& side) { return glm::distance(side.a, side.b); }

double height_of(const Faces& all, const Side& side) {
  return all.planes[side.plane].z((side.a + side.b) / 2.0);
}

/// What one part is made from.
struct Context {
  const Faces& all;
  const Group& group;
  const std::vector<Joint>& joints;
  double tolerance_m;
  double plate_m = 0.0;
};

bool is_within(const Group& group, const Joint& joint) {
  return std::binary_search(group.begin(), group.end(), joint.left) &&
         std::binary_search(group.begin(), group.end(), joint.right);
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
      if (std::abs(glm::dot(glm::normalize(b - a), up)) < 0.05 && height_m > least + 0.01) {
        breaks.push_back(
            {units::on_grid(height_m), units::Pitch::from_tangent(next.rise_per_run())});
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
  edge.pitch = units::Pitch::from_tangent(slope.rise_per_run());
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

std::optional<double> plate_of(const Faces& all, const std::vector<std::vector<Side>>& loops) {
  std::optional<double> plate;
  for (const std::vector<Side>& sides : loops) {
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

std::vector<glm::dvec2> outline_of(const std::vector<Side>& sides) {
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

std::optional<model::Part> part_of(Context context, const std::vector<std::vector<Side>>& loops) {
  const std::optional<double> plate = plate_of(context.all, loops);
  if (!plate) {
    return std::nullopt;
  }
  context.plate_m = *plate;
  model::Part part = drawn(*plate);
  for (const std::vector<Side>& sides : loops) {
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

// ---- Closing an outline that was cut off. ----

std::vector<glm::dvec2> hull_of(std::vector<glm::dvec2> points) {
  std::sort(points.begin(), points.end(),
            [](glm::dvec2 p, glm::dvec2 q) { return p.x < q.x || (p.x == q.x && p.y < q.y); });
  std::vector<glm::dvec2> hull;
  for (int half = 0; half < 2; ++half) {
    const std::size_t start = hull.size();
    for (const glm::dvec2 p : points) {
      while (hull.size() >= start + 2 &&
             cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 1e-9) {
        hull.pop_back();
      }
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

/// The side of `sides` that runs along a -> b, the longest of them.
const Side* along(const std::vector<Side>& sides, glm::dvec2 a, glm::dvec2 b, double tolerance_m) {
  const glm::dvec2 way = glm::normalize(b - a);
  const Side* best = nullptr;
  for (const Side& side : sides) {
    const bool is_on = std::abs(cross(side.a - a, way)) <= tolerance_m &&
                       std::abs(cross(side.b - a, way)) <= tolerance_m &&
                       glm::dot(side.b - side.a, way) > 0.0;
    const bool is_better = best == nullptr ||
                           (best->fall != Fall::toward && side.fall == Fall::toward) ||
                           (best->fall == side.fall && length_of(side) > length_of(*best));
    if (is_on && is_better) {
      best = &side;
    }
  }
  return best;
}

std::vector<Side> closed(const std::vector<Side>& sides, const std::vector<glm::dvec2>& outline,
                         double tolerance_m) {
  std::vector<Side> whole;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const glm::dvec2 a = outline[i];
    const glm::dvec2 b = outline[(i + 1) % outline.size()];
    Side side{a, b};
    if (const Side* found = along(sides, a, b, tolerance_m)) {
      side = *found;
      side.a = a;
      side.b = b;
    }
    whole.push_back(side);
  }
  join_sides(whole, tolerance_m);
  return whole;
}

std::vector<glm::dvec2> corners_of(const std::vector<Side>& sides) {
  std::vector<glm::dvec2> corners;
  for (const Side& side : sides) {
    corners.push_back(side.a);
  }
  return corners;
}

/// The rectangle square to the longest eave; its ends grow by `grow_m` where no side lies.
std::vector<glm::dvec2> rectangle_of(const std::vector<Side>& sides, double grow_m,
                                     double tolerance_m) {
  const Side* eave = nullptr;
  for (const Side& side : sides) {
    if (side.fall == Fall::toward && (eave == nullptr || length_of(side) > length_of(*eave))) {
      eave = &side;
    }
  }
  if (eave == nullptr) {
    return {};
  }
  const glm::dvec2 u = glm::normalize(eave->b - eave->a);
  const glm::dvec2 v(-u.y, u.x);
  polygon::Box box;
  for (const glm::dvec2 p : corners_of(sides)) {
    box.add({glm::dot(p, u), glm::dot(p, v)});
  }
  const auto at = [&](double x, double y) { return x * u + y * v; };
  const auto rectangle = [&] {
    return std::vector<glm::dvec2>{at(box.low.x, box.low.y), at(box.high.x, box.low.y),
                                   at(box.high.x, box.high.y), at(box.low.x, box.high.y)};
  };
  const std::vector<glm::dvec2> tight = rectangle();
  const auto is_free = [&](std::size_t i) {
    return along(sides, tight[i], tight[(i + 1) % 4], tolerance_m) == nullptr;
  };
  box.low.y -= is_free(0) ? grow_m : 0.0;
  box.high.x += is_free(1) ? grow_m : 0.0;
  box.high.y += is_free(2) ? grow_m : 0.0;
  box.low.x -= is_free(3) ? grow_m : 0.0;
  return rectangle();
}

double area_of(const BorderLoop& loop) {
  double twice = 0.0;
  for (const Border& border : loop) {
    twice += cross(border.a - loop.front().a, border.b - loop.front().a);
  }
  return twice / 2.0;
}

std::vector<glm::dvec2> points_of(const BorderLoop& loop) {
  std::vector<glm::dvec2> points;
  for (const Border& border : loop) {
    points.push_back(border.a);
  }
  return points;
}

/// The outer loop `number` and the holes within it.
std::vector<std::vector<Side>> loops_of(const Faces& all, const std::vector<BorderLoop>& borders,
                                        std::size_t number, double tolerance_m) {
  std::vector<std::vector<Side>> loops{sides_of(all, borders[number], tolerance_m)};
  const std::vector<glm::dvec2> outer = points_of(borders[number]);
  for (const BorderLoop& loop : borders) {
    if (area_of(loop) < 0.0 && polygon::contains(outer, loop.front().a)) {
      loops.push_back(sides_of(all, loop, tolerance_m));
    }
  }
  return loops;
}

/// Cuts the corner where two sides meet at `number` square to `up`.
void cut_corner(std::vector<Side>& sides, std::size_t number, glm::dvec2 up) {
  Side& after = sides[number];
  Side& before = sides[(number + sides.size() - 1) % sides.size()];
  const glm::dvec2 corner = after.a;
  const auto reach = [&](const glm::dvec2 to) {
    const double rise = glm::dot(to - corner, up);
    const double most = 0.4 * glm::distance(to, corner);
    const double wanted = rise > 1e-6 ? hand_m / 2.0 * glm::distance(to, corner) / rise : most;
    return std::min(wanted, most);
  };
  const double rise_before = glm::dot(before.a - corner, up) / glm::distance(before.a, corner);
  const double rise_after = glm::dot(after.b - corner, up) / glm::distance(after.b, corner);
  const double rise =
      std::min({rise_before * reach(before.a), rise_after * reach(after.b), hand_m / 2.0});
  if (rise_before <= 0.0 || rise_after <= 0.0 || rise <= 1e-6) {
    return;
  }
  const glm::dvec2 p = corner + rise / rise_before * glm::normalize(before.a - corner);
  const glm::dvec2 q = corner + rise / rise_after * glm::normalize(after.b - corner);
  Side eave{p, q, Fall::toward, after.plane, after.face};
  before.b = p;
  after.a = q;
  sides.insert(sides.begin() + static_cast<std::ptrdiff_t>(number), eave);
}

// ---- A plane by itself. ----

double least_fall() { return std::tan(std::acos(-1.0) / 180.0 * least_fall_deg); }

/// The lowest edge that the plane falls toward, of a level plane the longest; -1 where the lowest
/// corner lies lower.
std::ptrdiff_t lowest_eave(const Slope& slope, const std::vector<Side>& sides, double tolerance_m) {
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
void make_plain(const Slope& slope, std::vector<std::vector<Side>>& loops, double tolerance_m) {
  for (std::vector<Side>& loop : loops) {
    for (Side& side : loop) {
      side.fall = side.fall == Fall::toward ? Fall::across : side.fall;
      side.is_clipped = false;
    }
  }
  std::vector<Side>& sides = loops.front();
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

model::Part plain_part(const Slope& slope, const std::vector<std::vector<Side>>& loops,
                       double plate_m) {
  model::Part part = drawn(plate_m);
  const double steepest = std::tan(std::acos(-1.0) / 180.0 * steepest_deg);
  for (const std::vector<Side>& loop : loops) {
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

std::vector<Side> sides_of_piece(const polygon::Loop& piece, const Slope& slope,
                                 std::size_t plane) {
  std::vector<Side> sides;
  for (std::size_t i = 0; i < piece.size(); ++i) {
    const glm::dvec2 a = piece[i];
    const glm::dvec2 b = piece[(i + 1) % piece.size()];
    sides.push_back({a, b, fall_of(slope, a, b), plane, 0});
  }
  return sides;
}

}  // namespace

std::vector<BorderLoop> borders_of(const Faces& all, const Group& group, double tolerance_m) {
  struct Half {
    std::uint32_t to = 0;
    Border border;
    bool is_used = false;
  };
  std::multimap<std::uint32_t, Half> from;
  for (const auto& [side, face] : all.face_left_of) {
    const std::ptrdiff_t other = all.across(side.first, side.second);
    const bool is_inner = other >= 0 && std::binary_search(group.begin(), group.end(),
                                                           static_cast<std::size_t>(other));
    if (is_inner || !std::binary_search(group.begin(), group.end(), face)) {
      continue;
    }
    Border border{all.corners[side.first], all.corners[side.second], face};
    if (other >= 0) {
      const Slope& beyond = all.slope_of(static_cast<std::size_t>(other));
      const Slope& here = all.slope_of(face);
      border.is_joint = std::abs(beyond.z(border.a) - here.z(border.a)) <= 2.0 * tolerance_m &&
                        std::abs(beyond.z(border.b) - here.z(border.b)) <= 2.0 * tolerance_m;
    }
    from.emplace(side.first, Half{side.second, border});
  }
  std::vector<BorderLoop> loops;
  for (auto& [start, first] : from) {
    BorderLoop loop;
    for (Half* half = &first; half != nullptr && !half->is_used;) {
      half->is_used = true;
      loop.push_back(half->border);
      // At a corner that several loops touch: the next side clockwise keeps to the same ground.
      const glm::dvec2 back = half->border.a - half->border.b;
      Half* next = nullptr;
      double least = std::numeric_limits<double>::infinity();
      const auto [low, high] = from.equal_range(half->to);
      for (auto at = low; at != high; ++at) {
        const glm::dvec2 way = at->second.border.b - at->second.border.a;
        double turn = -std::atan2(cross(back, way), glm::dot(back, way));
        turn += turn <= 0.0 ? 2.0 * std::acos(-1.0) : 0.0;
        if (!at->second.is_used && turn < least) {
          least = turn;
          next = &at->second;
        }
      }
      half = next;
    }
    if (loop.size() > 2 && loop.front().a == loop.back().b) {
      loops.push_back(std::move(loop));
    }
  }
  return loops;
}

std::vector<model::Part> parts_of(const Faces& all, const Group& group, Closing closing,
                                  double tolerance_m) {
  const std::vector<BorderLoop> borders = borders_of(all, group, tolerance_m);
  const std::vector<Joint> joints = joints_of(all, tolerance_m);
  std::vector<model::Part> parts;
  for (std::size_t i = 0; i < borders.size(); ++i) {
    if (area_of(borders[i]) <= 0.0) {
      continue;
    }
    std::vector<std::vector<Side>> loops = loops_of(all, borders, i, tolerance_m);
    if (closing != Closing::as_cut) {
      const std::vector<Side> sides = loops.front();
      const std::vector<glm::dvec2> outline =
          closing == Closing::hull
              ? hull_of(corners_of(sides))
              : rectangle_of(sides, closing == Closing::beyond ? beyond_m : 0.0, tolerance_m);
      if (outline.size() < 3) {
        return {};
      }
      loops = {closed(sides, outline, tolerance_m)};
    }
    const std::optional<model::Part> part = part_of({all, group, joints, tolerance_m}, loops);
    if (!part) {
      return {};
    }
    parts.push_back(*part);
  }
  return parts;
}

std::vector<model::Part> plain_parts_of(const Faces& all, const Group& group, Pieces pieces,
                                        double tolerance_m) {
  const Slope& slope = all.slope_of(group.front());
  std::vector<std::vector<std::vector<Side>>> outlines;
  if (pieces == Pieces::whole) {
    const std::vector<BorderLoop> borders = borders_of(all, group, tolerance_m);
    for (std::size_t i = 0; i < borders.size(); ++i) {
      if (area_of(borders[i]) > 0.0) {
        outlines.push_back(loops_of(all, borders, i, tolerance_m));
      }
    }
  } else {
    for (const std::size_t face : group) {
      for (const polygon::Loop& piece : polygon::convex_pieces(all.faces[face].plan)) {
        if (polygon::area(piece) > least_piece_m2) {
          outlines.push_back({sides_of_piece(piece, slope, all.faces[face].plane)});
        }
      }
    }
  }
  std::vector<model::Part> parts;
  for (std::vector<std::vector<Side>>& loops : outlines) {
    make_plain(slope, loops, tolerance_m);
    if (const std::optional<double> plate = plate_of(all, loops)) {
      parts.push_back(plain_part(slope, loops, *plate));
    }
  }
  return parts;
}

}  // namespace ridgeward::rebuild
