#include "scene/triangulate.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <cmath>
#include <numbers>
#include <random>

using namespace ridgeward;
using scene::Polygon;

namespace {

std::vector<glm::dvec2> flat(const std::vector<Polygon>& loops) {
  std::vector<glm::dvec2> points;
  for (const Polygon& loop : loops) {
    points.insert(points.end(), loop.begin(), loop.end());
  }
  return points;
}

double area_of(const std::vector<Polygon>& loops) {
  double sum = 0.0;
  for (const Polygon& loop : loops) {
    sum += scene::signed_area(loop);
  }
  return sum;
}

std::vector<std::array<glm::dvec2, 3>> triangles_of(const std::vector<Polygon>& loops) {
  const std::vector<glm::dvec2> points = flat(loops);
  std::vector<std::array<glm::dvec2, 3>> triangles;
  for (const auto& t : scene::triangulate(loops)) {
    triangles.push_back({points.at(t[0]), points.at(t[1]), points.at(t[2])});
  }
  return triangles;
}

double area_of_triangles(const std::vector<std::array<glm::dvec2, 3>>& triangles) {
  double sum = 0.0;
  for (const auto& t : triangles) {
    const double area = scene::signed_area({t[0], t[1], t[2]});
    CHECK(area > 0.0);
    sum += area;
  }
  return sum;
}

void check(const std::vector<Polygon>& loops) {
  const double expected = area_of(loops);
  CHECK(area_of_triangles(triangles_of(loops)) == Approx(expected).epsilon(1e-12));
}

/// Whether some triangle holds `p`.
bool covers(const std::vector<Polygon>& loops, glm::dvec2 p) {
  for (const auto& t : triangles_of(loops)) {
    bool inside = true;
    for (std::size_t i = 0; i < 3; ++i) {
      const glm::dvec2 way = t[(i + 1) % 3] - t[i];
      inside = inside && way.x * (p.y - t[i].y) - way.y * (p.x - t[i].x) >= 0;
    }
    if (inside) {
      return true;
    }
  }
  return false;
}

const Polygon square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};

}  // namespace

TEST_CASE("convex and concave outlines are cut into triangles of the same area") {
  check({square});
  check({{{0, 0}, {6, 0}, {6, 2}, {2, 2}, {2, 6}, {0, 6}}});
  check({{{0, 0}, {9, 0}, {9, 6}, {6, 6}, {6, 2}, {3, 2}, {3, 6}, {0, 6}}});
  // A roof plane cut by the valleys of a wing: the outline turns right at the wing's ridge.
  check({{{0, 0}, {4, 0}, {6.5, 2.5}, {9, 0}, {12, 0}, {12, 5}, {0, 5}}});
}

TEST_CASE("repeated and collinear points add nothing") {
  check({{{0, 0}, {5, 0}, {5, 0}, {10, 0}, {10, 5}, {10, 10}, {0, 10}, {0, 3}}});
}

TEST_CASE("an outline pinched at a point is cut") {
  check({{{0, 0}, {5, 0}, {5, 5}, {10, 5}, {10, 10}, {5, 10}, {5, 5}, {0, 5}}});
}

TEST_CASE("holes are left open") {
  const Polygon hole{{3, 3}, {3, 6}, {6, 6}, {6, 3}};
  check({square, hole});
  CHECK_FALSE(covers({square, hole}, {4.5, 4.4}));
  CHECK(covers({square, hole}, {1.1, 1.3}));
  check({square,
         {{1, 1}, {1, 2}, {2, 2}, {2, 1}},
         {{7, 7}, {7, 9}, {9, 9}, {9, 7}},
         {{7, 1}, {7, 3}, {8, 2}}});
}

TEST_CASE("a hole behind a notch is reached round the corner") {
  const Polygon notched{{0, 0}, {10, 0}, {10, 10}, {6, 10}, {6, 2}, {5, 2}, {5, 10}, {0, 10}};
  check({notched, {{1, 4}, {1, 8}, {4, 8}, {4, 4}}, {{7, 4}, {7, 8}, {9, 8}, {9, 4}}});
}

TEST_CASE("fewer than three points make no triangle") {
  CHECK(scene::triangulate({}).empty());
  CHECK(scene::triangulate({{{0, 0}, {1, 1}}}).empty());
  CHECK(scene::triangulate({{{0, 0}, {1, 1}, {2, 2}}}).empty());
}

TEST_CASE("laws: random star outlines with a random hole keep their area") {
  const unsigned seed = 20261;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> radius(3.0, 10.0);
  std::uniform_int_distribution<int> count(3, 40);
  for (int round = 0; round < 400; ++round) {
    std::vector<Polygon> loops(2);
    const int corners = count(random);
    for (int i = 0; i < corners; ++i) {
      const double angle = 2 * std::numbers::pi * i / corners;
      const double r = radius(random);
      loops[0].push_back({r * std::cos(angle), r * std::sin(angle)});
    }
    // Within 0.7: any star of three corners and more at 3 and beyond holds that disc.
    const int hole_corners = 3 + corners % 5;
    for (int i = hole_corners; i > 0; --i) {
      const double angle = 2 * std::numbers::pi * i / hole_corners + 0.1;
      loops[1].push_back({0.7 * std::cos(angle), 0.7 * std::sin(angle)});
    }
    INFO("round " << round);
    check(loops);
  }
}

TEST_CASE("laws: a half plane and its opposite share the area out") {
  const unsigned seed = 7;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> any(-12.0, 12.0);
  const auto whole = triangles_of({square});
  for (int round = 0; round < 200; ++round) {
    const glm::dvec2 inward(any(random), any(random));
    const double offset = any(random) * 4;
    const double kept = area_of_triangles(scene::clip(whole, {{inward, offset}}));
    const double rest = area_of_triangles(scene::clip(whole, {{-inward, -offset}}));
    CHECK(kept + rest == Approx(100.0).epsilon(1e-12));
    CHECK(kept <= 100.0 + 1e-9);
  }
  CHECK(area_of_triangles(scene::clip(whole, {{{1, 0}, 2}, {{-1, 0}, -5}, {{0, 1}, 4}})) ==
        Approx(18.0));
}
