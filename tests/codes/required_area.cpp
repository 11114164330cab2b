#include "support/plans.hpp"
#include "support/small_roofs.hpp"
#include "support/worked.hpp"

#include <catch2/catch.hpp>

using namespace ridgeward;
using small_roofs::ft;
using small_roofs::in;
using tests::Worked;

namespace {

constexpr double in2 = in * in;

Approx near(double value) { return Approx(value).epsilon(1e-9); }

/// A gable of length x 30 ft with a ridge vent that gives `exhaust_in2` and intake of
/// `intake_in2`, both in sq in: 10 ft of either, with the products' figures set to suit.
Worked vented(double length, double exhaust_in2, double intake_in2, const codes::CodeSet& code,
              double width = 30.0, double pitch = 6.0) {
  model::RoofModel model = support::house(
      {{0, 0}, {length, 0}, {length, width}, {0, width}},
      {support::eave(pitch), support::gable(), support::eave(pitch), support::gable()});
  model::Catalogue catalogue = small_roofs::catalogue();
  catalogue.products["over-deck-10"].free_area_per_length_m = intake_in2 * in2 / (10 * ft);
  catalogue.products["over-deck-10"].slot.width_m = 6 * in;
  catalogue.products["ridge-12"].free_area_per_length_m = exhaust_in2 * in2 / (10 * ft);
  catalogue.products["ridge-12"].slot.width_m = 0.0;
  model::IntakeRun run = small_roofs::whole_eave("south", "main/0");
  run.whole = false;
  run.from_m = 4 * ft;
  run.to_m = 14 * ft;
  model.intake = {run};
  model::ExhaustVent vent = small_roofs::whole_ridge("top", "main/0|main/2");
  vent.whole = false;
  vent.from_m = 4 * ft;
  vent.to_m = 14 * ft;
  model.exhaust = {vent};
  return tests::worked(model, catalogue, code);
}

double required_in2(const Worked& w) {
  return w.tests.required[CompartmentId(0U)].required_m2 / in2;
}
double ratio(const Worked& w) { return w.tests.required[CompartmentId(0U)].ratio; }

/// A code with one condition, for the bounds alone.
codes::CodeSet one_condition(codes::Measure measure, codes::Bounds bounds) {
  codes::CodeSet code;
  code.id = "bare";
  codes::Rule rule;
  rule.id = "condition";
  rule.section = "1";
  rule.words = "words";
  rule.measure = measure;
  rule.bounds = bounds;
  code.conditions = {rule};
  return code;
}

}  // namespace

TEST_CASE("1 500 sq ft: 1 440 sq in at 1/150, 720 at 1/300") {
  const codes::CodeSet code = tests::code_set("us-irc-2012");
  const Worked plain = vented(50, 100, 100, code);
  CHECK(ratio(plain) == 150.0);
  CHECK(required_in2(plain) == near(1440.0));  // C01 [HOW-15]: 10.0 sq ft
  const Worked reduced = vented(50, 300, 420, code);
  CHECK(ratio(reduced) == 300.0);
  CHECK(required_in2(reduced) == near(720.0));  // C02: 5.0 sq ft
  CHECK(reduced.test("required_area").holds);
  CHECK(reduced.test("required_area").measured == near(720 * in2));
  CHECK(reduced.test("required_area").section == "R806.2");
}

TEST_CASE("the high share is a share of what is required") {
  const codes::CodeSet code = tests::code_set("us-irc-2012");
  // C03: 720 sq in required; high 288 / 287 / 360 / 361 pass / fail / pass / fail.
  CHECK(vented(50, 288, 432, code).test("high_share").holds);
  CHECK_FALSE(vented(50, 287, 432, code).test("high_share").holds);
  CHECK(vented(50, 360, 432, code).test("high_share").holds);
  CHECK_FALSE(vented(50, 361, 432, code).test("high_share").holds);
  CHECK(vented(50, 288, 432, code).test("high_share").measured == near(0.40));
  // C03: more vent in total than required must not fail by itself.
  const Worked ample = vented(50, 360, 1200, code);
  CHECK(ample.test("high_share").holds);
  CHECK(ample.test("required_area").holds);
  CHECK(ratio(ample) == 300.0);
}

TEST_CASE("the text of 2009: 50 to 80 per cent high, 36 in above the eave vents") {
  const codes::CodeSet code = tests::code_set("us-irc-2009");
  CHECK(vented(50, 360, 360, code).test("high_share").holds);  // C04: 360 to 576 sq in
  CHECK(vented(50, 576, 144, code).test("high_share").holds);
  CHECK_FALSE(vented(50, 577, 143, code).test("high_share").holds);
  CHECK_FALSE(vented(50, 359, 361, code).test("high_share").holds);
  const codes::Test above = vented(50, 360, 360, code).test("exhaust_above_eaves");
  CHECK(above.holds);
  // Ridge 7 1/2 ft over the eave; the upper line of a slot 6 in wide is 12 1/2 in up.
  CHECK(above.measured == near(7.5 * ft - 12.5 * in / std::sqrt(5.0)));
  CHECK_FALSE(vented(50, 360, 360, code, 12.0).test("exhaust_above_eaves").holds);  // 3 ft of rise
}

TEST_CASE("the exhaust may lie 36.0 in below the top, not 36.1") {
  // C05: pass / fail. A box vent set that far down plumb from a ridge 7 1/2 ft over the plate.
  for (const double below : {36.0, 36.1}) {
    model::RoofModel model =
        support::house({{0, 0}, {50, 0}, {50, 30}, {0, 30}},
                       {support::eave(6), support::gable(), support::eave(6), support::gable()});
    model::ExhaustVent box;
    box.id = "box";
    box.product = "box-50";
    box.plane = "main/2";
    const double level = 15 * ft - 2.0 * below * in;
    box.at = {20 * ft, level * std::sqrt(5.0) / 2.0};
    model.exhaust = {box};
    const Worked w = tests::worked(model, small_roofs::catalogue(), tests::code_set("us-irc-2012"));
    const codes::Test& place = w.test("exhaust_below_top");
    CHECK(place.measured / in == Approx(below).epsilon(1e-9));
    CHECK(place.holds == (below < 36.05));
    CHECK(place.is_condition);
  }
}

TEST_CASE("one or more of the conditions, or all of them") {
  codes::CodeSet any = one_condition(codes::Measure::high_share_of_required, {0.4, 0.5});
  any.conditions.push_back(any.conditions[0]);
  any.conditions[1].id = "other";
  any.conditions[1].measure = codes::Measure::low_share_of_required;
  any.reduced_needs_all = false;
  CHECK(ratio(vented(50, 300, 10, any)) == 300.0);
  CHECK(ratio(vented(50, 10, 10, any)) == 150.0);
  any.reduced_needs_all = true;
  CHECK(ratio(vented(50, 300, 10, any)) == 150.0);
  CHECK(ratio(vented(50, 300, 300, any)) == 300.0);
  any.reduced_ratio = 0.0;
  CHECK(ratio(vented(50, 300, 300, any)) == 150.0);
}

TEST_CASE("at least one inch between insulation and deck at the vent") {
  // C07, R806.3 [SAUK]. Heel 12 in, 6 in wall, 8/12, 1/2 in deck.
  model::RoofModel model = support::house(
      {{0, 0}, {40, 0}, {40, 28}, {0, 28}},
      {support::eave(8, 1.5 * ft), support::gable(), support::eave(8, 1.5 * ft), support::gable()});
  model.parts[0].heel_m = 12 * in;
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  model::Ceiling ceiling;
  ceiling.id = "attic";
  ceiling.outline = model.parts[0].outline;
  ceiling.height_m = 0.0;
  ceiling.insulation_m = 14 * in;
  model.ceilings = {ceiling};
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  // Over the inner face the deck's top is 12 + 4 in over the plate; 2 in over the insulation plumb.
  const double cosine = 12.0 / std::sqrt(208.0);
  const Worked w = tests::worked(model, small_roofs::catalogue(), code);
  CHECK(w.test("space_over_insulation").measured / in == Approx(2 * cosine - 0.5).epsilon(1e-9));
  CHECK(w.test("space_over_insulation").holds);
  CHECK(w.finding("little_over_insulation") == nullptr);
  model.ceilings[0].insulation_m = 15 * in;
  const Worked thick = tests::worked(model, small_roofs::catalogue(), code);
  CHECK_FALSE(thick.test("space_over_insulation").holds);
  REQUIRE(thick.finding("little_over_insulation") != nullptr);
  CHECK(thick.finding("little_over_insulation")->slot == SlotId(0U));
  model.ceilings[0].baffles = true;
  const Worked baffled = tests::worked(model, small_roofs::catalogue(), code);
  CHECK(baffled.test("space_over_insulation").holds);
  CHECK(baffled.test("space_over_insulation").measured == near(1 * in));
}

TEST_CASE("without insulation the room over it is not tested, and its section is the set's own") {
  // A heel of 1/2 in leaves nothing over the plate: that is found, but no test of the code.
  model::RoofModel model = support::house(
      {{0, 0}, {40, 0}, {40, 28}, {0, 28}},
      {support::eave(8, 1.5 * ft), support::gable(), support::eave(8, 1.5 * ft), support::gable()});
  model.parts[0].heel_m = 0.5 * in;
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  model.exhaust = {small_roofs::whole_ridge("top", "main/0|main/2")};
  for (const char* set : {"us-irc-2021", "de-din-4108-3"}) {
    const codes::CodeSet code = tests::code_set(set);
    const Worked w = tests::worked(model, small_roofs::catalogue(), code);
    const codes::Test& test = w.test("space_over_insulation");
    CHECK_FALSE(test.is_tested);
    CHECK_FALSE(test.fails());
    CHECK(test.measured_text == "no insulation is given");
  }
  // C07, R806.3: an inch. DIN asks for 20 mm, so an inch is none of its own.
  CHECK(codes::section_of_room(tests::code_set("us-irc-2021"), 1 * in) == "R806.3");
  CHECK(codes::section_of_room(tests::code_set("de-din-4108-3"), 1 * in) == "common practice");
  CHECK(codes::section_of_room(tests::code_set("de-din-4108-3"), 0.02) == "DIN 4108-3");
}

TEST_CASE("every test tells what it measured and what is needed, also with nothing there") {
  model::RoofModel model =
      support::house({{0, 0}, {40, 0}, {40, 28}, {0, 28}},
                     {support::eave(8), support::gable(), support::eave(8), support::gable()});
  const codes::CodeSet code = tests::code_set("us-irc-2021");
  const Worked bare = tests::worked(model, small_roofs::catalogue(), code);
  REQUIRE(bare.tests.tests.size() == 1 + code.conditions.size() + code.rules.size());
  for (const codes::Test& test : bare.tests.tests) {
    CHECK_FALSE(test.holds);
    CHECK_FALSE(test.needed.empty());
    CHECK_FALSE(test.words.empty());
    CHECK(std::isfinite(test.measured));
  }
  CHECK(ratio(bare) == 150.0);
}

TEST_CASE("each compartment is tested by itself") {
  // C08 [SAUK]: "each separate space". The vents of the west do nothing for the east.
  model::RoofModel model =
      support::house({{0, 0}, {50, 0}, {50, 30}, {0, 30}},
                     {support::eave(6), support::gable(), support::eave(6), support::gable()});
  model.dividers = {{"fire-wall", {30 * ft, 0}, {30 * ft, 30 * ft}}};
  model.intake = {small_roofs::whole_eave("south", "main/0")};
  model::ExhaustVent vent = small_roofs::whole_ridge("top", "main/0|main/2");
  vent.whole = false;
  vent.from_m = 4 * ft;
  vent.to_m = 25 * ft;
  model.exhaust = {vent};
  const Worked w = tests::worked(model, small_roofs::catalogue(), tests::code_set("us-irc-2012"));
  REQUIRE(w.tests.required.size() == 2);
  int served = 0;
  for (const CompartmentId id : w.attic.compartments.ids()) {
    const bool is_west = w.attic.compartments[id].floor_area_m2 > 800 * ft * ft;
    CHECK((w.vents.totals[id].intake_m2 > 0.0) == is_west);
    served += w.vents.totals[id].exhaust_m2 > 0.0 ? 1 : 0;
  }
  CHECK(served == 1);
  CHECK(w.finding("compartment_without_openings") != nullptr);
  CHECK(w.finding("dead_bay_slot") != nullptr);
}
