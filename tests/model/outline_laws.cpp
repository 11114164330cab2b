// The exact outline test against plain arithmetic, and its limits.
#include "model/outline_check.hpp"
#include "model/read.hpp"

#include "support/full_model.hpp"
#include "support/seed.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <random>
#include <vector>

using namespace ridgeward;
using nlohmann::json;

namespace {

using Random = std::mt19937_64;

std::size_t below(Random& random, std::size_t n) {
  return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
}

}  // namespace

TEST_CASE("random outlines: the exact test agrees with plain counting of crossings") {
  Random random(tests::seed() + 2);
  std::uniform_int_distribution<int> grid(0, 6);
  int simple = 0;
  for (int i = 0; i < 20000; ++i) {
    const std::size_t n = 3 + below(random, 4);
    std::vector<glm::dvec2> corners;
    for (std::size_t c = 0; c < n; ++c) {
      corners.emplace_back(grid(random), grid(random));
    }
    // On a grid of whole metres doubles are exact, so plain arithmetic may judge.
    const auto turn = [](glm::dvec2 a, glm::dvec2 b, glm::dvec2 c) {
      return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    };
    const auto on = [&](glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) {
      return turn(a, b, p) == 0 && std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) &&
             std::min(a.y, b.y) <= p.y && p.y <= std::max(a.y, b.y);
    };
    bool is_simple = true;
    for (std::size_t a = 0; a < n; ++a) {
      const glm::dvec2 a0 = corners[a];
      const glm::dvec2 a1 = corners[(a + 1) % n];
      is_simple = is_simple && a0 != a1;
      // The corner after next must not lie on this side, nor this side's start on the next side.
      const glm::dvec2 a2 = corners[(a + 2) % n];
      is_simple = is_simple && !on(a0, a1, a2) && !on(a1, a2, a0);
      for (std::size_t b = a + 2; b < n; ++b) {
        if (a == 0 && b == n - 1) {
          continue;
        }
        const glm::dvec2 b0 = corners[b];
        const glm::dvec2 b1 = corners[(b + 1) % n];
        const bool crosses =
            turn(a0, a1, b0) * turn(a0, a1, b1) < 0 && turn(b0, b1, a0) * turn(b0, b1, a1) < 0;
        is_simple = is_simple && !crosses && !on(a0, a1, b0) && !on(a0, a1, b1) &&
                    !on(b0, b1, a0) && !on(b0, b1, a1);
      }
    }
    const Faults faults = model::check_simple({corners, ""});
    REQUIRE(faults.empty() == is_simple);
    if (faults.empty() || faults.front().code != "outline.zero_edge") {
      REQUIRE(model::meeting_sides(corners).empty() == is_simple);
    }
    simple += is_simple ? 1 : 0;
  }
  CHECK(simple > 1000);
}

TEST_CASE("a thousand corners are judged, the cap is told") {
  std::vector<glm::dvec2> comb;
  for (int i = 0; i < 5000; ++i) {
    comb.emplace_back(0.5 * i, 0.0);
    comb.emplace_back(0.5 * i + 0.25, 0.0);
  }
  for (int i = 4999; i >= 0; --i) {
    comb.emplace_back(0.5 * i + 0.25, 1.0 + (i % 2));
    comb.emplace_back(0.5 * i, 1.0 + (i % 2));
  }
  CHECK(model::check_simple({comb, ""}).empty());
  CHECK(model::is_counter_clockwise(comb));
  json model = json::parse(tests::full_model);
  for (int i = 0; i < 20001; ++i) {
    model["parts"][0]["outline"].push_back({i, 100});
  }
  const auto read = model::read(model.dump());
  REQUIRE_FALSE(read.ok());
  CHECK(read.faults().front().code == "outline.too_many");
}
