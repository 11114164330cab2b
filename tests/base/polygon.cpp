#include "base/polygon.hpp"

#include "base/segment.hpp"
#include "base/slabs.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

using namespace ridgeward;
using polygon::Loop;
using polygon::Loops;

namespace {

Loop square(double x, double y, double side) {
  return {{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}};
}

Loop turned_back(Loop loop) {
  std::reverse(loop.begin(), loop.end());
  return loop;
}

/// A star-shaped polygon about `middle`: simple by construction, mostly concave.
Loop random_star(std::mt19937& random, glm::dvec2 middle) {
  std::uniform_real_distribution<double> radius(0.5, 4.0);
  const int corners = 3 + static_cast<int>(random() % 12);
  Loop loop;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2.0 * 3.14159265358979 * i / corners;
    const double r = radius(random);
    loop.emplace_back(middle.x + r * std::cos(angle), middle.y + r * std::sin(angle));
  }
  return loop;
}

}  // namespace

TEST_CASE("area, centroid and inside of an L") {
  const Loop ell{{0, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 5}, {0, 5}};
  CHECK(polygon::area(ell) == Approx(14.0));
  CHECK(polygon::area(turned_back(ell)) == Approx(-14.0));
  const glm::dvec2 middle = polygon::centroid(ell);
  CHECK(middle.x == Approx((8.0 * 2.0 + 6.0 * 1.0) / 14.0));
  CHECK(middle.y == Approx((8.0 * 1.0 + 6.0 * 3.5) / 14.0));
  CHECK(polygon::contains(ell, {1, 4}));
  CHECK_FALSE(polygon::contains(ell, {3, 3}));
  CHECK(polygon::contains(ell, {4, 1}));  // on the border
  CHECK(polygon::contains(ell, {2, 2}));  // on a corner
  CHECK_FALSE(polygon::contains(ell, {-1, 2}));
  CHECK_FALSE(polygon::contains(ell, {-1, 0}));  // in line with an edge
}

TEST_CASE("holes are outside") {
  const Loops ring{square(0, 0, 10), turned_back(square(3, 3, 4))};
  CHECK(polygon::area(ring) == Approx(84.0));
  CHECK_FALSE(polygon::contains(ring, {5, 5}));
  CHECK(polygon::contains(ring, {1, 5}));
  double sum = 0.0;
  for (const Loop& piece : polygon::convex_pieces(ring)) {
    sum += polygon::area(piece);
  }
  CHECK(sum == Approx(84.0));
  CHECK(polygon::width_at(ring, 5.0) == Approx(6.0));
  CHECK(polygon::width_at(ring, 1.0) == Approx(10.0));
}

TEST_CASE("clipping keeps corners that lie on the line") {
  const Loop kept = polygon::clip(square(0, 0, 2), {{1.0, 1.0}, 2.0});
  CHECK(polygon::area(kept) == Approx(2.0));
  CHECK(kept.size() == 3);
  CHECK(polygon::clip(square(0, 0, 2), {{1.0, 0.0}, 2.0}).empty());
  CHECK(polygon::area(polygon::clip(square(0, 0, 2), {{1.0, 0.0}, 0.0})) == Approx(4.0));
  CHECK(polygon::area(polygon::clip(square(0, 0, 2), {{0.0, 0.0}, -1.0})) == Approx(4.0));
  CHECK(polygon::clip(square(0, 0, 2), {{0.0, 0.0}, 1.0}).empty());
}

TEST_CASE("overlap of squares that cross, touch and miss") {
  CHECK(polygon::overlap_area({square(0, 0, 2)}, {square(1, 1, 2)}) == Approx(1.0));
  CHECK(polygon::overlap_area({square(0, 0, 2)}, {square(2, 0, 2)}) == 0.0);
  CHECK(polygon::overlap_area({square(0, 0, 2)}, {square(5, 5, 1)}) == 0.0);
  CHECK(polygon::overlap_area({square(0, 0, 2)}, {square(0, 0, 2)}) == Approx(4.0));
  const Loops ring{square(0, 0, 10), turned_back(square(3, 3, 4))};
  CHECK(polygon::overlap_area(ring, {square(2, 2, 2)}) == Approx(3.0));
}

TEST_CASE("law: an overlap is the same from both sides and adds up over a split") {
  std::mt19937 random(20261125);
  for (int i = 0; i < 400; ++i) {
    INFO("case " << i << ", seed 20261125");
    const Loops one{random_star(random, {0, 0})};
    const Loops other{random_star(random, {1.3, 0.7})};
    const double common = polygon::overlap_area(one, other);
    CHECK(common == Approx(polygon::overlap_area(other, one)).epsilon(1e-9).margin(1e-9));
    CHECK(common <= std::min(polygon::area(one), polygon::area(other)) + 1e-9);
    CHECK(polygon::overlap_area(one, one) == Approx(polygon::area(one)).epsilon(1e-9));
    const Loops left{{{-9, -9}, {0.31, -9}, {0.31, 9}, {-9, 9}}};
    const Loops right{{{0.31, -9}, {9, -9}, {9, 9}, {0.31, 9}}};
    CHECK(polygon::overlap_area(one, left) + polygon::overlap_area(one, right) ==
          Approx(polygon::area(one)).epsilon(1e-9));
  }
}

TEST_CASE("law: slabs cover a polygon once, whatever the cuts") {
  std::mt19937 random(4711);
  std::uniform_real_distribution<double> at(-4.0, 4.0);
  for (int i = 0; i < 300; ++i) {
    INFO("case " << i << ", seed 4711");
    const Loop loop = random_star(random, {0, 0});
    std::vector<slabs::Edge> edges;
    for (std::size_t k = 0; k < loop.size(); ++k) {
      edges.push_back({loop[k], loop[(k + 1) % loop.size()], static_cast<std::uint32_t>(k)});
    }
    std::vector<double> cuts;
    for (int k = 0; k < 9; ++k) {
      cuts.push_back(at(random));
    }
    cuts.push_back(loop[0].x + 3e-10);  // as good as a corner
    double sum = 0.0;
    for (const slabs::Piece& piece : slabs::cut(edges, cuts).pieces) {
      sum += 0.5 * (piece.u1 - piece.u0) * (piece.high0 - piece.low0 + piece.high1 - piece.low1);
    }
    CHECK(sum == Approx(polygon::area(loop)).epsilon(1e-8));
  }
}

TEST_CASE("idle points go, turns back stay") {
  CHECK(polygon::without_idle_points({{0, 0}, {1, 0}, {2, 0}, {2, 2}, {2, 2}, {0, 2}}).size() == 4);
  // A slit of no width: the walk goes in and comes out on the same line.
  CHECK(polygon::without_idle_points({{0, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 1}, {2, 2}, {0, 2}})
            .size() == 7);
}

TEST_CASE("distances to segments and loops") {
  // Two right triangles, 3-4-5 and 5-12-13, beyond the ends; the height of a third beside the
  // middle.
  const glm::dvec2 a{0.0, 0.0};
  const glm::dvec2 b{10.0, 0.0};
  CHECK(segment::distance(a, b, {-3.0, 4.0}) == Approx(5.0));
  CHECK(segment::distance(a, b, {15.0, -12.0}) == Approx(13.0));
  CHECK(segment::distance(a, b, {4.0, 7.0}) == Approx(7.0));
  CHECK(segment::nearest_share(a, b, {4.0, 7.0}) == Approx(0.4));
  CHECK(segment::distance(a, a, {3.0, 4.0}) == Approx(5.0));
  CHECK(segment::distance_to_loop(square(0.0, 0.0, 4.0), {1.0, 2.0}) == Approx(1.0));
  CHECK(segment::distance_to_loop(square(0.0, 0.0, 4.0), {7.0, 8.0}) == Approx(5.0));
  CHECK(std::isinf(segment::distance_to_loop({}, a)));
  // No point of a segment is nearer than the nearest, of a thousand tried.
  std::mt19937 random(11);
  std::uniform_real_distribution<double> any(-5.0, 5.0);
  for (int i = 0; i < 100; ++i) {
    const glm::dvec2 from{any(random), any(random)};
    const glm::dvec2 to{any(random), any(random)};
    const glm::dvec2 p{any(random), any(random)};
    double least = HUGE_VAL;
    for (int k = 0; k <= 1000; ++k) {
      least = std::min(least, glm::distance(p, from + (k / 1000.0) * (to - from)));
    }
    CHECK(segment::distance(from, to, p) <= least + 1e-12);
    CHECK(segment::distance(from, to, p) > least - 0.01);
  }
}
