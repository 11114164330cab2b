#include "edit/room.hpp"

#include "base/polygon.hpp"

#include <glm/geometric.hpp>

#include <algorithm>

namespace ridgeward::edit {

namespace {

constexpr double slack_m = 0.05;  // of a corner's rounding and a wall's thickness of drawing

using Corners = std::vector<glm::dvec2>;

/// Places from an edge's left end: x along it, y in from the wall.
class FromEdge {
 public:
  FromEdge(const model::RoofModel& model, EdgePlace place) {
    const Corners& outline = model.parts[place.part].outline;
    corner_ = outline[place.edge];
    const glm::dvec2 way = outline[(place.edge + 1) % outline.size()] - corner_;
    length_m_ = glm::length(way);
    way_ = way / length_m_;
  }
  double length_m() const { return length_m_; }
  Corners seen(const Corners& corners) const {
    Corners seen;
    seen.reserve(corners.size());
    for (const glm::dvec2 corner : corners) {
      const glm::dvec2 off = corner - corner_;
      seen.emplace_back(glm::dot(off, way_), glm::dot(off, glm::dvec2(-way_.y, way_.x)));
    }
    return seen;
  }

 private:
  glm::dvec2 corner_{0.0};
  glm::dvec2 way_{1.0, 0.0};
  double length_m_ = 0.0;
};

/// How much of the edge the sides of a loop take where they run within a band; sides along its rims
/// don't.
void add_taken(const Corners& loop, double near_m, double far_m, std::vector<Stretch>& taken) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    glm::dvec2 a = loop[i];
    glm::dvec2 b = loop[(i + 1) % loop.size()];
    if (a.y > b.y) {
      std::swap(a, b);
    }
    if (b.y <= near_m || a.y >= far_m) {
      continue;
    }
    const auto at = [&](double y) {
      return b.y > a.y ? a.x + (b.x - a.x) * std::clamp((y - a.y) / (b.y - a.y), 0.0, 1.0) : a.x;
    };
    const double first = at(near_m);
    const double last = b.y > a.y ? at(far_m) : b.x;
    taken.push_back({std::min(first, last), std::max(first, last)});
  }
}

/// What is left of an edge.
std::vector<Stretch> left_of(double length_m, std::vector<Stretch> taken) {
  std::sort(taken.begin(), taken.end(),
            [](const Stretch& a, const Stretch& b) { return a.from_m < b.from_m; });
  std::vector<Stretch> left;
  double from_m = 0.0;
  for (const Stretch& one : taken) {
    if (one.from_m > from_m) {
      left.push_back({from_m, std::min(one.from_m, length_m)});
    }
    from_m = std::max(from_m, one.to_m);
    if (from_m >= length_m) {
      return left;
    }
  }
  left.push_back({from_m, length_m});
  return left;
}

}  // namespace

std::vector<Stretch> free_on_roof(const model::RoofModel& model, const surface::Surface& surface,
                                  EdgePlace place, double near_m, double far_m) {
  const FromEdge from_edge(model, place);
  std::vector<Stretch> free;
  for (const surface::Plane& plane : surface.planes) {
    const auto& edges = plane.run_edges;
    const bool is_own = plane.edge == place.edge ||
                        std::find(edges.begin(), edges.end(), place.edge) != edges.end();
    if (plane.part != place.part || !is_own) {
      continue;
    }
    std::vector<Corners> loops = surface::plan_of(surface, plane);
    std::vector<Stretch> taken;
    for (Corners& loop : loops) {
      loop = from_edge.seen(loop);
      add_taken(loop, near_m, far_m, taken);
    }
    for (const Stretch& one : left_of(from_edge.length_m(), taken)) {
      if (polygon::contains(loops, {(one.from_m + one.to_m) / 2, (near_m + far_m) / 2})) {
        free.push_back(one);
      }
    }
  }
  std::sort(free.begin(), free.end(),
            [](const Stretch& a, const Stretch& b) { return a.from_m < b.from_m; });
  return free;
}

std::vector<Stretch> free_outside(const model::RoofModel& model, EdgePlace place, double out_m) {
  const FromEdge from_edge(model, place);
  std::vector<Stretch> taken;
  for (std::size_t i = 0; i < model.parts.size(); ++i) {
    if (i == place.part) {
      continue;
    }
    const Corners seen = from_edge.seen(model.parts[i].outline);
    std::vector<Stretch> own;
    add_taken(seen, -out_m, -slack_m, own);
    if (own.empty()) {
      continue;
    }
    // The part stands between the sides that run there, too.
    Stretch all = own.front();
    for (const Stretch& one : own) {
      all = {std::min(all.from_m, one.from_m), std::max(all.to_m, one.to_m)};
    }
    taken.push_back(all);
  }
  return left_of(from_edge.length_m(), taken);
}

std::vector<Stretch> common(const std::vector<Stretch>& one, const std::vector<Stretch>& other) {
  std::vector<Stretch> both;
  for (const Stretch& a : one) {
    for (const Stretch& b : other) {
      const Stretch shared{std::max(a.from_m, b.from_m), std::min(a.to_m, b.to_m)};
      if (shared.length_m() > 0.0) {
        both.push_back(shared);
      }
    }
  }
  return both;
}

Stretch widest(const std::vector<Stretch>& free) {
  const auto found = std::max_element(
      free.begin(), free.end(),
      [](const Stretch& a, const Stretch& b) { return a.length_m() < b.length_m(); });
  return found == free.end() ? Stretch{} : *found;
}

std::optional<double> place_in(const std::vector<Stretch>& free, double edge_m, double wide_m,
                               double beside_m) {
  const double middle_m = edge_m / 2;
  for (const Stretch& one : free) {
    if (one.from_m <= middle_m - wide_m / 2 + slack_m &&
        middle_m + wide_m / 2 - slack_m <= one.to_m) {
      return middle_m;
    }
  }
  const Stretch room = widest(free);
  return room.length_m() >= wide_m + 2 * beside_m ? std::optional((room.from_m + room.to_m) / 2)
                                                  : std::nullopt;
}

}  // namespace ridgeward::edit
