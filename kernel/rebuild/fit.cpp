#include "rebuild/fit.hpp"

#include "base/segment.hpp"
#include "model/read.hpp"
#include "surface/stage.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ridgeward::rebuild {

namespace {

/// Samples keep this far from the border, where a hair's difference in the plan decides.
constexpr double inset_m = 0.03;
constexpr double least_step_m = 0.4;

/// In plan.
double distance_to_border(const polygon::Loops& plan, glm::dvec2 p) {
  double least = std::numeric_limits<double>::infinity();
  for (const polygon::Loop& loop : plan) {
    least = std::min(least, segment::distance_to_loop(loop, p));
  }
  return least;
}

/// Points of a lattice within a convex piece, about a hundred of them at most.
void add_lattice(const polygon::Loop& piece, std::vector<glm::dvec2>& samples) {
  const polygon::Box box = polygon::box_of(piece);
  const glm::dvec2 size = box.high - box.low;
  const double step = std::max(least_step_m, std::sqrt(size.x * size.y / 100.0));
  const auto count = [&](double length) { return static_cast<int>(std::ceil(length / step)); };
  for (int i = 0; i < count(size.x); ++i) {
    for (int j = 0; j < count(size.y); ++j) {
      const glm::dvec2 p = box.low + step * glm::dvec2(i + 0.5, j + 0.5);
      if (polygon::contains(piece, p) && segment::distance_to_loop(piece, p) > inset_m) {
        samples.push_back(p);
      }
    }
  }
}

/// Middles and drawn-in corners of convex pieces, and a lattice over them.
std::vector<glm::dvec2> samples_of(const polygon::Loops& plan) {
  std::vector<glm::dvec2> samples;
  for (const polygon::Loop& piece : polygon::convex_pieces(plan)) {
    const glm::dvec2 middle = polygon::centroid(piece);
    samples.push_back(middle);
    add_lattice(piece, samples);
    for (const glm::dvec2 corner : piece) {
      const double length = glm::distance(corner, middle);
      if (length > 2.0 * inset_m) {
        samples.push_back(corner + (middle - corner) * (inset_m * 1.5 / length));
      }
    }
  }
  return samples;
}

const RaisedPlane* over(const Raised& raised, glm::dvec2 p) {
  for (const RaisedPlane& plane : raised) {
    const bool is_near = p.x >= plane.box.low.x && p.x <= plane.box.high.x &&
                         p.y >= plane.box.low.y && p.y <= plane.box.high.y;
    if (is_near && polygon::contains(plane.plan, p)) {
      return &plane;
    }
  }
  return nullptr;
}

/// From a point in space to a plane within its loops.
double to_plane(const RaisedPlane& plane, glm::dvec2 p, double z) {
  const double off = (z - plane.slope.z(p)) * plane.slope.cosine();
  // The foot of the perpendicular, in plan.
  const glm::dvec2 foot = p + plane.slope.gradient * (off * plane.slope.cosine());
  if (polygon::contains(plane.plan, foot)) {
    return std::abs(off);
  }
  // The farther side of the triangle: never too short by more than the slope stretches the plan.
  const double aside = distance_to_border(plane.plan, foot) / plane.slope.cosine();
  return std::hypot(off, aside);
}

/// Whether a face lies over the raised plane at p, or at most a hair beside it.
bool is_below_faces(const Faces& all, const RaisedPlane& plane, glm::dvec2 p, double tolerance_m) {
  double beside = std::numeric_limits<double>::infinity();
  for (std::size_t f = 0; f < all.faces.size(); ++f) {
    const Slope& slope = all.slope_of(f);
    if ((plane.slope.z(p) - slope.z(p)) * plane.slope.cosine() > tolerance_m) {
      continue;
    }
    if (polygon::contains(all.faces[f].plan, p)) {
      return true;
    }
    beside = std::min(beside, distance_to_border(all.faces[f].plan, p));
  }
  return beside <= inset_m;
}

}  // namespace

std::optional<Raised> raise_parts(const std::vector<model::Part>& parts) {
  model::RoofModel model;
  model.unit = units::LengthUnit::m;
  model.parts = parts;
  for (std::size_t i = 0; i < model.parts.size(); ++i) {
    model.parts[i].id = std::to_string(i);
  }
  const Result<model::ReadModel> read = model::read(model::write(model));
  if (!read) {
    return std::nullopt;
  }
  const Result<surface::Surface> surface = surface::raise(read.value().model);
  if (!surface) {
    return std::nullopt;
  }
  Raised raised;
  for (const surface::Plane& plane : surface.value().planes) {
    RaisedPlane one;
    one.area_m2 = plane.area_m2;
    for (const surface::Loop& loop : plane.loops) {
      polygon::Loop points;
      for (const glm::dvec3& corner : surface::corners(surface.value(), loop)) {
        points.emplace_back(corner);
        one.box.add(points.back());
      }
      one.plan.push_back(std::move(points));
    }
    const glm::dvec3 normal = plane.frame.normal;
    one.slope.gradient = -glm::dvec2(normal) / normal.z;
    one.slope.height_m =
        plane.frame.origin.z - glm::dot(one.slope.gradient, glm::dvec2(plane.frame.origin));
    raised.push_back(std::move(one));
  }
  return raised;
}

Group matched(const Faces& all, const Group& group, const Raised& raised, double tolerance_m) {
  Group found;
  for (const std::size_t face : group) {
    const Slope& slope = all.slope_of(face);
    const std::vector<glm::dvec2> samples = samples_of(all.faces[face].plan);
    const bool is_matched = std::all_of(samples.begin(), samples.end(), [&](glm::dvec2 p) {
      const auto is_near = [&](const RaisedPlane& plane) {
        return std::abs(plane.slope.z(p) - slope.z(p)) * slope.cosine() <= tolerance_m;
      };
      if (const RaisedPlane* plane = over(raised, p)) {
        return is_near(*plane);
      }
      return std::any_of(raised.begin(), raised.end(), [&](const RaisedPlane& plane) {
        return is_near(plane) && distance_to_border(plane.plan, p) <= 2.0 * inset_m;
      });
    });
    if (is_matched) {
      found.push_back(face);
    }
  }
  return found;
}

bool stands_above(const Faces& all, const Raised& raised, double tolerance_m) {
  return std::any_of(raised.begin(), raised.end(), [&](const RaisedPlane& plane) {
    const std::vector<glm::dvec2> samples = samples_of(plane.plan);
    return std::any_of(samples.begin(), samples.end(),
                       [&](glm::dvec2 p) { return !is_below_faces(all, plane, p, tolerance_m); });
  });
}

double distance_m(const Faces& all, const Group& group, const Raised& raised) {
  double most = 0.0;
  for (const std::size_t number : group) {
    const Face& face = all.faces[number];
    const Slope& slope = all.planes[face.plane];
    std::vector<glm::dvec2> samples = samples_of(face.plan);
    for (const polygon::Loop& loop : face.plan) {
      samples.insert(samples.end(), loop.begin(), loop.end());
    }
    for (const glm::dvec2 p : samples) {
      double least = std::numeric_limits<double>::infinity();
      for (const RaisedPlane& plane : raised) {
        least = std::min(least, to_plane(plane, p, slope.z(p)));
      }
      most = std::max(most, least);
    }
  }
  return most;
}

}  // namespace ridgeward::rebuild
