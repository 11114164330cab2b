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
  double ground_m = 0.0;
  double plate_m = 0.0;
  double deck_m = 0.0;
};

void add_quad(const std::array<glm::dvec3, 4>& quad, Face& face) {
  face.triangles.push_back({quad[0], quad[1], quad[2]});
  face.triangles.push_back({quad[0], quad[2], quad[3]});
}

/// One wall from the ground to the deck above it.
void add_wall(const Plan& plan, glm::dvec2 a, glm::dvec2 b, const WallBounds& bounds,
              Scene& scene) {
  const glm::dvec2 way = b - a;
  const double length = glm::length(way);
  if (length <= 0) {
    return;
  }
  const glm::dvec2 inward = glm::dvec2(-way.y, way.x) / length;
  Face face;
  face.role = FaceRole::wall;
  face.normal = {-inward.x, -inward.y, 0.0};
  const std::vector<double> shares = plan.crossings(a, b);
  for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
    const glm::dvec2 p = a + way * shares[i];
    const glm::dvec2 q = a + way * shares[i + 1];
    // A hair inside, so that a wall under the very edge of the roof finds its plane.
    const auto over = plan.plane_over((p + q) / 2.0 + inward * 1e-3);
    const double p_top = over ? plan.height(*over, p) - bounds.deck_m : bounds.plate_m;
    const double q_top = over ? plan.height(*over, q) - bounds.deck_m : bounds.plate_m;
    add_quad({glm::dvec3(p, bounds.ground_m), glm::dvec3(q, bounds.ground_m), glm::dvec3(q, q_top),
              glm::dvec3(p, p_top)},
             face);
    if (i == 0) {
      scene.strokes.push_back({StrokeRole::outline,
                               Layer::walls,
                               glm::dvec3(p, bounds.ground_m),
                               glm::dvec3(p, p_top - stroke_clear_m),
                               LineId(),
                               MemberId(),
                               {}});
    }
  }
  scene.strokes.push_back({StrokeRole::outline,
                           Layer::walls,
                           glm::dvec3(a, bounds.ground_m),
                           glm::dvec3(b, bounds.ground_m),
                           LineId(),
                           MemberId(),
                           {}});
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
  like.role = FaceRole::wall;
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
    std::vector<glm::dvec3> base;
    base.reserve(obstacle.outline.size());
    for (const glm::dvec2 p : obstacle.outline) {
      base.emplace_back(p, low - 0.3);
    }
    add_prism(base, {0.0, 0.0, high + above - low + 0.3}, like, scene);
    return;
  }
  const PlaneId plane = assessment.surface.plane_named(obstacle.plane);
  if (plane.is_none()) {
    return;
  }
  const surface::Frame& frame = assessment.surface.planes[plane].frame;
  const glm::dvec2 a = obstacle.at;
  const glm::dvec2 b = obstacle.at + obstacle.size;
  like.role = FaceRole::trim;
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
  for (std::size_t i = 0; i < surface.wall_outlines.size(); ++i) {
    WallBounds bounds;
    bounds.ground_m = scene.ground_m;
    if (i < assessment.model.parts.size()) {
      bounds.plate_m = assessment.model.parts[i].plate_m;
      bounds.deck_m = assessment.model.parts[i].deck_m;
    }
    for (const auto& loop : surface.wall_outlines[i]) {
      for (std::size_t k = 0; k < loop.size(); ++k) {
        add_wall(plan, loop[k], loop[(k + 1) % loop.size()], bounds, scene);
      }
    }
  }
  add_boards(surface, scene);
  for (const model::Obstacle& obstacle : assessment.model.obstacles) {
    add_obstacle(assessment, plan, obstacle, scene);
  }
}

}  // namespace ridgeward::scene
