// What must not change a united roof, and what its lines must be. Random houses of several parts.
// RIDGEWARD_SEED and RIDGEWARD_CASES choose others.
#include "base/polygon.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"
#include "support/random_parts.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <map>

using namespace ridgeward;
using namespace ridgeward::support;
using surface::LineKind;

namespace {

/// Houses whose parts' drip lines don't collide and whose plans close.
std::optional<surface::Surface> try_raise(const model::RoofModel& m) {
  auto result = surface::raise(m);
  return result ? std::optional(std::move(result).value()) : std::nullopt;
}

model::RoofModel next_house(std::mt19937_64& rng, std::size_t i) {
  PartsChoice choice;
  choice.turn_step_deg = i % 4 == 3 ? 45.0 : 90.0;
  choice.overhang_m = i % 2 == 0 ? 0.3048 : 0.0;
  return random_parts(rng, choice);
}

using Sums = std::map<LineKind, double>;

/// True lengths by kind; the inner edges of walls left out.
Sums sums(const surface::Surface& s) {
  Sums all;
  for (const surface::Line& line : s.lines) {
    if (line.kind != LineKind::wall_edge) {
      all[line.kind] += line.length_m;
    }
  }
  return all;
}

double area(const surface::Surface& s) {
  double sum = 0.0;
  for (const surface::Plane& plane : s.planes) {
    sum += plane.area_m2;
  }
  return sum;
}

/// First difference in words, empty where there is none. Lines end within a micrometre of where
/// they would: `lines` of them may add up.
std::string difference(const surface::Surface& a, const surface::Surface& b) {
  const double slack = 1e-5 * static_cast<double>(a.lines.size() + 1);
  if (std::abs(area(a) - area(b)) > slack) {
    return "area " + std::to_string(area(a)) + " and " + std::to_string(area(b));
  }
  Sums one = sums(a);
  Sums other = sums(b);
  for (int k = 0; k <= static_cast<int>(LineKind::wall_edge); ++k) {
    const auto kind = static_cast<LineKind>(k);
    if (std::abs(one[kind] - other[kind]) > slack) {
      return std::string(surface::word(kind)) + " " + std::to_string(one[kind]) + " and " +
             std::to_string(other[kind]);
    }
  }
  return {};
}

template <class Change>
model::RoofModel with_corners(model::RoofModel m, Change change) {
  for (model::Part& part : m.parts) {
    for (glm::dvec2& corner : part.outline) {
      corner = change(corner);
    }
  }
  return m;
}

/// The same house in a mirror: edges run the other way round.
model::RoofModel mirrored(const model::RoofModel& m) {
  model::RoofModel other = with_corners(m, [](glm::dvec2 p) { return glm::dvec2{-p.x, p.y}; });
  for (model::Part& part : other.parts) {
    std::reverse(part.outline.begin(), part.outline.end());
    // Side i now runs from corner i to i + 1 of the turned list: the old side n - 2 - i.
    std::vector<model::Edge> edges;
    const std::size_t n = part.edges.size();
    for (std::size_t i = 0; i < n; ++i) {
      edges.push_back(part.edges[(2 * n - 2 - i) % n]);
    }
    part.edges = edges;
    part.framing.measured.clear();
    // A level fascia follows the first eave: it has to be the same one.
    part.fascia = model::Fascia::as_given;
  }
  return other;
}

struct Tally {
  std::size_t seen = 0;
  std::string first_bad;
  void add(std::size_t i, const std::string& why) {
    ++seen;
    if (!why.empty() && first_bad.empty()) {
      first_bad = "house " + std::to_string(i) + ": " + why;
    }
  }
};

template <class Look>
void over_houses(std::size_t cases, Look look) {
  const std::uint64_t seed = seed_or(271828);
  std::mt19937_64 rng(seed);
  Tally tally;
  for (std::size_t i = 0; i < cases; ++i) {
    const model::RoofModel m = next_house(rng, i);
    if (const auto s = try_raise(m)) {
      tally.add(i, look(m, *s, rng));
    }
  }
  CAPTURE(seed, tally.seen, tally.first_bad);
  REQUIRE(tally.first_bad.empty());
  REQUIRE(2 * tally.seen > cases);
}

std::string compared(const surface::Surface& s, const model::RoofModel& changed) {
  const auto other = try_raise(changed);
  return other ? difference(s, *other) : "does not rise";
}

/// Rise of the surface from the line's middle to a hand's breadth beside it, where that point lies
/// on the plane; none where it does not (corners nearby).
std::optional<double> rise_beside(const surface::Surface& s, PlaneId id, glm::dvec3 middle,
                                  glm::dvec2 beside) {
  const surface::Plane& plane = s.planes[id];
  polygon::Loops plan;
  for (const surface::Loop& loop : plane.loops) {
    plan.emplace_back();
    for (const glm::dvec3& c : surface::corners(s, loop)) {
      plan.back().emplace_back(c);
    }
  }
  const glm::dvec2 p = glm::dvec2(middle) + beside;
  if (!polygon::contains(plan, p)) {
    return std::nullopt;
  }
  const glm::dvec3 n = plane.frame.normal;
  return -glm::dot(glm::dvec2(n), beside) / n.z;
}

/// A line between two planes, told from the heights beside it alone.
std::string wrong_between(const surface::Surface& s, const surface::Line& line) {
  const glm::dvec3 a = s.nodes[line.from];
  const glm::dvec3 b = s.nodes[line.to];
  const glm::dvec2 d = glm::normalize(glm::dvec2(b - a));
  const glm::dvec2 left_hand{-d.y, d.x};
  const double reach = std::min(1e-3, line.plan_length_m / 100);
  const glm::dvec3 middle = (a + b) / 2.0;
  const auto left = rise_beside(s, line.left_plane(), middle, reach * left_hand);
  const auto right = rise_beside(s, line.right_plane(), middle, -reach * left_hand);
  if (!left || !right) {
    return {};
  }
  const double l = *left / reach;
  const double r = *right / reach;
  const bool is_level = std::abs(b.z - a.z) < 1e-6 * line.plan_length_m + 1e-6;
  switch (line.kind) {
    case LineKind::ridge:
      return l < 0 && r < 0 ? "" : "a ridge between planes that do not both fall away";
    case LineKind::hip:
      return l + r < 0 ? "" : "a hip in an inside corner";
    case LineKind::valley:
      return l + r > 0 ? "" : "a valley on an outside corner";
    case LineKind::pitch_break:
      return is_level && (l < 1e-9) != (r < 1e-9) ? "" : "a pitch break that is none";
    default:
      return std::string("between planes stands a ") + surface::word(line.kind);
  }
}

std::string wrong_border(const surface::Surface& s, const surface::Line& line) {
  const bool on_left = !line.left_plane().is_none();
  const PlaneId id = on_left ? line.left_plane() : line.right_plane();
  const glm::dvec3 a = s.nodes[line.from];
  const glm::dvec3 b = s.nodes[line.to];
  const double run = glm::length(glm::dvec2(b - a));
  const bool is_level = std::abs(b.z - a.z) < 1e-6 * run + 1e-6;
  const glm::dvec2 d = glm::dvec2(b - a) / run;
  const glm::dvec2 in = on_left ? glm::dvec2{-d.y, d.x} : glm::dvec2{d.y, -d.x};
  const double rise = -glm::dot(glm::dvec2(s.planes[id].frame.normal), in);
  switch (line.kind) {
    case LineKind::eave:
      return is_level && rise > 0 ? "" : "an eave from which its plane does not rise";
    case LineKind::shed_top:
      return is_level && rise <= 0 ? "" : "a shed top from which its plane does not fall";
    case LineKind::headwall:
      return is_level ? "" : "a headwall that slopes";
    case LineKind::rake:
    case LineKind::sidewall:
      return is_level ? std::string("a level ") + surface::word(line.kind) : "";
    default:
      return {};
  }
}

}  // namespace

TEST_CASE("lines of united roofs are what their planes say") {
  over_houses(cases_or(1500), [](const auto&, const surface::Surface& s, auto&) {
    for (const surface::Line& line : s.lines) {
      const bool has_left = !line.left_plane().is_none();
      const bool has_right = !line.right_plane().is_none();
      if ((!has_left && !has_right) || line.plan_length_m < 1e-4) {
        continue;
      }
      const std::string wrong =
          has_left && has_right ? wrong_between(s, line) : wrong_border(s, line);
      if (!wrong.empty()) {
        return line.id + ": " + wrong;
      }
    }
    return std::string();
  });
}

TEST_CASE("turning and moving a house changes no length") {
  over_houses(cases_or(400), [](const model::RoofModel& m, const surface::Surface& s, auto& rng) {
    const double a = std::uniform_real_distribution<double>(0, 2 * M_PI)(rng);
    const glm::dvec2 by{31.7, -12.3};
    return compared(s, with_corners(m, [&](glm::dvec2 p) {
                      return by + glm::dvec2{std::cos(a) * p.x - std::sin(a) * p.y,
                                             std::sin(a) * p.x + std::cos(a) * p.y};
                    }));
  });
}

TEST_CASE("a house in the mirror has the same lengths") {
  over_houses(cases_or(400), [](model::RoofModel m, const surface::Surface&, auto&) {
    for (model::Part& part : m.parts) {
      part.fascia = model::Fascia::as_given;
      part.framing.measured.clear();
    }
    const auto s = try_raise(m);
    return s ? compared(*s, mirrored(m)) : std::string();
  });
}

TEST_CASE("a part wholly beneath another changes nothing") {
  over_houses(cases_or(400), [](const model::RoofModel& m, const surface::Surface& s, auto&) {
    // A small flat-pitched hip roof about the middle of the first part, far below it.
    model::RoofModel more = m;
    model::Part inner = m.parts[0];
    glm::dvec2 middle{0.0};
    for (const glm::dvec2 corner : inner.outline) {
      middle += corner / static_cast<double>(inner.outline.size());
    }
    if (!polygon::contains(inner.outline, middle)) {
      return std::string();
    }
    inner.id = "inner";
    inner.plate_m -= 1.0;
    inner.drawn_to = model::DrawnTo::drip;
    inner.framing.measured.clear();
    for (glm::dvec2& corner : inner.outline) {
      corner = middle + 0.2 * (corner - middle);
    }
    for (model::Edge& edge : inner.edges) {
      edge = eave(1);
    }
    more.parts.push_back(inner);
    return compared(s, more);
  });
}

TEST_CASE("splitting an edge in two changes nothing") {
  over_houses(cases_or(400), [](model::RoofModel m, const surface::Surface&, auto& rng) {
    for (model::Part& part : m.parts) {
      part.framing.measured.clear();
    }
    const auto s = try_raise(m);
    model::Part& part =
        m.parts[std::uniform_int_distribution<std::size_t>(0, m.parts.size() - 1)(rng)];
    const std::size_t edge =
        std::uniform_int_distribution<std::size_t>(0, part.edges.size() - 1)(rng);
    const glm::dvec2 a = part.outline[edge];
    const glm::dvec2 b = part.outline[(edge + 1) % part.outline.size()];
    const auto at = static_cast<std::ptrdiff_t>(edge + 1);
    part.outline.insert(part.outline.begin() + at, a + 0.375 * (b - a));
    part.edges.insert(part.edges.begin() + at, model::Edge(part.edges[edge]));
    return s ? compared(*s, m) : std::string();
  });
}

TEST_CASE("symmetric houses have symmetric roofs") {
  const std::uint64_t seed = seed_or(141421);
  std::mt19937_64 rng(seed);
  for (std::size_t i = 0; i < cases_or(300); ++i) {
    // A hall about x = 0 and pairs of wings, one the other's mirror image.
    const auto whole = [&](int low, int high) {
      return std::uniform_int_distribution<int>(low, high)(rng);
    };
    model::RoofModel m;
    const auto add = [&](glm::dvec2 low, glm::dvec2 high, std::vector<model::Edge> edges) {
      model::Part p;
      p.id = "p" + std::to_string(m.parts.size());
      p.plate_m = 2.4;
      p.outline = {low, {high.x, low.y}, high, {low.x, high.y}};
      p.edges = std::move(edges);
      m.parts.push_back(p);
    };
    const double rise = 2.0 * whole(2, 6);
    const double half = whole(4, 8);
    add({-half, 0}, {half, whole(6, 10)}, {eave(rise), eave(rise), eave(rise), eave(rise)});
    for (int k = whole(1, 2); k > 0; --k) {
      const double near = whole(1, 3);
      const double far = near + whole(2, 5);
      const double front = -whole(1, 5);
      const double back = whole(2, 12);
      const double pitch = 2.0 * whole(2, 6);
      const model::Edge end = whole(0, 1) == 0 ? gable() : eave(pitch);
      add({near, front}, {far, back}, {end, eave(pitch), end, eave(pitch)});
      add({-far, front}, {-near, back}, {end, eave(pitch), end, eave(pitch)});
    }
    const auto s = try_raise(m);
    REQUIRE(s);
    // Each line has its image, of the same kind.
    for (const surface::Line& line : s->lines) {
      if (line.kind == LineKind::wall_edge || line.length_m < 1e-4) {
        continue;
      }
      const glm::dvec3 middle = (s->nodes[line.from] + s->nodes[line.to]) / 2.0;
      const glm::dvec3 image{-middle.x, middle.y, middle.z};
      const bool has_image =
          std::any_of(s->lines.begin(), s->lines.end(), [&](const surface::Line& other) {
            const glm::dvec3 own = (s->nodes[other.from] + s->nodes[other.to]) / 2.0;
            return other.kind == line.kind && glm::length(own - image) < 1e-4 &&
                   std::abs(other.length_m - line.length_m) < 1e-4;
          });
      CAPTURE(seed, i, line.id, middle.x, middle.y, middle.z);
      REQUIRE(has_image);
    }
  }
}
