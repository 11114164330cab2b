#include "rebuild/overhangs.hpp"

#include "units/length.hpp"

#include "rebuild/fit.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace ridgeward::rebuild {

namespace {

constexpr double most_overhang_m = 2.0;
constexpr double aside_m = 0.01;
constexpr double agree_m = 0.01;
constexpr double same_area_m2 = 1e-4;

using Walls = std::vector<std::vector<glm::dvec2>>;

bool is_eave(const model::Edge& edge) {
  return edge.kind == model::EdgeKind::eave || edge.kind == model::EdgeKind::gablet;
}

/// How far inward (left) of a -> b the wall beneath it stands.
std::optional<double> wall_beside(const Walls& walls, glm::dvec2 a, glm::dvec2 b) {
  const double length = glm::distance(a, b);
  const glm::dvec2 way = (b - a) / length;
  const glm::dvec2 inward{-way.y, way.x};
  struct Beside {
    double in_m = 0.0;
    double covered_m = 0.0;
  };
  std::vector<Beside> found;
  for (const std::vector<glm::dvec2>& wall : walls) {
    for (std::size_t i = 0; i < wall.size(); ++i) {
      const glm::dvec2 from = wall[i] - a;
      const glm::dvec2 to = wall[(i + 1) % wall.size()] - a;
      const double in_m = glm::dot(from, inward);
      const double low_m = std::min(glm::dot(from, way), glm::dot(to, way));
      const double high_m = std::max(glm::dot(from, way), glm::dot(to, way));
      const double covered_m = std::min(high_m, length) - std::max(low_m, 0.0);
      if (std::abs(in_m - glm::dot(to, inward)) <= aside_m && in_m >= -aside_m &&
          in_m <= most_overhang_m && covered_m > aside_m) {
        found.push_back({std::max(in_m, 0.0), covered_m});
      }
    }
  }
  std::sort(found.begin(), found.end(),
            [](const Beside& one, const Beside& other) { return one.in_m < other.in_m; });
  for (std::size_t i = 0; i < found.size();) {
    double covered_m = 0.0;
    std::size_t k = i;
    for (; k < found.size() && found[k].in_m - found[i].in_m <= aside_m; ++k) {
      covered_m += found[k].covered_m;
    }
    if (covered_m >= 0.5 * length) {
      return found[i].in_m;
    }
    i = k;
  }
  return std::nullopt;
}

/// An edge of a part with what stands beneath it. Lives no longer than the part stays as it is.
struct Hung {
  model::Edge* edge = nullptr;
  double length_m = 0.0;
  double drip_z_m = 0.0;  ///< of eaves, gablets and half hips
  std::optional<double> wall_m;
};

void add_hung(std::vector<Hung>& all, double plate_m, const std::vector<glm::dvec2>& outline,
              std::vector<model::Edge>& edges, const Walls& walls) {
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const glm::dvec2 a = outline[i];
    const glm::dvec2 b = outline[(i + 1) % outline.size()];
    model::Edge& edge = edges[i];
    const double from_m = edge.kind == model::EdgeKind::half_hip ? edge.from_height_m : 0.0;
    all.push_back({&edge, glm::distance(a, b),
                   plate_m + from_m - edge.overhang_m * edge.pitch.tangent(),
                   wall_beside(walls, a, b)});
  }
}

/// The height that most of the eaves' length agrees on, and none hangs inward by.
std::optional<double> plate_of(const std::vector<Hung>& all) {
  double highest_m = -HUGE_VAL;
  for (const Hung& one : all) {
    highest_m = is_eave(*one.edge) ? std::max(highest_m, one.drip_z_m) : highest_m;
  }
  const auto asks = [](const Hung& one) {
    return one.drip_z_m + one.wall_m.value_or(0.0) * one.edge->pitch.tangent();
  };
  std::optional<double> best;
  double most_m = 0.0;
  for (const Hung& one : all) {
    if (!is_eave(*one.edge) || !one.wall_m || asks(one) < highest_m - 1e-6) {
      continue;
    }
    double length_m = 0.0;
    for (const Hung& other : all) {
      const bool agrees =
          is_eave(*other.edge) && other.wall_m && std::abs(asks(other) - asks(one)) <= agree_m;
      length_m += agrees ? other.length_m : 0.0;
    }
    if (length_m > most_m + 1e-6) {
      most_m = length_m;
      best = asks(one);
    }
  }
  return best;
}

/// A part over its walls, and how many of its edges have some.
struct HungPart {
  model::Part part;
  Overhangs told;
};

/// None where the walls tell no plate.
std::optional<HungPart> hung_over(model::Part part, const Walls& walls) {
  std::vector<Hung> all;
  add_hung(all, part.plate_m, part.outline, part.edges, walls);
  for (model::Hole& hole : part.holes) {
    add_hung(all, part.plate_m, hole.outline, hole.edges, walls);
  }
  const std::optional<double> told_m = plate_of(all);
  if (!told_m) {
    return std::nullopt;
  }
  const double plate_m = units::on_grid(*told_m);
  const double raised_m = plate_m - part.plate_m;
  Overhangs told{0, 1, 0};
  for (const Hung& one : all) {
    model::Edge& edge = *one.edge;
    told.edges += one.wall_m ? 1U : 0U;
    if (is_eave(edge)) {
      edge.overhang_m = units::on_grid((plate_m - one.drip_z_m) / edge.pitch.tangent());
      const bool is_uneven = one.wall_m && std::abs(edge.overhang_m - *one.wall_m) > agree_m;
      told.uneven += is_uneven ? 1U : 0U;
      for (model::Break& bend : edge.breaks) {
        bend.height_m = units::on_grid(bend.height_m - raised_m);
      }
      continue;
    }
    edge.overhang_m = units::on_grid(one.wall_m.value_or(0.0));
    if (edge.kind == model::EdgeKind::half_hip) {
      edge.from_height_m =
          units::on_grid(one.drip_z_m + edge.overhang_m * edge.pitch.tangent() - plate_m);
    }
  }
  if (part.flat_top_m) {
    part.flat_top_m = units::on_grid(*part.flat_top_m - raised_m);
  }
  part.plate_m = plate_m;
  return HungPart{std::move(part), told};
}

/// Whether both raise to the same planes.
bool are_alike(const model::Part& one, const model::Part& other) {
  const std::optional<Raised> before = raise_parts({one});
  const std::optional<Raised> after = raise_parts({other});
  return before && after && before->size() == after->size() &&
         std::equal(before->begin(), before->end(), after->begin(),
                    [](const RaisedPlane& a, const RaisedPlane& b) {
                      return std::abs(a.area_m2 - b.area_m2) <= same_area_m2 &&
                             std::abs(a.slope.z(a.plan[0][0]) - b.slope.z(a.plan[0][0])) <= 1e-4;
                    });
}

}  // namespace

Overhangs take_overhangs(std::span<model::Part> parts, const Walls& walls) {
  Overhangs taken;
  for (model::Part& part : parts) {
    std::optional<HungPart> hung = hung_over(part, walls);
    if (hung && are_alike(part, hung->part)) {
      part = std::move(hung->part);
      taken.edges += hung->told.edges;
      taken.parts += hung->told.parts;
      taken.uneven += hung->told.uneven;
    }
  }
  return taken;
}

}  // namespace ridgeward::rebuild
