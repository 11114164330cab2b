#include "rebuild/faces.hpp"

#include <glm/geometric.hpp>
#include <glm/vec3.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

namespace ridgeward::rebuild {

namespace {

/// Steeper ones are walls.
constexpr double steepest_cosine = 0.05;
/// Corners closer than this in plan are one.
constexpr double snap_m = 0.002;
/// Polygons whose normals differ by less may lie in one plane.
constexpr double least_same_cosine = 0.9995;  // 1.8 degrees

glm::dvec3 middle(const std::vector<glm::dvec3>& loop) {
  return std::accumulate(loop.begin(), loop.end(), glm::dvec3(0.0)) /
         static_cast<double>(loop.size());
}

/// Points closer than snap_m in plan become one, by cells of that size.
class Corners {
 public:
  explicit Corners(std::vector<glm::dvec2>& all) : all_(&all) {}
  std::uint32_t of(glm::dvec2 p) {
    const auto x = static_cast<std::int64_t>(std::floor(p.x / snap_m));
    const auto y = static_cast<std::int64_t>(std::floor(p.y / snap_m));
    for (std::int64_t i = x - 1; i <= x + 1; ++i) {
      for (std::int64_t j = y - 1; j <= y + 1; ++j) {
        const auto at = cells_.find({i, j});
        if (at != cells_.end() && glm::distance((*all_)[at->second], p) < snap_m) {
          return at->second;
        }
      }
    }
    const auto id = static_cast<std::uint32_t>(all_->size());
    cells_[{x, y}] = id;
    all_->push_back(p);
    return id;
  }

 private:
  std::vector<glm::dvec2>* all_;
  std::map<std::pair<std::int64_t, std::int64_t>, std::uint32_t> cells_;
};

/// Takes out corners that repeat and spikes (a corner between two equal ones).
void tidy(std::vector<std::uint32_t>& loop) {
  bool changed = true;
  while (changed && loop.size() > 2) {
    changed = false;
    for (std::size_t i = 0; i < loop.size() && loop.size() > 2; ++i) {
      const std::size_t next = (i + 1) % loop.size();
      const std::size_t after = (i + 2) % loop.size();
      if (loop[i] == loop[next] || loop[i] == loop[after]) {
        loop.erase(loop.begin() + static_cast<std::ptrdiff_t>(next));
        changed = true;
      }
    }
  }
}

/// Puts in the corners of others that lie on sides of this loop.
void take_in_corners(const std::vector<glm::dvec2>& corners, std::vector<std::uint32_t>& loop) {
  std::vector<std::uint32_t> whole;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const glm::dvec2 a = corners[loop[i]];
    const glm::dvec2 way = corners[loop[(i + 1) % loop.size()]] - a;
    const double length = glm::length(way);
    std::vector<std::pair<double, std::uint32_t>> on;
    for (std::uint32_t k = 0; k < corners.size() && length > 0.0; ++k) {
      const glm::dvec2 to = corners[k] - a;
      const double along = glm::dot(to, way) / length;
      const double aside = std::abs(to.x * way.y - to.y * way.x) / length;
      if (aside < snap_m && along > snap_m && along < length - snap_m) {
        on.emplace_back(along, k);
      }
    }
    std::sort(on.begin(), on.end());
    whole.push_back(loop[i]);
    for (const auto& [along, k] : on) {
      whole.push_back(k);
    }
  }
  loop = std::move(whole);
}

std::vector<glm::dvec2> points_of(const std::vector<glm::dvec2>& corners,
                                  const std::vector<std::uint32_t>& loop) {
  std::vector<glm::dvec2> points;
  points.reserve(loop.size());
  for (const std::uint32_t corner : loop) {
    points.push_back(corners[corner]);
  }
  return points;
}

struct Fitted {
  Slope slope;
  glm::dvec3 normal{0.0};
  double area_m2 = 0.0;
  double unevenness_m = 0.0;
};

std::optional<Fitted> fit(const RoofPolygon& polygon, glm::dvec3 origin) {
  if (polygon.empty() || polygon.front().size() < 3) {
    return std::nullopt;
  }
  glm::dvec3 sum = newell(polygon.front());
  const double outer = glm::length(sum);
  sum = sum.z < 0.0 ? -sum : sum;
  if (!(outer > 1e-6) || sum.z / outer < steepest_cosine) {
    return std::nullopt;
  }
  Fitted fitted;
  fitted.normal = sum / outer;
  fitted.area_m2 = outer;
  for (std::size_t i = 1; i < polygon.size(); ++i) {
    fitted.area_m2 -= polygon[i].size() < 3 ? 0.0 : glm::length(newell(polygon[i]));
  }
  const glm::dvec3 at = middle(polygon.front()) - origin;
  fitted.slope.gradient = -glm::dvec2(fitted.normal) / fitted.normal.z;
  fitted.slope.height_m = at.z - glm::dot(fitted.slope.gradient, glm::dvec2(at));
  for (const glm::dvec3& corner : polygon.front()) {
    const glm::dvec3 p = corner - origin;
    const double off = std::abs(p.z - fitted.slope.z(glm::dvec2(p))) * fitted.normal.z;
    fitted.unevenness_m = std::max(fitted.unevenness_m, off);
  }
  return fitted;
}

class Maker {
 public:
  Maker(glm::dvec3 origin, double tolerance_m) : origin_(origin), tolerance_m_(tolerance_m) {}

  void add(const RoofPolygon& polygon) {
    const std::optional<Fitted> fitted = fit(polygon, origin_);
    if (!fitted) {
      ++all_.upright;
      return;
    }
    Face face;
    for (const std::vector<glm::dvec3>& loop : polygon) {
      std::vector<std::uint32_t> ids;
      ids.reserve(loop.size());
      for (const glm::dvec3& corner : loop) {
        ids.push_back(corners_.of(glm::dvec2(corner - origin_)));
      }
      tidy(ids);
      if (ids.size() < 3) {
        continue;
      }
      const bool is_outer = face.loops.empty();
      if ((polygon::area(points_of(all_.corners, ids)) > 0.0) != is_outer) {
        std::reverse(ids.begin(), ids.end());
      }
      face.loops.push_back(std::move(ids));
    }
    if (face.loops.empty()) {
      return;
    }
    face.area_m2 = fitted->area_m2;
    all_.unevenness_m = std::max(all_.unevenness_m, fitted->unevenness_m);
    all_.faces.push_back(std::move(face));
    fitted_.push_back(*fitted);
  }

  Faces finish() {
    put_on_planes();
    for (std::size_t f = 0; f < all_.faces.size(); ++f) {
      for (std::vector<std::uint32_t>& loop : all_.faces[f].loops) {
        take_in_corners(all_.corners, loop);
        for (std::size_t i = 0; i < loop.size(); ++i) {
          all_.face_left_of.emplace(std::pair(loop[i], loop[(i + 1) % loop.size()]), f);
        }
        all_.faces[f].plan.push_back(points_of(all_.corners, loop));
      }
    }
    return std::move(all_);
  }

 private:
  /// The largest polygon of a plane says where the plane lies.
  void put_on_planes() {
    std::vector<std::size_t> order(all_.faces.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return fitted_[a].area_m2 > fitted_[b].area_m2;
    });
    std::vector<std::size_t> leaders;
    for (const std::size_t f : order) {
      const auto same = std::find_if(leaders.begin(), leaders.end(),
                                     [&](std::size_t leader) { return is_on(f, leader); });
      if (same == leaders.end()) {
        all_.faces[f].plane = leaders.size();
        leaders.push_back(f);
        all_.planes.push_back(fitted_[f].slope);
      } else {
        all_.faces[f].plane = static_cast<std::size_t>(same - leaders.begin());
      }
    }
  }
  bool is_on(std::size_t f, std::size_t leader) const {
    const Fitted& plane = fitted_[leader];
    if (glm::dot(fitted_[f].normal, plane.normal) < least_same_cosine) {
      return false;
    }
    const std::vector<std::uint32_t>& loop = all_.faces[f].loops.front();
    return std::all_of(loop.begin(), loop.end(), [&](std::uint32_t corner) {
      const glm::dvec2 p = all_.corners[corner];
      return std::abs(plane.slope.z(p) - fitted_[f].slope.z(p)) * plane.normal.z <=
             tolerance_m_ / 2.0;
    });
  }

  glm::dvec3 origin_;
  double tolerance_m_;
  Faces all_;
  Corners corners_{all_.corners};
  std::vector<Fitted> fitted_;
};

}  // namespace

glm::dvec3 newell(const std::vector<glm::dvec3>& loop) {
  glm::dvec3 sum(0.0);
  for (std::size_t i = 0; i < loop.size(); ++i) {
    sum += glm::cross(loop[i] - loop[0], loop[(i + 1) % loop.size()] - loop[0]);
  }
  return sum / 2.0;
}

std::ptrdiff_t Faces::across(std::uint32_t a, std::uint32_t b) const {
  const auto at = face_left_of.find({b, a});
  return at == face_left_of.end() ? -1 : static_cast<std::ptrdiff_t>(at->second);
}

Faces faces_of(const Building& building, glm::dvec2 origin, double tolerance_m) {
  Maker maker(glm::dvec3(origin, building.ground_m), tolerance_m);
  for (const RoofPolygon& polygon : building.roof) {
    maker.add(polygon);
  }
  return maker.finish();
}

std::vector<Joint> joints_of(const Faces& all, double tolerance_m) {
  std::vector<Joint> joints;
  for (const auto& [side, face] : all.face_left_of) {
    const std::ptrdiff_t other = all.across(side.first, side.second);
    if (other < 0 || static_cast<std::size_t>(other) <= face) {
      continue;
    }
    Joint joint{side.first, side.second, face, static_cast<std::size_t>(other)};
    const Slope& left = all.slope_of(joint.left);
    const Slope& right = all.slope_of(joint.right);
    const glm::dvec2 a = all.corners[joint.a];
    const glm::dvec2 b = all.corners[joint.b];
    const double at_a = right.z(a) - left.z(a);
    const double at_b = right.z(b) - left.z(b);
    joint.step_m = std::abs(at_a) > std::abs(at_b) ? at_a : at_b;
    joint.is_joined = std::abs(joint.step_m) <= 2.0 * tolerance_m;
    // To the right of a -> b the right plane lies above the left one where they meet in a valley.
    const glm::dvec2 rightward(b.y - a.y, a.x - b.x);
    joint.is_valley = joint.is_joined &&
                      glm::dot(right.gradient - left.gradient, glm::normalize(rightward)) > 0.02;
    joints.push_back(joint);
  }
  return joints;
}

std::size_t overlaps(const Faces& all, std::size_t most) {
  std::vector<polygon::Box> boxes;
  std::vector<std::vector<glm::dvec2>> middles;
  for (const Face& face : all.faces) {
    boxes.push_back(polygon::box_of(face.plan.front()));
    middles.emplace_back();
    for (const polygon::Loop& piece : polygon::convex_pieces(face.plan)) {
      middles.back().push_back(polygon::centroid(piece));
    }
  }
  const auto lies_over = [&](std::size_t one, std::size_t other) {
    return std::any_of(middles[other].begin(), middles[other].end(), [&](glm::dvec2 middle) {
      return polygon::contains(all.faces[one].plan, middle);
    });
  };
  std::size_t count = 0;
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    for (std::size_t k = 0; k < i && count <= most; ++k) {
      count += boxes[i].touches(boxes[k]) && (lies_over(i, k) || lies_over(k, i)) ? 1U : 0U;
    }
  }
  return count;
}

}  // namespace ridgeward::rebuild
