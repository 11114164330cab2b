// The deck beneath overlaid parts and overhangs: closed forms, and points in plan against roofs
// raised without the part.

#include "base/polygon.hpp"

#include "support/raised.hpp"
#include "support/random_parts.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <iostream>
#include <optional>
#include <utility>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

model::Part rectangle(const std::string& id, glm::dvec2 low, glm::dvec2 high,
                      const std::vector<model::Edge>& edges, double plate_ft = 0.0) {
  model::Part p;
  p.id = id;
  p.plate_m = plate_ft * ft;
  p.outline = {low * ft, glm::dvec2{high.x, low.y} * ft, high * ft, glm::dvec2{low.x, high.y} * ft};
  p.edges = edges;
  return p;
}

model::RoofModel tee(double overhang_ft) {
  model::RoofModel m;
  m.parts = {rectangle("main", {0, 0}, {40, 24},
                       {eave(6, overhang_ft * ft), gable(), eave(6, overhang_ft * ft), gable()}),
             rectangle("wing", {12, -20}, {28, 12},
                       {gable(), eave(6, overhang_ft * ft), gable(), eave(6, overhang_ft * ft)})};
  m.parts[1].valleys = model::Valleys::overlaid;
  return m;
}

double ft2(double m2) { return m2 / (ft * ft); }

}  // namespace

TEST_CASE("the main deck goes on beneath an overlaid wing") {
  const auto s = raised(tee(0));
  // The wing's ridge is 4 ft up and meets the main plane at y = 8: a triangle 16 ft by 8 ft in
  // plan.
  REQUIRE(s.blind_decks.size() == 1);
  const surface::BlindDeck& deck = s.blind_decks[0];
  REQUIRE(s.planes[deck.plane].id == "main/0");
  REQUIRE(deck.part == 1);
  REQUIRE(ft2(deck.area_m2) == Approx(64 * std::sqrt(1.25)).epsilon(1e-6));
  REQUIRE(deck.outline_uv.size() == 1);
  REQUIRE(deck.openings_uv.empty());
  // What is to be seen of the main plane and its blind deck make up the whole slope.
  REQUIRE(ft2(s.planes[deck.plane].area_m2 + deck.area_m2) ==
          Approx(40 * 12 * std::sqrt(1.25)).epsilon(1e-6));
}

TEST_CASE("a framed wing hides no deck") {
  model::RoofModel m = tee(1);
  m.parts[1].valleys = model::Valleys::framed;
  REQUIRE(raised(m).blind_decks.empty());
}

TEST_CASE("rafter tails go inside the wing's rooms, and stay under its overhang") {
  const auto s = raised(tee(1));
  // Valleys start at (11, -1); of the strip y < 0 only the two corners outside the wing's walls
  // keep their deck, half a square foot in plan each.
  REQUIRE(s.blind_decks.size() == 1);
  REQUIRE(ft2(s.blind_decks[0].area_m2) == Approx((64 + 1) * std::sqrt(1.25)).epsilon(1e-5));
}

TEST_CASE("a porch roof goes on beneath the overhang above it, up to the wall") {
  // Main plates 9 ft up, overhang 1 ft. Its south wall stands over the porch's back from x = 10 to
  // 30; the porch's rakes hang out 6 in: 21 ft by 1 ft in plan, root(1 + 1/16) along its 3/12.
  model::RoofModel m;
  m.parts = {rectangle("main", {0, 0}, {40, 28},
                       {eave(8, ft), gable(0.5 * ft), eave(8, ft), gable(0.5 * ft)}, 9),
             rectangle("porch", {10, -8}, {30, 0},
                       {eave(3, 0.5 * ft), gable(0.5 * ft), gable(), gable(0.5 * ft)})};
  const auto s = raised(m);
  CHECK(s.blind_decks.empty());
  REQUIRE(s.sheltered_decks.size() == 1);
  const surface::Sheltered& deck = s.sheltered_decks[0];
  CHECK(s.planes[deck.plane].id == "porch/0");
  CHECK(s.planes[deck.above].id == "main/0");
  CHECK(ft2(polygon::area(deck.plan)) == Approx(21.0).epsilon(1e-6));
  REQUIRE(deck.lines.size() == 1);
  CHECK(s.lines[deck.lines[0]].kind == surface::LineKind::headwall);
  CHECK(s.lines[deck.lines[0]].length_m == Approx(21 * ft).epsilon(1e-6));
  const surface::Frame& frame = s.planes[deck.plane].frame;
  const polygon::Loops along = surface::on_plane(frame, deck.plan);
  CHECK(ft2(polygon::area(along)) == Approx(21.0 * std::sqrt(1.0625)).epsilon(1e-6));
  CHECK(polygon::area(surface::plan_of(frame, along)) == Approx(polygon::area(deck.plan)));
  // Laid over the porch, the main roof leaves its deck beneath it as a blind one, told once.
  std::swap(m.parts[0], m.parts[1]);
  m.parts[1].valleys = model::Valleys::overlaid;
  const auto laid = raised(m);
  CHECK(laid.blind_decks.size() == 1);
  CHECK(laid.sheltered_decks.empty());
  // Flush with its wall nothing hangs over.
  m.parts[1].edges[0].overhang_m = 0.0;
  m.parts[1].valleys = model::Valleys::framed;
  m.parts[1].fascia = model::Fascia::as_given;
  CHECK(raised(m).sheltered_decks.empty());
}

TEST_CASE("the eave of a house with an inside corner goes on beneath a lean-to's rakes") {
  // The lean-to's walls stand at x = 8 and 28, its rakes hang out 2 ft 6 in over the hall's
  // overhang of 1 ft 3 in: 2.5 ft by 1.25 ft in plan on either side. The hall's west plane, far off
  // beyond the inside corner, would pass lower there if it went on.
  model::RoofModel m;
  m.parts = {
      rectangle("hall", {0, 0}, {50, 24}, {}, 9),
      rectangle("lean", {8, 24}, {28, 33}, {{}, gable(2.5 * ft), eave(3, ft), gable(2.5 * ft)}, 8)};
  m.parts[0].outline = {glm::dvec2{0, 0} * ft,    glm::dvec2{34, 0} * ft,  glm::dvec2{34, -12} * ft,
                        glm::dvec2{50, -12} * ft, glm::dvec2{50, 24} * ft, glm::dvec2{0, 24} * ft};
  m.parts[0].edges.assign(6, eave(12, 1.25 * ft));
  m.parts[0].edges[2] = gable(0.75 * ft);
  m.parts[0].heel_m = 1.25 * ft;
  m.parts[1].edges[0].kind = model::EdgeKind::wall;
  m.parts[1].heel_m = 0.75 * ft;
  const auto s = raised(m);
  REQUIRE(s.sheltered_decks.size() == 2);
  for (const surface::Sheltered& deck : s.sheltered_decks) {
    CHECK(s.planes[deck.plane].id == "hall/4");
    CHECK(s.planes[deck.above].id == "lean/2");
    CHECK(ft2(polygon::area(deck.plan)) == Approx(2.5 * 1.25).epsilon(1e-6));
    CHECK(std::any_of(deck.lines.begin(), deck.lines.end(), [&](LineId line) {
      return s.lines[line].kind == surface::LineKind::sidewall;
    }));
  }
}

TEST_CASE("a dormer laid over the deck hides what it stands on") {
  model::RoofModel m;
  m.parts = {rectangle("main", {0, 0}, {40, 24}, {eave(12), gable(), eave(12), gable()}),
             rectangle("dormer", {16, 3}, {24, 12}, {gable(), eave(6), gable(), eave(6)}, 5.0)};
  m.parts[1].valleys = model::Valleys::overlaid;
  m.parts[1].deck_openings = {{glm::dvec2{17, 4} * ft, glm::dvec2{23, 4} * ft,
                               glm::dvec2{23, 5} * ft, glm::dvec2{17, 5} * ft}};
  const auto s = raised(m);
  // In plan 8 x 2 beneath the cheeks and the triangle of the valleys, 8 x 2 / 2.
  REQUIRE(s.blind_decks.size() == 1);
  REQUIRE(ft2(s.blind_decks[0].area_m2) == Approx(24 * std::sqrt(2.0)).epsilon(1e-6));
  REQUIRE(ft2(polygon::area(s.blind_decks[0].openings_uv)) ==
          Approx(6 * std::sqrt(2.0)).epsilon(1e-6));
}

TEST_CASE("an opening where no deck lies beneath is refused") {
  model::RoofModel m = tee(0);
  m.parts[1].deck_openings = {{glm::dvec2{14, -10} * ft, glm::dvec2{20, -10} * ft,
                               glm::dvec2{20, -8} * ft, glm::dvec2{14, -8} * ft}};
  const auto s = surface::raise(m);
  REQUIRE_FALSE(s.ok());
  REQUIRE(s.faults()[0].code == "deck_opening.off_deck");
  REQUIRE(s.faults()[0].where == "/parts/1/deck_openings/0");
}

TEST_CASE("a plane wholly beneath an overlaid part is a blind deck of no plane") {
  model::RoofModel m;
  m.parts = {rectangle("low", {10, 2}, {20, 12}, {eave(4), eave(4), eave(4), eave(4)}),
             rectangle("over", {0, 0}, {30, 30}, {eave(12), eave(12), eave(12), eave(12)})};
  m.parts[1].valleys = model::Valleys::overlaid;
  const auto s = raised(m);
  REQUIRE(s.blind_decks.size() == 4);
  double sum = 0.0;
  for (const surface::BlindDeck& deck : s.blind_decks) {
    REQUIRE(deck.plane.is_none());
    sum += deck.area_m2;
  }
  REQUIRE(ft2(sum) == Approx(100 * std::sqrt(1 + 1.0 / 9)).epsilon(1e-6));
}

namespace {

/// Planes over a point in plan, inner borders counted even-odd.
std::optional<PlaneId> plane_over(const surface::Surface& s, glm::dvec2 p) {
  for (const PlaneId id : s.planes.ids()) {
    polygon::Loops plan;
    for (const surface::Loop& loop : s.planes[id].loops) {
      plan.emplace_back();
      for (const glm::dvec3& c : surface::corners(s, loop)) {
        plan.back().emplace_back(c);
      }
    }
    if (polygon::contains(plan, p)) {
      return id;
    }
  }
  return std::nullopt;
}

bool near_a_line(const surface::Surface& s, glm::dvec2 p) {
  for (const surface::Line& line : s.lines) {
    const glm::dvec2 a(s.nodes[line.from]);
    const glm::dvec2 d = glm::dvec2(s.nodes[line.to]) - a;
    const double size2 = glm::dot(d, d);
    const double at = size2 > 0 ? std::clamp(glm::dot(p - a, d) / size2, 0.0, 1.0) : 0.0;
    if (glm::length(p - a - at * d) < 1e-4) {
      return true;
    }
  }
  return false;
}

surface::Surface first_parts(const model::RoofModel& m, std::size_t count) {
  model::RoofModel some = m;
  some.parts.resize(count);
  for (model::Part& part : some.parts) {
    part.valleys = model::Valleys::framed;
  }
  return surface::raise(some).value();
}

std::size_t decks_over(const surface::Surface& s, std::size_t part, glm::dvec2 p) {
  std::size_t count = 0;
  for (const surface::BlindDeck& deck : s.blind_decks) {
    const glm::dvec3 n = deck.frame.normal;
    const glm::dvec3 o = deck.frame.origin;
    const double z = o.z - (n.x * (p.x - o.x) + n.y * (p.y - o.y)) / n.z;
    count += deck.part == part && polygon::contains(deck.outline_uv, deck.frame.uv({p, z})) ? 1 : 0;
  }
  return count;
}

}  // namespace

TEST_CASE("random overlaid parts: a deck lies under each point that a part covers") {
  const std::uint64_t seed = seed_or(314159);
  std::mt19937_64 rng(seed);
  std::size_t points = 0;
  const std::size_t cases = cases_or(150);
  for (std::size_t i = 0; i < cases; ++i) {
    PartsChoice choice;
    choice.most_parts = 4;
    choice.overhang_m = i % 2 == 0 ? 0.4 : 0.0;
    choice.overlaid_share = 0.7;
    choice.turn_step_deg = i % 3 == 0 ? 45.0 : 90.0;
    const model::RoofModel m = random_parts(rng, choice);
    const auto all = surface::raise(m);
    if (!all) {
      continue;  // drip lines that collide and plans that stay open are not the question here
    }
    for (std::size_t part = 1; part < m.parts.size(); ++part) {
      if (m.parts[part].valleys != model::Valleys::overlaid) {
        continue;
      }
      const surface::Surface before = first_parts(m, part);
      const surface::Surface after = first_parts(m, part + 1);
      const polygon::Box box = polygon::box_of(after.drip_outlines[part][0]);
      std::uniform_real_distribution<double> share(0, 1);
      for (int k = 0; k < 60; ++k) {
        const glm::dvec2 p = box.low + glm::dvec2{share(rng), share(rng)} * (box.high - box.low);
        if (near_a_line(before, p) || near_a_line(after, p)) {
          continue;
        }
        const auto over = plane_over(after, p);
        const auto under = plane_over(before, p);
        bool in_earlier_walls = false;
        for (std::size_t e = 0; e < part; ++e) {
          in_earlier_walls = in_earlier_walls || polygon::contains(before.wall_outlines[e], p);
        }
        const bool is_own_room =
            polygon::contains(after.wall_outlines[part], p) && !in_earlier_walls;
        const bool expected = over && under && after.planes[*over].part == part && !is_own_room;
        CAPTURE(seed, i, part, p.x, p.y);
        REQUIRE(decks_over(all.value(), part, p) == (expected ? 1U : 0U));
        points += expected ? 1 : 0;
      }
    }
  }
  std::cout << "blind decks: seed " << seed << ", " << points << " points on them\n";
  REQUIRE(points > cases);
}
