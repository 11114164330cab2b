// Required and free areas: check-values 2 and 3, ids C* and N*. Those that need a shaped roof stand
// in tests/codes, tests/conflicts and tests/vents with the same ids.
#include "units/area.hpp"

#include "published/measured.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using namespace ridgeward::tests;

namespace {

constexpr double in2 = units::square_inch_m2;
constexpr double ft2 = units::square_foot_m2;

/// A gable over length x width feet, worked against a code.
Worked attic_of(double length, double width, const codes::CodeSet& code, double pitch = 6.0,
                std::size_t boxes = 0) {
  model::RoofModel model = support::house(
      {{0, 0}, {length, 0}, {length, width}, {0, width}},
      {support::eave(pitch), support::gable(), support::eave(pitch), support::gable()});
  for (std::size_t i = 0; i < boxes; ++i) {
    model::ExhaustVent box;
    box.id = "box-" + std::to_string(i);
    box.product = "box-50";
    box.plane = "main/2";
    box.at = {(3.0 + 5.0 * static_cast<double>(i)) * ft, 0.4 * width * ft};
    model.exhaust.push_back(box);
  }
  return worked(model, small_roofs::catalogue(), code);
}

double required_ft2(const Worked& w) {
  return w.tests.required[CompartmentId(0U)].required_m2 / ft2;
}

/// One ratio, no reduction.
codes::CodeSet plain(double ratio) {
  codes::CodeSet code;
  code.id = "plain";
  code.ratio = ratio;
  code.reduced_ratio = 0.0;
  return code;
}

Approx near(double value) { return Approx(value).epsilon(1e-9); }

}  // namespace

TEST_CASE("required areas of worked examples") {
  CHECK(required_ft2(attic_of(50, 30, plain(150))) == near(10.0));          // C01 [HOW-15]
  CHECK(required_ft2(attic_of(50, 30, plain(300))) == near(5.0));           // C02
  CHECK(required_ft2(attic_of(40, 30, plain(300))) == near(4.0));           // C22, N04 [IN]
  CHECK(required_ft2(attic_of(30, 30, plain(300))) * 144 == near(432.0));   // N01 [HOW-900]
  CHECK(required_ft2(attic_of(50, 40, plain(150))) * 144 == near(1920.0));  // N08 [HOW-2K]
  CHECK(required_ft2(attic_of(78.6, 50, plain(150))) == Approx(26.2).margin(0.005));  // C24
  CHECK(required_ft2(attic_of(78.6, 50, plain(300))) == Approx(13.1).margin(0.005));  // C24
}

TEST_CASE("ratios of history, in sq in a sq ft") {
  // N12 [ROSE].
  CHECK(required_ft2(attic_of(40, 30, plain(288))) * 144 / 1200 == near(0.500));
  CHECK(required_ft2(attic_of(40, 30, plain(576))) * 144 / 1200 == near(0.250));
  CHECK(required_ft2(attic_of(40, 30, plain(300))) * 144 / 1200 == near(0.480));
  // N13: area / 2 sq in each for inlet and outlet, against half of 1/150: 4.17 % high.
  CHECK(600.0 / (required_ft2(attic_of(40, 30, plain(150))) * 144 / 2) ==
        Approx(1.0417).margin(5e-5));
}

TEST_CASE("N02 [HOW-12]: 288 sq in of high vents take six of 50 sq in") {
  codes::CodeSet half = plain(300);
  half.rules = {{"half_high",
                 "N02",
                 "half of the area is high",
                 codes::Measure::high_share_of_required,
                 {0.5, std::nullopt},
                 {},
                 false,
                 false}};
  CHECK_FALSE(attic_of(40, 30, half, 6, 5).test("half_high").holds);
  CHECK(attic_of(40, 30, half, 6, 6).test("half_high").holds);
  CHECK(attic_of(40, 30, half, 6, 6).vents.totals[CompartmentId(0U)].exhaust_m2 == near(300 * in2));
}

TEST_CASE("C23, C24 [NM]: 94.3 ft of a strip of 10 sq in a foot make half of 13.1 sq ft") {
  model::RoofModel model =
      support::house({{0, 0}, {110, 0}, {110, 30}, {0, 30}},
                     {support::eave(6), support::gable(), support::eave(6), support::gable()});
  model::IntakeRun run = small_roofs::whole_eave("south", "main/0");
  run.whole = false;
  run.from_m = 5 * ft;
  run.to_m = run.from_m + 94.3 * ft;
  model.intake = {run};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  const Worked w = worked(model, small_roofs::catalogue());
  const double free_ft2 = w.vents.slots[SlotId(0U)].free_area_m2 / ft2;
  CHECK(free_ft2 == Approx(13.1 / 2).margin(0.005));       // C24
  CHECK(free_ft2 / 94.3 == Approx(0.069).margin(0.0005));  // C23
}

TEST_CASE("C30, C31: 120 m2 of ceiling, from 1 in 6 and below it") {
  const codes::CodeSet code = code_set("ca-nbc-9.19.1");
  model::RoofModel model =
      support::house({{0, 0}, {12, 0}, {12, 10}, {0, 10}},
                     {support::eave(6), support::gable(), support::eave(6), support::gable()}, 1.0);
  CHECK(
      worked(model, small_roofs::catalogue(), code).tests.required[CompartmentId(0U)].required_m2 ==
      near(0.400));
  model.parts[0].edges[0].pitch = model.parts[0].edges[2].pitch = units::Pitch::from_tangent(0.16);
  CHECK(
      worked(model, small_roofs::catalogue(), code).tests.required[CompartmentId(0U)].required_m2 ==
      near(0.800));
  model.parts[0].edges[0].pitch = model.parts[0].edges[2].pitch =
      units::Pitch::from_tangent(1.0 / 6.0);
  CHECK(
      worked(model, small_roofs::catalogue(), code).tests.required[CompartmentId(0U)].required_m2 ==
      near(0.400));
}

TEST_CASE("C05: the IBC of 2018 asks for the same 3 ft as the IRC") {
  const codes::CodeSet ibc = code_set("us-ibc-2018");
  const Worked w = attic_of(40, 30, ibc, 6, 6);
  bool has_place = false;
  for (const codes::Test& test : w.tests.tests) {
    if (test.test == "exhaust_below_top") {
      has_place = true;
      CHECK(test.needed.find("3' 0\"") != std::string::npos);
    }
  }
  CHECK(has_place);
}
