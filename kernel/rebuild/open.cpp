#include "rebuild/open.hpp"

#include <algorithm>
#include <utility>

namespace ridgeward::rebuild {

namespace {

constexpr double least_area_m2 = 1e-6;

/// What of `convex` lies outside `cover`, in convex pieces.
void subtract(const polygon::Loop& convex, const polygon::Loop& cover, polygon::Loops& left) {
  if (polygon::area(polygon::overlap(convex, cover)) < least_area_m2) {
    left.push_back(convex);
    return;
  }
  polygon::Loop rest = convex;
  for (std::size_t i = 0; i < cover.size() && !rest.empty(); ++i) {
    const glm::dvec2 a = cover[i];
    const glm::dvec2 along = cover[(i + 1) % cover.size()] - a;
    const glm::dvec2 inward(-along.y, along.x);
    polygon::Loop outside = polygon::clip(rest, {-inward, -glm::dot(inward, a)});
    if (polygon::area(outside) > least_area_m2) {
      left.push_back(std::move(outside));
    }
    rest = polygon::clip(rest, {inward, glm::dot(inward, a)});
  }
}

/// The part of `convex` in which the plane `over` rises above `under`; empty where that is by no
/// more than the tolerance anywhere.
polygon::Loop part_above(const polygon::Loop& convex, const Slope& over, const Slope& under,
                         double tolerance_m) {
  polygon::Loop part =
      polygon::clip(convex, {over.gradient - under.gradient, under.height_m - over.height_m});
  const bool is_above = std::any_of(part.begin(), part.end(), [&](glm::dvec2 p) {
    return (over.z(p) - under.z(p)) * under.cosine() > tolerance_m;
  });
  return is_above ? part : polygon::Loop{};
}

/// Takes from `left`, pieces of the plane `under`, what lies under the `pieces` of the plane
/// `over`.
void take_from(polygon::Loops& left, const polygon::Loops& pieces, const Slope& over,
               const Slope& under, double tolerance_m) {
  for (const polygon::Loop& piece : pieces) {
    const polygon::Loop cover = part_above(piece, over, under, tolerance_m);
    if (cover.empty()) {
      continue;
    }
    polygon::Loops rest;
    for (const polygon::Loop& one : left) {
      subtract(one, cover, rest);
    }
    left = std::move(rest);
  }
}

}  // namespace

Faces open_to_sky(const Faces& all, double tolerance_m, double& hidden_m2) {
  std::vector<polygon::Loops> pieces;
  std::vector<polygon::Box> boxes;
  for (const Face& face : all.faces) {
    pieces.push_back(polygon::convex_pieces(face.plan));
    boxes.push_back(polygon::box_of(face.plan.front()));
  }
  Faces open = all;
  hidden_m2 = 0.0;
  for (std::size_t f = 0; f < all.faces.size(); ++f) {
    polygon::Loops left = pieces[f];
    for (std::size_t g = 0; g < all.faces.size(); ++g) {
      if (g != f && boxes[g].touches(boxes[f])) {
        take_from(left, pieces[g], all.slope_of(g), all.slope_of(f), tolerance_m);
      }
    }
    double area_m2 = 0.0;
    for (const polygon::Loop& one : left) {
      area_m2 += polygon::area(one) / all.slope_of(f).cosine();
    }
    if (area_m2 < all.faces[f].area_m2 - 100.0 * least_area_m2) {
      hidden_m2 += all.faces[f].area_m2 - area_m2;
      open.faces[f].plan = std::move(left);
      open.faces[f].area_m2 = area_m2;
    }
  }
  return open;
}

Building building_of(const Faces& open, const Building& given, glm::dvec2 origin) {
  Building building;
  building.id = given.id;
  building.ground_m = given.ground_m;
  building.walls = given.walls;
  for (std::size_t f = 0; f < open.faces.size(); ++f) {
    for (const polygon::Loop& piece : open.faces[f].plan) {
      std::vector<glm::dvec3> loop;
      for (const glm::dvec2 p : piece) {
        loop.emplace_back(p + origin, open.slope_of(f).z(p) + given.ground_m);
      }
      building.roof.push_back({std::move(loop)});
    }
  }
  return building;
}

}  // namespace ridgeward::rebuild
