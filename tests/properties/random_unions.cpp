// Laws of united parts over random houses. RIDGEWARD_SEED and RIDGEWARD_CASES choose others.
#include "solid/shape.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <cmath>
#include <iostream>
#include <optional>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

/// Height of the highest plane over a point; none where there is no roof.
std::optional<double> height_at(const surface::Surface& s, glm::dvec2 p) {
  std::optional<double> top;
  for (const surface::Plane& plane : s.planes) {
    bool inside = false;
    for (const surface::Loop& loop : plane.loops) {
      const auto c = surface::corners(s, loop);
      for (std::size_t i = 0, k = c.size() - 1; i < c.size(); k = i++) {
        if ((c[i].y > p.y) != (c[k].y > p.y) &&
            p.x < (c[k].x - c[i].x) * (p.y - c[i].y) / (c[k].y - c[i].y) + c[i].x) {
          inside = !inside;
        }
      }
    }
    if (inside) {
      const surface::Frame& f = plane.frame;
      const double z =
          f.origin.z -
          (f.normal.x * (p.x - f.origin.x) + f.normal.y * (p.y - f.origin.y)) / f.normal.z;
      top = top ? std::max(*top, z) : z;
    }
  }
  return top;
}

struct Choice {
  double turn_step_deg = 90.0;
  double offset_m = 0.0;  ///< parts are moved by up to this
  int most_parts = 8;
};

model::RoofModel random_parts(std::mt19937_64& rng, const Choice& choice) {
  const std::vector<double> rises{4, 6, 8, 12};
  const auto whole = [&](int low, int high) {
    return std::uniform_int_distribution<int>(low, high)(rng);
  };
  model::RoofModel m;
  const int count = whole(2, choice.most_parts);
  std::uniform_real_distribution<double> shift(-choice.offset_m, choice.offset_m);
  for (int i = 0; i < count; ++i) {
    const double w = whole(2, 8) * 1.2192;
    const double h = whole(2, 6) * 1.2192;
    const glm::dvec2 at{whole(0, 8) * 1.2192 + shift(rng), whole(0, 8) * 1.2192 + shift(rng)};
    const double a = whole(0, 7) * choice.turn_step_deg * M_PI / 180;
    const bool is_gabled = whole(0, 2) == 0;
    const double rise = rises[static_cast<std::size_t>(whole(0, 3))];
    model::Part part;
    part.id = "p" + std::to_string(i);
    part.plate_m = whole(0, 3) == 0 ? 0.6096 : 0.0;
    for (const glm::dvec2 c : {glm::dvec2{0, 0}, {w, 0}, {w, h}, {0, h}}) {
      part.outline.push_back(at + glm::dvec2{std::cos(a) * c.x - std::sin(a) * c.y,
                                             std::sin(a) * c.x + std::cos(a) * c.y});
    }
    part.edges = {eave(rise), is_gabled ? gable() : eave(rise), eave(rise),
                  is_gabled ? gable() : eave(rise)};
    m.parts.push_back(part);
  }
  return m;
}

struct Tally {
  std::size_t good = 0;
  std::size_t bad = 0;
  std::string first_bad;
  void add(std::size_t number, const std::string& why) {
    if (why.empty()) {
      ++good;
    } else if (bad++ == 0) {
      first_bad = "case " + std::to_string(number) + ": " + why;
    }
  }
};

/// Sum of the prisms between planes and underside.
double prisms_m3(const surface::Surface& s) {
  double volume = 0.0;
  for (const surface::Plane& plane : s.planes) {
    for (const surface::Loop& loop : plane.loops) {
      const auto p = surface::corners(s, loop);
      for (std::size_t k = 1; k + 1 < p.size(); ++k) {
        const double twice =
            (p[k].x - p[0].x) * (p[k + 1].y - p[0].y) - (p[k + 1].x - p[0].x) * (p[k].y - p[0].y);
        volume += twice / 2 * ((p[0].z + p[k].z + p[k + 1].z) / 3 - s.base_m);
      }
    }
  }
  return volume;
}

std::string wrong_with(const model::RoofModel& m, std::mt19937_64& rng, bool with_solid) {
  const auto united = surface::raise(m);
  if (!united) {
    return united.faults()[0].code;
  }
  const auto broken = surface::verify(united.value());
  if (!broken.empty()) {
    return broken[0];
  }
  std::vector<surface::Surface> alone;
  // Walls of different parts that nearly agree were brought in line: heights follow.
  double moved_m = 0.0;
  glm::dvec2 low(HUGE_VAL);
  glm::dvec2 high(-HUGE_VAL);
  for (const model::Part& part : m.parts) {
    model::RoofModel one;
    one.parts.push_back(part);
    alone.push_back(surface::raise(one).value());
    const auto& mended = united.value().wall_outlines[alone.size() - 1][0];
    for (std::size_t i = 0; i < part.outline.size(); ++i) {
      low = glm::min(low, part.outline[i]);
      high = glm::max(high, part.outline[i]);
      moved_m = std::max(moved_m, glm::length(part.outline[i] - mended[i]));
    }
  }
  std::uniform_real_distribution<double> x(low.x, high.x);
  std::uniform_real_distribution<double> y(low.y, high.y);
  for (int i = 0; i < 40; ++i) {
    const glm::dvec2 p{x(rng), y(rng)};
    std::optional<double> expected;
    for (const surface::Surface& s : alone) {
      const auto z = height_at(s, p);
      expected = z && (!expected || *z > *expected) ? z : expected;
    }
    const auto got = height_at(united.value(), p);
    if (expected.has_value() != got.has_value() ||
        (expected && std::abs(*expected - *got) > 2e-5 + 4 * moved_m)) {
      return "height " + std::to_string(got.value_or(-1)) + " instead of " +
             std::to_string(expected.value_or(-1));
    }
  }
  if (with_solid) {
    const auto shape = solid::build(united.value());
    if (!shape) {
      return shape.faults()[0].what;
    }
    const double volume = solid::examine(shape.value()).volume_m3;
    const double expected = prisms_m3(united.value());
    if (std::abs(volume - expected) > 1e-6 * expected) {
      return "volume " + std::to_string(volume) + " instead of " + std::to_string(expected);
    }
  }
  return {};
}

void run(const char* name, const Choice& choice, std::size_t cases, std::size_t solid_each) {
  const std::uint64_t seed = seed_or(161803);
  std::mt19937_64 rng(seed);
  Tally tally;
  for (std::size_t i = 0; i < cases; ++i) {
    const model::RoofModel m = random_parts(rng, choice);
    tally.add(i, wrong_with(m, rng, i % solid_each == 0));
  }
  std::cout << name << ": seed " << seed << ", " << tally.good << " good, " << tally.bad << " bad "
            << tally.first_bad << '\n';
  CAPTURE(seed, tally.first_bad);
  REQUIRE(tally.bad == 0);
}

}  // namespace

TEST_CASE("random unions on a grid, square to each other") {
  run("grid", {90.0, 0.0, 8}, cases_or(2000), 4);
}

TEST_CASE("random unions turned by multiples of 45 degrees") {
  run("45 degrees", {45.0, 0.0, 8}, cases_or(1500), 4);
}

TEST_CASE("random unions with offsets of a millionth of an inch between parts") {
  run("offset 1e-6 in", {90.0, 1e-6 * inch, 8}, cases_or(1000), 4);
}

TEST_CASE("random unions with offsets of a thousandth of an inch between parts") {
  run("offset 1e-3 in", {90.0, 1e-3 * inch, 8}, cases_or(500), 4);
}

TEST_CASE("random unions turned anyhow") { run("any angle", {17.3, 0.0, 8}, cases_or(1000), 4); }
