// Laws of the surface over random outlines. RIDGEWARD_SEED and RIDGEWARD_CASES choose others.
#include "surface/stage.hpp"

#include "support/plans.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <cmath>
#include <iostream>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

struct Tally {
  std::size_t good = 0;
  std::size_t open = 0;
  std::size_t bad = 0;
  std::string first_bad;

  void fail(std::size_t number, const std::string& why) {
    if (bad++ == 0) {
      first_bad = "case " + std::to_string(number) + ": " + why;
    }
  }
};

bool is_inside(const std::vector<glm::dvec3>& loop, glm::dvec2 p) {
  bool inside = false;
  for (std::size_t i = 0, k = loop.size() - 1; i < loop.size(); k = i++) {
    const glm::dvec3& a = loop[i];
    const glm::dvec3& b = loop[k];
    if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x) {
      inside = !inside;
    }
  }
  return inside;
}

/// In the drip outline, which is the given one but for what was mended (at most 1/8 in).
bool is_inside_outline(const surface::Surface& s, glm::dvec2 p) {
  bool inside = false;
  for (const auto& loop : s.drip_outlines[0]) {
    std::vector<glm::dvec3> flat;
    for (const glm::dvec2& q : loop) {
      flat.emplace_back(q, 0.0);
    }
    inside = inside != is_inside(flat, p);
  }
  return inside;
}

/// The mended outline stays within 1/8 in of the given one.
std::string moved_too_far(const model::Part& part, const surface::Surface& s) {
  for (std::size_t i = 0; i < part.outline.size(); ++i) {
    if (glm::length(part.outline[i] - s.wall_outlines[0][0][i]) > inch / 8) {
      return "corner " + std::to_string(i) + " moved by more than 1/8 in";
    }
  }
  return {};
}

/// No gap and no overlap: random points lie in just one plane when inside, in none outside.
std::string sample(std::mt19937_64& rng, const model::Part& part, const surface::Surface& s) {
  glm::dvec2 low = part.outline[0];
  glm::dvec2 high = low;
  for (const glm::dvec2& p : part.outline) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
  std::uniform_real_distribution<double> x(low.x, high.x);
  std::uniform_real_distribution<double> y(low.y, high.y);
  for (int i = 0; i < 12; ++i) {
    const glm::dvec2 p{x(rng), y(rng)};
    int in = 0;
    for (const surface::Plane& plane : s.planes) {
      bool inside = false;
      for (const surface::Loop& loop : plane.loops) {
        inside = inside != is_inside(surface::corners(s, loop), p);
      }
      in += inside ? 1 : 0;
    }
    if (in != (is_inside_outline(s, p) ? 1 : 0)) {
      return "a point lies in " + std::to_string(in) + " planes";
    }
  }
  return {};
}

/// Eave lengths sum to the lengths of the outline's eave edges (no overhangs here).
std::string eaves(const model::Part& part, const surface::Surface& s) {
  double wanted = 0.0;
  const auto add = [&](const std::vector<glm::dvec2>& loop, const std::vector<model::Edge>& edges) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      wanted += edges[i].kind == model::EdgeKind::eave
                    ? glm::length(loop[(i + 1) % loop.size()] - loop[i])
                    : 0.0;
    }
  };
  add(part.outline, part.edges);
  for (const model::Hole& hole : part.holes) {
    add(hole.outline, hole.edges);
  }
  double got = 0.0;
  for (const surface::Line& line : s.lines) {
    got += line.kind == surface::LineKind::eave ? line.length_m : 0.0;
  }
  return std::abs(got - wanted) <= 1e-9 * wanted
             ? std::string()
             : "eaves " + std::to_string(got) + " of " + std::to_string(wanted);
}

void check(Tally& tally, std::size_t number, std::mt19937_64& rng, const model::RoofModel& m,
           bool is_exact) {
  const auto result = surface::raise(m);
  if (!result) {
    if (result.faults()[0].code == "roof.open") {
      ++tally.open;
    } else {
      tally.fail(number, result.faults()[0].code);
    }
    return;
  }
  const auto broken = surface::verify(result.value());
  if (!broken.empty()) {
    tally.fail(number, broken[0]);
    return;
  }
  std::string wrong = sample(rng, m.parts[0], result.value());
  if (wrong.empty()) {
    wrong = moved_too_far(m.parts[0], result.value());
  }
  if (wrong.empty() && is_exact) {
    wrong = eaves(m.parts[0], result.value());
  }
  if (wrong.empty()) {
    ++tally.good;
  } else {
    tally.fail(number, wrong);
  }
}

void report(const char* name, std::uint64_t seed, const Tally& tally) {
  std::cout << name << ": seed " << seed << ", " << tally.good << " good, " << tally.open
            << " open, " << tally.bad << " bad " << tally.first_bad << '\n';
  CAPTURE(seed, tally.first_bad);
  REQUIRE(tally.bad == 0);
  REQUIRE(tally.good > 0);
}

const std::vector<double> many_rises{2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18};

}  // namespace

TEST_CASE("rectilinear outlines with holes, random pitches and gables") {
  struct Set {
    const char* name;
    double step_m;
    int most_steps;
    EdgeChoice choice;
  };
  const std::vector<Set> sets{
      {"inch grid, equal pitch", inch, 300, {0.0, {6}}},
      {"inch grid, any pitch", inch, 300, {0.0, many_rises}},
      {"inch grid, any pitch and gables", inch, 300, {0.25, many_rises}},
      {"24 in module, equal pitch", 24 * inch, 3, {0.0, {6}}},
      {"24 in module, any pitch", 24 * inch, 3, {0.0, many_rises}},
      {"24 in module, 4/6/8/12 and gables", 24 * inch, 3, {0.25, {4, 6, 8, 12}}},
  };
  const std::size_t cases = cases_or(2500);
  for (const Set& set : sets) {
    const std::uint64_t seed = seed_or(20261125);
    std::mt19937_64 rng(seed);
    Tally tally;
    for (std::size_t i = 0; i < cases; ++i) {
      const int cells = std::uniform_int_distribution<int>(1, 14)(rng);
      const Loops loops = random_rectilinear(rng, cells, 7, set.step_m, set.most_steps);
      check(tally, i, rng, random_house(rng, loops, set.choice), true);
    }
    report(set.name, seed, tally);
  }
}

TEST_CASE("general outlines, random pitches and gables") {
  const std::size_t cases = cases_or(2500);
  for (const double share : {0.0, 0.2}) {
    const std::uint64_t seed = seed_or(4711);
    std::mt19937_64 rng(seed);
    Tally tally;
    for (std::size_t i = 0; i < cases; ++i) {
      const std::size_t n = std::uniform_int_distribution<std::size_t>(3, 28)(rng);
      const Loops loops{random_polygon(rng, n, 20.0)};
      check(tally, i, rng, random_house(rng, loops, {share, many_rises}), false);
    }
    report(share > 0 ? "general, any pitch and gables" : "general, any pitch", seed, tally);
  }
}

TEST_CASE("nearly degenerate outlines: turned by any angle, corners moved a little") {
  const std::size_t cases = cases_or(5000);
  for (const double move_in : {0.0, 1e-12, 1e-10, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2}) {
    const std::uint64_t seed = seed_or(8128);
    std::mt19937_64 rng(seed);
    Tally tally;
    std::uniform_real_distribution<double> shift(-move_in * inch, move_in * inch);
    std::uniform_real_distribution<double> angle(0.0, 2 * M_PI);
    for (std::size_t i = 0; i < cases; ++i) {
      const int cells = std::uniform_int_distribution<int>(1, 10)(rng);
      Loops loops = random_rectilinear(rng, cells, 6, 24 * inch, 3);
      const double a = angle(rng);
      for (auto& loop : loops) {
        for (glm::dvec2& p : loop) {
          p = {std::cos(a) * p.x - std::sin(a) * p.y + shift(rng),
               std::sin(a) * p.x + std::cos(a) * p.y + shift(rng)};
        }
      }
      check(tally, i, rng, random_house(rng, loops, {0.2, {4, 6, 8, 12}}), false);
    }
    report(("moved by " + std::to_string(move_in) + " in").c_str(), seed, tally);
  }
}
