// Roof body, deck and air spaces against closed forms, against the attic's own figures and against
// the modelling kernel's checker, which every body has to pass before it is given out.
#include "solid/bodies.hpp"

#include "attic/stage.hpp"
#include "framing/stage.hpp"
#include "model/read.hpp"
#include "surface/stage.hpp"

#include "support/plans.hpp"
#include "support/random_parts.hpp"

#include <catch2/catch.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>

using namespace ridgeward;
using namespace ridgeward::support;

namespace {

using Volumes = std::map<std::string, double>;

/// Volumes by name; every body closed, valid, the right way round.
Volumes volumes_of(const Result<solid::Bodies>& bodies) {
  if (!bodies) {
    FAIL(bodies.faults()[0].what);
  }
  Volumes volumes;
  for (const solid::Body& body : bodies.value().all) {
    const solid::Report report = solid::examine(body.shape);
    CAPTURE(body.name);
    REQUIRE(report.is_valid);
    REQUIRE(report.is_closed);
    REQUIRE(report.volume_m3 > 0.0);
    REQUIRE(volumes.emplace(body.name, report.volume_m3).second);
  }
  return volumes;
}

surface::Surface raised(const model::RoofModel& m) {
  auto surface = surface::raise(m);
  REQUIRE(surface.ok());
  return std::move(surface).value();
}

const std::vector<glm::dvec2> rectangle{{0, 0}, {40, 0}, {40, 24}, {0, 24}};

/// 40 x 24 ft, 8/12, ridge along the length.
model::RoofModel gabled(double overhang_m = 0.0) {
  return house(rectangle, {eave(8, overhang_m), gable(), eave(8, overhang_m), gable()});
}

model::RoofModel with_deck(model::RoofModel m, double deck_m) {
  m.parts[0].deck_m = deck_m;
  return m;
}

}  // namespace

TEST_CASE("deck of a gable: area times thickness, less the mitre at the ridge") {
  for (const double deck_m : {0.5 * inch, 0.75 * inch, 0.1}) {
    const auto m = with_deck(gabled(1 * ft), deck_m);
    const auto volumes = volumes_of(solid::deck_bodies(m, raised(m)));
    REQUIRE(volumes.size() == 2);
    const double slope = 13 * ft * std::sqrt(1 + 4.0 / 9);
    // The plumb mitre takes a triangle: thickness high, thickness x tan(slope) wide.
    const double sheet = 40 * ft * (slope * deck_m - 0.5 * deck_m * deck_m * 8 / 12);
    REQUIRE(volumes.at("deck/main/0") == Approx(sheet).epsilon(1e-9));
    REQUIRE(volumes.at("deck/main/2") == Approx(sheet).epsilon(1e-9));
  }
}

TEST_CASE("deck of a pyramid: triangles that shrink on the way down, by the backing of the hips") {
  // sin(backing) = sin S cos D: Bartok's framing-angle formulas, as in docs/framing.md.
  const double deck_m = 0.05;
  const auto m = with_deck(
      house({{0, 0}, {24, 0}, {24, 24}, {0, 24}}, std::vector<model::Edge>(4, eave(9))), deck_m);
  const double slope = std::atan(0.75);
  const double lean = std::tan(std::asin(std::sin(slope) * std::sqrt(0.5)));
  const double base = 24 * ft;
  const double corner = std::atan2(12 * ft / std::cos(slope), 12 * ft);
  const auto prismoid = [&](double s) {  // antiderivative of the area at depth s
    const double rate = 2 * lean / std::sin(corner);
    return -std::pow(base - rate * s, 3) / (3 * rate) * std::tan(corner) / 4;
  };
  const auto volumes = volumes_of(solid::deck_bodies(m, raised(m)));
  REQUIRE(volumes.size() == 4);
  for (const auto& [name, volume] : volumes) {
    REQUIRE(volume == Approx(prismoid(deck_m) - prismoid(0)).epsilon(1e-9));
  }
}

TEST_CASE("deck at a wall is cut plumb: a parallelogram in section") {
  model::RoofModel m = house(rectangle, {eave(6), gable(), gable(), gable()});
  m.parts[0].edges[2].kind = model::EdgeKind::wall;
  m.parts[0].deck_m = 0.1;
  const auto volumes = volumes_of(solid::deck_bodies(m, raised(m)));
  const double slope = 24 * ft * std::sqrt(1.25);
  // Square at the eave, plumb at the wall: the underside ends 0.1 x tan(slope) short.
  REQUIRE(volumes.at("deck/main/0") ==
          Approx(40 * ft * (slope * 0.1 - 0.5 * 0.1 * 0.1 * 0.5)).epsilon(1e-9));
}

TEST_CASE("sheets of unequal thickness meet where their undersides meet") {
  // Two sheds back to back, 6/12 and 12/12, plates set so that their tops meet in one line.
  model::RoofModel m =
      house({{0, 0}, {40, 0}, {40, 24}, {0, 24}}, {eave(6), gable(), gable(), gable()});
  model::Part other = m.parts[0];
  other.id = "back";
  other.outline = {glm::dvec2{0, 24} * ft, glm::dvec2{40, 24} * ft, glm::dvec2{40, 36} * ft,
                   glm::dvec2{0, 36} * ft};
  other.edges = {gable(), gable(), eave(12), gable()};
  m.parts.push_back(other);
  m.parts[0].deck_m = 0.04;
  m.parts[1].deck_m = 0.1;
  const auto volumes = volumes_of(solid::deck_bodies(m, raised(m)));
  REQUIRE(volumes.size() == 2);
  // In section with the ridge at 0: y - x/2 = -a below the left top, y + x = -b below the right.
  const double a = 0.04 * std::sqrt(1.25);
  const double b = 0.1 * std::sqrt(2.0);
  const double x = (a - b) / 1.5;
  const double y = -b - x;
  const glm::dvec2 up = glm::normalize(glm::dvec2{2, 1});
  const double shift_left = glm::dot(glm::dvec2{x, y}, up);
  const double left = 24 * ft * std::sqrt(1.25) * 0.04 + 0.5 * 0.04 * shift_left;
  const double shift_right = -glm::dot(glm::dvec2{x, y}, glm::normalize(glm::dvec2{1, -1}));
  const double right = 12 * ft * std::sqrt(2.0) * 0.1 + 0.5 * 0.1 * shift_right;
  REQUIRE(volumes.at("deck/main/0") == Approx(40 * ft * left).epsilon(1e-7));
  REQUIRE(volumes.at("deck/back/2") == Approx(40 * ft * right).epsilon(1e-7));
}

TEST_CASE("openings and slots are cut square through the deck") {
  model::RoofModel m = gabled(1 * ft);
  const auto whole = volumes_of(solid::deck_bodies(m, raised(m)));
  model::Obstacle skylight;
  skylight.id = "sky";
  skylight.kind = model::ObstacleKind::skylight;
  skylight.plane = "main/0";
  skylight.at = {12 * ft, 6 * ft};
  skylight.size = {2 * ft, 4 * ft};
  model::Obstacle solar = skylight;
  solar.id = "panels";
  solar.kind = model::ObstacleKind::solar;
  solar.at = {20 * ft, 6 * ft};
  model::Obstacle chimney;
  chimney.id = "chimney";
  chimney.outline = {glm::dvec2{30, 11} * ft, glm::dvec2{33, 11} * ft, glm::dvec2{33, 14} * ft,
                     glm::dvec2{30, 14} * ft};
  chimney.clearance_m = 2 * inch;
  m.obstacles = {skylight, solar, chimney};
  const auto s = raised(m);
  const auto opened = volumes_of(solid::deck_bodies(m, s));
  // The chimney stands over the ridge: 1 ft of it in plan on the south, 2 ft on the north, and the
  // clearance, measured along the deck, on its other sides.
  const double t = m.parts[0].deck_m;
  const double steep = std::sqrt(1 + 4.0 / 9);
  const double wide = 3 * ft + 4 * inch;
  const auto chimney_cut = [&](double plan_m) {
    return wide * ((plan_m * steep + 2 * inch) * t - 0.5 * t * t * 8 / 12);
  };
  REQUIRE(opened.at("deck/main/0") ==
          Approx(whole.at("deck/main/0") - 8 * ft * ft * t - chimney_cut(1 * ft)).epsilon(1e-7));
  REQUIRE(opened.at("deck/main/2") ==
          Approx(whole.at("deck/main/2") - chimney_cut(2 * ft)).epsilon(1e-7));

  vents::Vents vents;
  vents::Slot slot;
  slot.plane = s.plane_named("main/0");
  slot.lower_line_m = 6.5 * inch;
  slot.width_m = 1.5 * inch;
  slot.start_m = 6 * inch;
  slot.end_m = 39.5 * ft;
  vents.slots.push_back(slot);
  const auto slotted = volumes_of(solid::deck_bodies(m, s, &vents));
  REQUIRE(slotted.at("deck/main/0") ==
          Approx(opened.at("deck/main/0") - 39 * ft * 1.5 * inch * t).epsilon(1e-7));
  REQUIRE(slotted.at("deck/main/2") == Approx(opened.at("deck/main/2")));
}

TEST_CASE("under an overlaid part the deck goes on; the upper sheet ends in a feather edge") {
  // A gabled wing laid on the main roof: same pitch, ridge 6 ft lower.
  model::RoofModel m = gabled();
  model::Part wing = m.parts[0];
  wing.id = "wing";
  wing.outline = {glm::dvec2{14, -8} * ft, glm::dvec2{26, -8} * ft, glm::dvec2{26, 8} * ft,
                  glm::dvec2{14, 8} * ft};
  wing.edges = {gable(), eave(8), gable(), eave(8)};
  wing.valleys = model::Valleys::overlaid;
  m.parts.push_back(wing);
  const auto s = raised(m);
  const auto volumes = volumes_of(solid::deck_bodies(m, s));
  const double t = m.parts[0].deck_m;
  REQUIRE(volumes.count("deck/main/0/under/wing") == 1);
  // The visible sheet and the one beneath are the plane without the wing, mitred at its ridge.
  const double steep = std::sqrt(1 + 4.0 / 9);
  REQUIRE(volumes.at("deck/main/0") + volumes.at("deck/main/0/under/wing") ==
          Approx(40 * ft * (12 * ft * steep * t - 0.5 * t * t * 8 / 12)).epsilon(1e-6));
  // The feather edge: between plane normals n and m the wedge is as wide as t / tan(angle).
  const surface::Plane& upper = s.planes[s.plane_named("wing/1")];
  const double cosine =
      glm::dot(upper.frame.normal, s.planes[s.plane_named("main/0")].frame.normal);
  const double lean = cosine / std::sqrt(1 - cosine * cosine);
  double valley_m = 0.0;
  double ridge_m = 0.0;
  for (const surface::Line& line : s.lines) {
    const bool is_beside = line.left_plane() == s.plane_named("wing/1") ||
                           line.right_plane() == s.plane_named("wing/1");
    valley_m += is_beside && line.kind == surface::LineKind::valley ? line.length_m : 0.0;
    ridge_m += is_beside && line.kind == surface::LineKind::ridge ? line.length_m : 0.0;
  }
  const double less = 0.5 * t * t * (lean * valley_m + 8.0 / 12 * ridge_m);
  REQUIRE(volumes.at("deck/wing/1") == Approx(upper.area_m2 * t - less).margin(3 * t * t * t));
}

TEST_CASE("an opening across the whole plane leaves the deck in two pieces") {
  model::RoofModel m = gabled();
  model::Obstacle gap;
  gap.id = "gap";
  gap.kind = model::ObstacleKind::skylight;
  gap.outline = {glm::dvec2{18, 0} * ft, glm::dvec2{20, 0} * ft, glm::dvec2{20, 24} * ft,
                 glm::dvec2{18, 24} * ft};
  const auto before = volumes_of(solid::deck_bodies(m, raised(m)));
  m.obstacles = {gap};
  const auto bodies = solid::deck_bodies(m, raised(m));
  const auto after = volumes_of(bodies);
  REQUIRE(solid::examine(bodies.value().all[0].shape).solids == 2);
  REQUIRE(after.at("deck/main/0") == Approx(before.at("deck/main/0") * 38 / 40).epsilon(1e-7));
}

TEST_CASE("roof body: each roof to its own lowest eave") {
  const auto part = [](const char* id, glm::dvec2 low, glm::dvec2 high, double plate) {
    model::Part p;
    p.id = id;
    p.plate_m = plate * ft;
    p.outline = {low * ft, glm::dvec2{high.x, low.y} * ft, high * ft,
                 glm::dvec2{low.x, high.y} * ft};
    p.edges.assign(4, eave(6));
    return p;
  };
  constexpr double cubic_foot = ft * ft * ft;
  model::RoofModel m;
  // Hip 40 x 24 ft at 6/12: 2304 ft3 over its eave (check value K01).
  m.parts = {part("main", {0, 0}, {40, 24}, 18)};
  // A shed roof far off, and a porch whose roof leans on the main wall well below the eave.
  m.parts.push_back(part("shed", {80, 0}, {92, 12}, 8));
  m.parts.push_back(part("porch", {10, -10}, {20, 0}, 9));
  m.parts.back().edges = {eave(6), gable(), gable(), gable()};
  m.parts.back().edges[2].kind = model::EdgeKind::wall;
  const auto s = raised(m);
  const auto volumes = volumes_of(solid::roof_body(s));
  // Pyramid 12 x 12 ft: 144 x 3 / 3; porch: a wedge 10 ft wide, 10 ft deep, 5 ft high.
  REQUIRE(volumes.at("roof") / cubic_foot == Approx(2304 + 144 + 250).epsilon(1e-7));

  // A dormer hangs together with the roof that it stands on: the body beneath goes through.
  model::RoofModel d;
  d.parts = {part("main", {0, 0}, {40, 24}, 8)};
  d.parts.push_back(part("dormer", {14, 2}, {22, 12}, 11));
  d.parts.back().edges = {gable(), eave(6), gable(), eave(6)};
  const auto dormered = raised(d);
  REQUIRE(volumes_of(solid::roof_body(dormered)).at("roof") ==
          Approx(solid::examine(solid::build(dormered).value()).volume_m3).epsilon(1e-9));
}

TEST_CASE("air space of a gable house over its plates") {
  model::RoofModel m = gabled(1 * ft);
  m.parts[0].heel_m = 6 * inch;
  const auto s = raised(m);
  const auto attic = attic::divide(m, s, framing::frame(m, s));
  const auto volumes = volumes_of(solid::compartment_bodies(s, attic.value()));
  REQUIRE(volumes.size() == 1);
  // The heel's box and the triangle of 8 ft on 24 ft.
  REQUIRE(volumes.at("attic/attic") / (ft * ft * ft) ==
          Approx(40 * (24 * 0.5 + 24 * 8 / 2)).epsilon(1e-9));
}

TEST_CASE("demo houses: deck, roof body and air spaces are sound, volumes as the attic has them") {
  std::size_t houses = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(RIDGEWARD_SOURCE_DIR "/models/houses")) {
    const auto read = model::read_file(entry.path().string());
    CAPTURE(entry.path().string());
    const model::RoofModel& m = read.value().model;
    const auto s = raised(m);
    volumes_of(solid::roof_body(s));
    const auto deck = solid::deck_bodies(m, s);
    REQUIRE(volumes_of(deck).size() == s.planes.size() + s.blind_decks.size());
    REQUIRE(deck.value().notes.empty());
    const auto attic = attic::divide(m, s, framing::frame(m, s));
    REQUIRE(attic.ok());
    const auto spaces = volumes_of(solid::compartment_bodies(s, attic.value()));
    std::size_t bodies = 0;
    for (const auto& space : attic.value().spaces) {
      if (space.volume_m3 > 0.0) {
        ++bodies;
        REQUIRE(spaces.at("attic/" + space.id) == Approx(space.volume_m3).epsilon(1e-6));
      }
    }
    REQUIRE(spaces.size() == bodies);
    ++houses;
  }
  REQUIRE(houses >= 9);
}

TEST_CASE("random houses of several parts: every body is sound") {
  const std::uint64_t seed = seed_or(577215);
  std::mt19937_64 rng(seed);
  const std::size_t cases = cases_or(36);
  std::size_t sheets = 0;
  std::size_t simpler = 0;
  std::size_t noted = 0;
  for (std::size_t i = 0; i < cases; ++i) {
    CAPTURE(seed, i);
    PartsChoice choice;
    choice.turn_step_deg = i % 3 == 0 ? 17.3 : (i % 3 == 1 ? 45.0 : 90.0);
    choice.offset_m = i % 5 == 0 ? 1e-6 * inch : 0.0;
    choice.overhang_m = i % 2 == 0 ? 0.0 : 0.4;
    choice.overlaid_share = i % 4 == 0 ? 0.5 : 0.0;
    const model::RoofModel m = random_parts(rng, choice);
    const auto raised = surface::raise(m);
    if (!raised) {
      continue;
    }
    const surface::Surface& s = raised.value();
    volumes_of(solid::roof_body(s));
    const auto deck = solid::deck_bodies(m, s);
    const auto sheet_m3 = volumes_of(deck);
    sheets += deck.value().all.size();
    simpler += deck.value().notes.size();
    for (const surface::Plane& plane : s.planes) {
      // No mitre takes or adds more than a strip as wide as the deck is thick times a few.
      const double whole = plane.area_m2 * m.parts[plane.part].deck_m;
      double around_m = 0.0;
      for (const surface::Loop& loop : plane.loops) {
        for (const surface::LoopStep& step : loop) {
          around_m += s.lines[step.line].length_m;
        }
      }
      const double t = m.parts[plane.part].deck_m;
      REQUIRE(std::abs(sheet_m3.at("deck/" + plane.id) - whole) <
              2 * t * t * around_m + 9 * t * t * t);
    }
    const auto attic = attic::divide(m, s, framing::frame(m, s));
    if (!attic) {
      continue;
    }
    const auto air = solid::compartment_bodies(s, attic.value());
    const auto spaces = volumes_of(air);
    const bool is_plain = air.value().notes.empty();
    noted += is_plain ? 0 : 1;
    for (const auto& space : attic.value().spaces) {
      CAPTURE(space.id);
      if (space.volume_m3 > 1e-6 && is_plain) {
        REQUIRE(spaces.at("attic/" + space.id) ==
                Approx(space.volume_m3).epsilon(1e-6).margin(1e-6));
      }
    }
  }
  CAPTURE(seed, simpler, sheets);
  REQUIRE(noted * 10 <= cases);      // overlaid parts at odd angles
  REQUIRE(simpler * 200 <= sheets);  // sheets cut square all around are rare
}
