// Unions, differences and overlaps of regions: by hand, and against convex clipping at random.
#include "base/regions.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

using namespace ridgeward;
using polygon::Loop;
using polygon::Loops;

namespace {

Loops box(double x0, double y0, double x1, double y1) {
  return {{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}};
}

Loops turned(double x, double y, double w, double h, double angle) {
  Loop loop;
  for (const glm::dvec2 p : {glm::dvec2{0, 0}, {w, 0}, {w, h}, {0, h}}) {
    loop.emplace_back(x + std::cos(angle) * p.x - std::sin(angle) * p.y,
                      y + std::sin(angle) * p.x + std::cos(angle) * p.y);
  }
  return {loop};
}

double united_area(const std::vector<Loops>& all) { return polygon::area(regions::united(all)); }

}  // namespace

TEST_CASE("a tee of two rectangles is one loop of eight corners") {
  const Loops tee = regions::united(std::vector<Loops>{box(0, 0, 40, 24), box(12, -20, 28, 12)});
  REQUIRE(tee.size() == 1);
  CHECK(tee[0].size() == 8);
  CHECK(polygon::area(tee) == Approx(960.0 + 320.0).epsilon(1e-14));
}

TEST_CASE("rectangles that share a side become one, without a seam") {
  const Loops both = regions::united(std::vector<Loops>{box(0, 0, 10, 8), box(10, 0, 25, 8)});
  REQUIRE(both.size() == 1);
  CHECK(both[0].size() == 4);
  CHECK(regions::common_border(box(0, 0, 10, 8), box(10, 2, 25, 8)) == Approx(6.0));
  CHECK(regions::common_border(box(0, 0, 10, 8), box(10, 8, 25, 9)) == 0.0);
}

TEST_CASE("four wings around a court leave a hole; a corner that touches keeps two loops") {
  const Loops ring = regions::united(std::vector<Loops>{box(0, 0, 30, 5), box(0, 15, 30, 20),
                                                        box(0, 0, 5, 20), box(25, 0, 30, 20)});
  REQUIRE(ring.size() == 2);
  CHECK(polygon::area(ring[1]) == Approx(-200.0));
  CHECK(polygon::area(ring) == Approx(400.0));
  CHECK(regions::united(std::vector<Loops>{box(0, 0, 1, 1), box(1, 1, 2, 2)}).size() == 2);
}

TEST_CASE("differences and overlaps, holes included") {
  const Loops frame = regions::without(box(0, 0, 10, 10), box(2, 2, 6, 6));
  REQUIRE(frame.size() == 2);
  CHECK(polygon::area(frame) == Approx(84.0));
  CHECK(regions::without(box(0, 0, 10, 10), box(-1, -1, 11, 11)).empty());
  CHECK(polygon::area(regions::common(frame, box(4, 4, 12, 12))) == Approx(36.0 - 4.0));
  CHECK(regions::common(box(0, 0, 1, 1), box(1, 0, 2, 1)).empty());
  CHECK(regions::united({}).empty());
}

TEST_CASE("law: random unions count every place once, in any order, moved a hair or not") {
  std::mt19937_64 rng(31);
  const auto whole = [&](int low, int high) {
    return static_cast<double>(std::uniform_int_distribution<int>(low, high)(rng));
  };
  for (int i = 0; i < 600; ++i) {
    INFO("case " << i);
    const double step = i % 3 == 0 ? M_PI / 2 : (i % 3 == 1 ? M_PI / 4 : 0.297);
    const double hair = i % 2 == 0 ? 0.0 : std::pow(10.0, -whole(3, 12));
    std::uniform_real_distribution<double> shift(-hair, hair);
    std::vector<Loops> all;
    const auto count = static_cast<int>(whole(2, 7));
    for (int k = 0; k < count; ++k) {
      all.push_back(turned(whole(0, 8) + shift(rng), whole(0, 8) + shift(rng), whole(1, 6),
                           whole(1, 6), whole(0, 7) * step));
    }
    // Each region's own share: what no earlier one has. Sums to the union.
    double sum = 0.0;
    for (std::size_t k = 0; k < all.size(); ++k) {
      Loops own = all[k];
      for (std::size_t j = 0; j < k; ++j) {
        const double before = polygon::area(own);
        const double taken = polygon::area(regions::common(own, all[j]));
        CHECK(taken == Approx(polygon::overlap_area(own, all[j])).margin(2e-8));
        own = regions::without(own, all[j]);
        CHECK(polygon::area(own) == Approx(before - taken).margin(2e-8));
      }
      sum += polygon::area(own);
    }
    const double area = united_area(all);
    CHECK(area == Approx(sum).margin(1e-7));
    std::reverse(all.begin(), all.end());
    CHECK(united_area(all) == Approx(area).margin(1e-7));
  }
}
