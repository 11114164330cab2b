// Crickets behind chimneys. Width over which one is needed: IRC R903.2.2 (older editions R1003.20).
// Height at the chimney: table R1003.20, half the width on a 12/12 roof; for other pitches half the
// width times rise over run, 8/12 a third of the width, 6/12 a quarter, 4/12 a sixth (from memory).

#include "base/polygon.hpp"
#include "framing/stage.hpp"

#include "support/raised.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

constexpr double in = units::inch_m;

/// A gable house 40 ft by 40 ft with a chimney of this width, 2 ft deep, 6 ft up the front slope.
model::RoofModel house(double rise, double width_in) {
  model::RoofModel m;
  model::Part p;
  p.id = "main";
  p.plate_m = 0.0;
  p.outline = {{0, 0}, {40 * ft, 0}, {40 * ft, 40 * ft}, {0, 40 * ft}};
  p.edges = {eave(rise), gable(), eave(rise), gable()};
  m.parts = {p};
  model::Obstacle chimney;
  chimney.id = "flue";
  chimney.outline = {{10 * ft, 6 * ft},
                     {10 * ft + width_in * in, 6 * ft},
                     {10 * ft + width_in * in, 8 * ft},
                     {10 * ft, 8 * ft}};
  m.obstacles = {chimney};
  return m;
}

std::size_t crickets(const surface::Surface& s) {
  std::size_t count = 0;
  for (const surface::Plane& plane : s.planes) {
    count += plane.cricket.empty() ? 0 : 1;
  }
  return count / 2;
}

}  // namespace

TEST_CASE("a chimney of 30 in needs no cricket, one of 30.1 in does (R903.2.2)") {
  REQUIRE(crickets(raised(house(6, 30.0))) == 0);
  REQUIRE(crickets(raised(house(6, 30.1))) == 1);
}

TEST_CASE("height of a cricket: half the width at 12/12, and by the pitch below (table R1003.20)") {
  struct Row {
    double rise;
    double share;
  };
  const Row row = GENERATE(Row{12, 1.0 / 2}, Row{8, 1.0 / 3}, Row{6, 1.0 / 4}, Row{4, 1.0 / 6});
  const double width_in = 48;
  const auto s = raised(house(row.rise, width_in));
  REQUIRE(crickets(s) == 1);
  double top_m = 0.0;
  for (const surface::Plane& plane : s.planes) {
    if (!plane.cricket.empty()) {
      REQUIRE(plane.cricket == "flue");
      REQUIRE(plane.pitch.in_12() == Approx(row.rise).epsilon(1e-9));
      for (const glm::dvec3& p : surface::corners(s, plane.loops[0])) {
        top_m = std::max(top_m, p.z);
      }
    }
  }
  const double back_m = 8 * ft * row.rise / 12;
  REQUIRE((top_m - back_m) / in == Approx(width_in * row.share).epsilon(1e-6));
}

TEST_CASE("lines of a cricket: a level ridge, two valleys at 45 degrees in plan, flashed sides") {
  const auto s = raised(house(6, 48));
  const double half_ft = 2.0;
  const double rise_ft = 1.0;  // half of 2 ft
  require_lengths(s, surface::LineKind::ridge, {half_ft, 40}, 1e-6);
  require_lengths(s, surface::LineKind::valley, std::vector<double>(2, std::sqrt(4 + 4 + 1.0)),
                  1e-6);
  require_lengths(s, surface::LineKind::sidewall, std::vector<double>(2, std::sqrt(4 + rise_ft)),
                  1e-6);
  require_lengths(s, surface::LineKind::headwall, {4}, 1e-6);
  require_lengths(s, surface::LineKind::eave, {40, 40}, 1e-6);
  REQUIRE(area_ft2(s) == Approx(1600 * std::sqrt(1.25)).epsilon(1e-9));
}

TEST_CASE("volume of a cricket: a third of its height over its plan") {
  model::RoofModel m = house(6, 48);
  const auto volume = [](const surface::Surface& s) {
    return solid::examine(solid::build(s).value()).volume_m3 / (ft * ft * ft);
  };
  const double with = volume(raised(m));
  m.obstacles[0].cricket = model::Cricket::none;
  // Nothing at the rim, 1 ft over the middle of the 4 ft side of a triangle of 4 square feet.
  REQUIRE(with - volume(raised(m)) == Approx(4.0 / 3).epsilon(1e-5));
}

TEST_CASE("the deck goes on beneath a cricket, and its planes bear no rafters") {
  const model::RoofModel m = house(6, 48);
  const auto s = raised(m);
  REQUIRE(s.blind_decks.size() == 1);
  REQUIRE(s.blind_decks[0].cricket == "flue");
  REQUIRE(s.planes[s.blind_decks[0].plane].id == "main/0");
  REQUIRE(s.blind_decks[0].area_m2 / (ft * ft) == Approx(4 * std::sqrt(1.25)).epsilon(1e-6));
  const framing::Framing f = framing::frame(m, s);
  for (const framing::Member& member : f.members) {
    REQUIRE((member.plane.is_none() || s.planes[member.plane].cricket.empty()));
  }
  std::size_t boards = 0;
  for (const framing::Member& member : f.members) {
    boards += member.kind == framing::MemberKind::valley ||
                      member.kind == framing::MemberKind::ridge_board
                  ? 1
                  : 0;
  }
  REQUIRE(boards == 1);  // the main ridge
}

TEST_CASE("a chimney through the ridge gets no cricket") {
  model::RoofModel m = house(6, 48);
  for (glm::dvec2& p : m.obstacles[0].outline) {
    p.y += 13 * ft;
  }
  REQUIRE(crickets(raised(m)) == 0);
}

TEST_CASE("the model may ask for a cricket or do without") {
  model::RoofModel m = house(6, 24);
  m.obstacles[0].cricket = model::Cricket::always;
  REQUIRE(crickets(raised(m)) == 1);
  m = house(6, 48);
  m.obstacles[0].cricket = model::Cricket::none;
  REQUIRE(crickets(raised(m)) == 0);
}

TEST_CASE("no room below the ridge: no cricket, and the assumptions say so") {
  model::RoofModel m = house(6, 48);
  for (glm::dvec2& p : m.obstacles[0].outline) {
    p.y += 11 * ft;
  }
  const auto s = raised(m);
  REQUIRE(crickets(s) == 0);
  const bool is_said = std::any_of(s.assumptions.begin(), s.assumptions.end(), [](const auto& a) {
    return a.find("No cricket is drawn behind chimney flue") != std::string::npos;
  });
  REQUIRE(is_said);
}

TEST_CASE("a chimney given on its plane gets its cricket too; turned houses the same") {
  model::RoofModel m = house(8, 36);
  m.obstacles[0].outline.clear();
  m.obstacles[0].plane = "main/0";
  m.obstacles[0].at = {10 * ft, 6 * ft};
  m.obstacles[0].size = {36 * in, 2 * ft};
  REQUIRE(crickets(raised(m)) == 1);
  const double a = 0.3;
  for (glm::dvec2& p : m.parts[0].outline) {
    p = {std::cos(a) * p.x - std::sin(a) * p.y, std::sin(a) * p.x + std::cos(a) * p.y};
  }
  const auto s = raised(m);
  REQUIRE(crickets(s) == 1);
  require_lengths(s, surface::LineKind::ridge, {1.5, 40}, 1e-6);
}
