#include "base/polygon.hpp"

#include "scene/bodies.hpp"
#include "scene/pieces.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

namespace ridgeward::scene {
namespace {

constexpr double board_m = 0.19;         // height of fascia and rake boards, for the eye only
constexpr double board_clear_m = 0.02;   // from the ends of the rafters
constexpr double stroke_clear_m = 0.12;  // of a wall's corner stroke below the deck
constexpr double storey_m = 2.4;         // least wall drawn under a plate
constexpr double chimney_above_m = 0.9;  // over the highest deck beside it, for the eye only

constexpr double foot_below_m = 0.3;  // of what stands on the roof, under the deck

constexpr double pipe_above_m = 0.4;   // over the deck, for the eye only
constexpr double frame_above_m = 0.1;  // of skylights and solar arrays, for the eye only

/// The roof seen from straight above.
class Plan {
 public:
  explicit Plan(const surface::Surface& surface) : surface_(surface) {
    for (const surface::Plane& plane : surface.planes) {
      std::vector<Polygon> loops;
      for (const surface::Loop& loop : plane.loops) {
        Polygon polygon;
        for (const surface::LoopStep& step : loop) {
          const surface::Line& line = surface.lines[step.line];
          polygon.emplace_back(surface.nodes[step.forward ? line.from : line.to]);
        }
        loops.push_back(std::move(polygon));
      }
      plans_.push_back(std::move(loops));
    }
  }

  /// The plane over a point; none outside the roof.
  std::optional<std::size_t> plane_over(glm::dvec2 p) const {
    for (std::size_t i = 0; i < plans_.size(); ++i) {
      bool inside = false;
      for (const Polygon& loop : plans_[i]) {
        inside ^= is_within(loop, p);
      }
      if (inside) {
        return i;
      }
    }
    return std::nullopt;
  }

  double height(std::size_t plane, glm::dvec2 p) const {
    const surface::Frame& frame = surface_.planes[PlaneId(plane)].frame;
    const glm::dvec3& n = frame.normal;
    return frame.origin.z -
           (n.x * (p.x - frame.origin.x) + n.y * (p.y - frame.origin.y)) / std::max(1e-6, n.z);
  }

  /// Shares of the way from a to b at which it passes under a line of the roof, 0 and 1 with them.
  std::vector<double> crossings(glm::dvec2 a, glm::dvec2 b) const {
    std::vector<double> shares{0.0, 1.0};
    const glm::dvec2 way = b - a;
    for (const surface::Line& line : surface_.lines) {
      const glm::dvec2 c(surface_.nodes[line.from]);
      const glm::dvec2 step = glm::dvec2(surface_.nodes[line.to]) - c;
      const double turn = way.x * step.y - way.y * step.x;
      if (turn == 0.0) {
        continue;
      }
      const glm::dvec2 gap = c - a;
      const double along_way = (gap.x * step.y - gap.y * step.x) / turn;
      const double along_line = (gap.x * way.y - gap.y * way.x) / turn;
      if (along_way > 0 && along_way < 1 && along_line >= 0 && along_line <= 1) {
        shares.push_back(along_way);
      }
    }
    std::sort(shares.begin(), shares.end());
    return shares;
  }

 private:
  static bool is_within(const Polygon& loop, glm::dvec2 p) {
    bool inside = false;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const glm::dvec2 a = loop[i];
      const glm::dvec2 b = loop[(i + 1) % loop.size()];
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) {
        inside = !inside;
      }
    }
    return inside;
  }

  const surface::Surface& surface_;
  std::vector<std::vector<Polygon>> plans_;
};

struct WallBounds {
  std::size_t part = 0;
  double ground_m = 0.0;
  double plate_m = 0.0;
  double deck_m = 0.0;
};

/// One side of a part's walls: the outer face from a to b, the inner corners behind them.
struct WallSide {
  glm::dvec2 a{0.0};
  glm::dvec2 b{0.0};
  glm::dvec2 inner_a{0.0};
  glm::dvec2 inner_b{0.0};
};

/// Where the inner face turns at corner `k` of a loop that runs with the house on its left.
glm::dvec2 inner_corner(const Polygon& loop, std::size_t k, double thick_m) {
  const std::size_t n = loop.size();
  const glm::dvec2 before = loop[k] - loop[(k + n - 1) % n];
  const glm::dvec2 after = loop[(k + 1) % n] - loop[k];
  if (glm::length(before) <= 0 || glm::length(after) <= 0) {
    return loop[k];
  }
  const glm::dvec2 u = glm::normalize(glm::dvec2(-before.y, before.x));
  const glm::dvec2 v = glm::normalize(glm::dvec2(-after.y, after.x));
  const double together = 1 + glm::dot(u, v);
  return loop[k] + (together > 0.1 ? (u + v) * (thick_m / together) : v * thick_m);
}

void add_quad(const std::array<glm::dvec3, 4>& quad, Face& face) {
  face.triangles.push_back({quad[0], quad[1], quad[2]});
  face.triangles.push_back({quad[0], quad[2], quad[3]});
}

/// The walls of all parts, from the ground up to the deck above them. What stands under another
/// part's roof is no wall; what stands on another part (a dormer's) begins at that part's plate.
class Walls {
 public:
  Walls(const Assessment& assessment, const Plan& plan, Scene& scene)
      : surface_(assessment.surface), plan_(plan), scene_(scene) {
    for (const model::Part& part : assessment.model.parts) {
      plates_.push_back(part.plate_m);
    }
  }

  void add(const WallSide& side, const WallBounds& bounds) {
    const glm::dvec2 way = side.b - side.a;
    const double length = glm::length(way);
    if (length <= 0) {
      return;
    }
    inward_ = glm::dvec2(-way.y, way.x) / length;
    Face face;
    face.role = FaceRole::wall;
    face.normal = {-inward_.x, -inward_.y, 0.0};
    const std::vector<double> shares = plan_.crossings(side.a, side.b);
    for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
      add_piece(side, bounds, {shares[i], shares[i + 1]}, face);
    }
    if (!face.triangles.empty()) {
      stroke(glm::dvec3(side.a, bounds.ground_m), glm::dvec3(side.b, bounds.ground_m));
      scene_.faces.push_back(std::move(face));
    }
  }

  void finish() {
    Face like;
    like.role = FaceRole::wall_core;
    add_slabs(cores_, like, scene_);
  }

 private:
  /// The first part but `own` whose walls surround the point.
  std::optional<std::size_t> other_around(glm::dvec2 p, std::size_t own) const {
    for (std::size_t i = 0; i < surface_.wall_outlines.size(); ++i) {
      if (i != own && polygon::contains(surface_.wall_outlines[i], p)) {
        return i;
      }
    }
    return std::nullopt;
  }

  void add_piece(const WallSide& side, WallBounds bounds, glm::dvec2 shares, Face& face) {
    const glm::dvec2 p = side.a + (side.b - side.a) * shares.x;
    const glm::dvec2 q = side.a + (side.b - side.a) * shares.y;
    const glm::dvec2 middle = (p + q) / 2.0;
    // A hair inside, so that a wall under the very edge of the roof finds its plane.
    const auto over = plan_.plane_over(middle + inward_ * 1e-3);
    double p_top = over ? plan_.height(*over, p) - bounds.deck_m : bounds.plate_m;
    double q_top = over ? plan_.height(*over, q) - bounds.deck_m : bounds.plate_m;
    if (const auto around = other_around(middle + inward_ * 1e-3, bounds.part)) {
      const bool is_own = over && surface_.planes[PlaneId(*over)].part == bounds.part;
      if (!is_own) {
        return;
      }
      bounds.ground_m = plates_[*around];
    } else if (other_around(middle - inward_ * 0.05, bounds.part)) {
      p_top = std::min(p_top, bounds.plate_m);
      q_top = std::min(q_top, bounds.plate_m);
    }
    if (std::max(p_top, q_top) <= bounds.ground_m) {
      return;
    }
    add_quad({glm::dvec3(p, bounds.ground_m), glm::dvec3(q, bounds.ground_m), glm::dvec3(q, q_top),
              glm::dvec3(p, p_top)},
             face);
    if (shares.x <= 0.0) {
      stroke(glm::dvec3(p, bounds.ground_m), glm::dvec3(p, p_top - stroke_clear_m));
    }
    // Rafters stand on the plate of a wall under an eave; a gable's goes up to the deck.
    if (std::abs(p_top - q_top) < 1e-6) {
      p_top = q_top = std::min(p_top, bounds.plate_m);
    }
    const glm::dvec2 p_in = shares.x <= 0.0 ? side.inner_a : p + inward_ * thickness_of(side);
    const glm::dvec2 q_in = shares.y >= 1.0 ? side.inner_b : q + inward_ * thickness_of(side);
    const double low = bounds.ground_m;
    cores_.push_back({{p, q, q_in, p_in}, {low, low, low, low}, {p_top, q_top, q_top, p_top}});
  }

  double thickness_of(const WallSide& side) const {
    return glm::dot(inward_, side.inner_a - side.a);
  }

  void stroke(glm::dvec3 from, glm::dvec3 to) {
    scene_.strokes.push_back(
        {StrokeRole::outline, Layer::walls, from, to, LineId(), MemberId(), {}});
  }

  const surface::Surface& surface_;
  const Plan& plan_;
  Scene& scene_;
  glm::dvec2 inward_{0.0};
  std::vector<double> plates_;  ///< of all parts
  std::vector<Slab> cores_;
};

/// What one stands on in the rooms; seen where the house is cut open.
void add_floor(const std::vector<Polygon>& outline, double ground_m, Scene& scene) {
  std::vector<glm::dvec2> points;
  for (const Polygon& loop : outline) {
    points.insert(points.end(), loop.begin(), loop.end());
  }
  Face face;
  face.role = FaceRole::floor;
  for (const auto& t : triangulate(outline)) {
    face.triangles.push_back({glm::dvec3(points[t[0]], ground_m),
                              glm::dvec3(points[t[1]], ground_m),
                              glm::dvec3(points[t[2]], ground_m)});
  }
  scene.faces.push_back(std::move(face));
}

void add_boards(const surface::Surface& surface, Scene& scene) {
  for (const surface::Line& line : surface.lines) {
    const bool is_free = line.kind == surface::LineKind::eave ||
                         line.kind == surface::LineKind::rake ||
                         line.kind == surface::LineKind::shed_top;
    if (!is_free) {
      continue;
    }
    glm::dvec3 from = surface.nodes[line.from];
    glm::dvec3 to = surface.nodes[line.to];
    if (line.left.of == surface::Side::Of::plane) {
      std::swap(from, to);  // then the outside is on the left hand
    }
    const glm::dvec3 drop(0.0, 0.0, -board_m);
    const glm::dvec2 way = glm::dvec2(to - from);
    Face face;
    face.role = FaceRole::trim;
    const double length = glm::length(way);
    face.normal =
        length > 0 ? glm::dvec3(-way.y / length, way.x / length, 0.0) : glm::dvec3(1.0, 0.0, 0.0);
    const glm::dvec3 out = face.normal * board_clear_m;
    add_quad({from + out, to + out, to + drop + out, from + drop + out}, face);
    scene.faces.push_back(std::move(face));
  }
}

void add_obstacle(const Assessment& assessment, const Plan& plan, const model::Obstacle& obstacle,
                  Scene& scene) {
  Face like;
  like.role = FaceRole::obstacle;
  like.layer = Layer::obstacles;
  if (!obstacle.outline.empty()) {
    double low = 0.0;
    double high = 0.0;
    bool found = false;
    for (const glm::dvec2 p : obstacle.outline) {
      if (const auto over = plan.plane_over(p)) {
        const double height = plan.height(*over, p);
        low = found ? std::min(low, height) : height;
        high = found ? std::max(high, height) : height;
        found = true;
      }
    }
    if (!found) {
      return;
    }
    const double above =
        obstacle.kind == model::ObstacleKind::chimney ? chimney_above_m : chimney_above_m / 3;
    const bool is_chimney = obstacle.kind == model::ObstacleKind::chimney;
    const double foot = is_chimney ? scene.ground_m : low - foot_below_m;
    std::vector<glm::dvec3> base;
    base.reserve(obstacle.outline.size());
    for (const glm::dvec2 p : obstacle.outline) {
      base.emplace_back(p, foot);
    }
    add_prism(base, {0.0, 0.0, high + above - foot}, like, scene);
    return;
  }
  const PlaneId plane = assessment.surface.plane_named(obstacle.plane);
  if (plane.is_none()) {
    return;
  }
  const surface::Frame& frame = assessment.surface.planes[plane].frame;
  const glm::dvec2 a = obstacle.at;
  const glm::dvec2 b = obstacle.at + obstacle.size;
  const glm::dvec3 rise = obstacle.kind == model::ObstacleKind::pipe
                              ? glm::dvec3(0.0, 0.0, pipe_above_m)
                              : frame.normal * frame_above_m;
  add_prism({frame.at(a), frame.at({b.x, a.y}), frame.at(b), frame.at({a.x, b.y})}, rise, like,
            scene);
}

}  // namespace

void add_house(const Assessment& assessment, Scene& scene) {
  const surface::Surface& surface = assessment.surface;
  const Plan plan(surface);
  double lowest_plate = storey_m;
  for (const model::Part& part : assessment.model.parts) {
    lowest_plate = std::min(lowest_plate, part.plate_m);
  }
  scene.ground_m = std::min(0.0, lowest_plate - storey_m);
  Walls walls(assessment, plan, scene);
  const std::size_t parts = std::min(surface.wall_outlines.size(), assessment.model.parts.size());
  for (std::size_t i = 0; i < parts; ++i) {
    const model::Part& part = assessment.model.parts[i];
    const WallBounds bounds{i, scene.ground_m, part.plate_m, part.deck_m};
    for (const Polygon& loop : surface.wall_outlines[i]) {
      for (std::size_t k = 0; k < loop.size(); ++k) {
        const std::size_t next = (k + 1) % loop.size();
        walls.add({loop[k], loop[next], inner_corner(loop, k, part.wall_thickness_m),
                   inner_corner(loop, next, part.wall_thickness_m)},
                  bounds);
      }
    }
    add_floor(surface.wall_outlines[i], scene.ground_m, scene);
  }
  walls.finish();
  add_boards(surface, scene);
  for (const model::Obstacle& obstacle : assessment.model.obstacles) {
    add_obstacle(assessment, plan, obstacle, scene);
  }
}

}  // namespace ridgeward::scene
