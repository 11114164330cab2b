#include "panels/texts.hpp"

#include "support/houses.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ridgeward;
using panels::SelectionText;
using panels::TotalsText;
using panels::Verdict;
using units::Style;

namespace {

std::vector<std::string> values(const SelectionText& text, const std::string& key) {
  std::vector<std::string> found;
  for (const panels::Row& row : text.rows) {
    if (row.first == key) {
      found.push_back(row.second);
    }
  }
  return found;
}

TotalsText totals(const Assessment& house, Style style = Style::feet_inches) {
  const std::vector<TotalsText> texts = panels::totals_text(house, style);
  REQUIRE(texts.size() == 1);
  return texts.front();
}

Assessment sound_house() {
  Assessment house = test_support::wing_house();
  house.findings.clear();
  return house;
}

}  // namespace

TEST_CASE("totals say intake, exhaust, what is required and the balance") {
  const TotalsText text = totals(sound_house());
  CHECK(text.title == "Attic");
  // 0.24 m2 and 0.19 m2 in square inches.
  CHECK(text.intake == "372 in\u00b2");
  CHECK(text.exhaust == "295 in\u00b2");
  CHECK(text.has_share);
  CHECK(text.share == Approx(0.24 / 0.43));
  CHECK(text.verdict == Verdict::good);
  CHECK(text.intake_part + text.exhaust_part <= 1.0);
  CHECK(text.required_part < text.intake_part + text.exhaust_part);
  CHECK(totals(sound_house(), Style::metric).intake.find("cm\u00b2") != std::string::npos);
}

TEST_CASE("a roof without vents has no balance") {
  Assessment house = sound_house();
  house.vents.totals[CompartmentId(std::size_t{0})] = {};
  const TotalsText text = totals(house);
  CHECK_FALSE(text.has_share);
  CHECK(text.required_part > 0.5);
}

TEST_CASE("what is wrong in one compartment is not said of another") {
  Assessment house = sound_house();
  conflicts::Finding finding;
  finding.severity = conflicts::Severity::error;
  finding.message = "an error elsewhere";
  finding.compartment = CompartmentId(std::size_t{7});
  house.findings = {finding};
  CHECK(totals(house).verdict == Verdict::good);
  // Rafter spaces are told together.
  house.findings[0].others = {CompartmentId(std::size_t{0})};
  CHECK(totals(house).line == "an error elsewhere");
}

TEST_CASE("the worst thing is said first") {
  Assessment house = sound_house();
  conflicts::Finding finding;
  finding.severity = conflicts::Severity::warning;
  finding.message = "a warning";
  house.findings.push_back(finding);
  CHECK(totals(house).line == "a warning");
  CHECK(totals(house).verdict == Verdict::caution);
  codes::Test advice;
  advice.compartment = CompartmentId(std::size_t{0});
  advice.section = "advice";
  advice.words = "keep the balance";
  advice.is_advice = true;
  house.tests.tests.push_back(advice);
  CHECK(totals(house).line.find("keep the balance") != std::string::npos);
  finding.severity = conflicts::Severity::error;
  finding.message = "an error";
  house.findings.push_back(finding);
  CHECK(totals(house).line == "an error");
  codes::Test test = advice;
  test.is_advice = false;
  test.section = "R000.1";
  test.words = "Enough area.";
  // 300 in2 (1 in2 = 6.4516 cm2) of 360: in both units on paper, in one in the window.
  test.measured = 300 * 6.4516e-4;
  house.tests.required[CompartmentId(std::size_t{0})] = {300.0, 360 * 6.4516e-4};
  house.tests.tests.push_back(test);
  CHECK(totals(house).line ==
        "R000.1: Enough area. Measured 300 in\u00b2, needed at least 360 in\u00b2, 1/300 of the "
        "floor.");
  CHECK(
      totals(house, Style::metric).line ==
      "R000.1: Enough area. Measured 1 935 cm\u00b2, needed at least 2 323 cm\u00b2, 1/300 of the "
      "floor.");
  house.tests.tests.back().measure = codes::Measure::exhaust_below_top_m;
  house.tests.tests.back().measured = 1.0;
  house.tests.tests.back().bounds.most = 3 * units::foot_m;
  CHECK(totals(house).line.find("Measured 3' 3 3/8\", needed at most 3' 0\".") !=
        std::string::npos);
  CHECK(totals(house, Style::metric).line.find("'") == std::string::npos);
  CHECK(totals(house).verdict == Verdict::fault);
}

TEST_CASE("conditions of the reduced ratio and other compartments' tests are no fault") {
  Assessment house = sound_house();
  codes::Test test;
  test.compartment = CompartmentId(std::size_t{0});
  test.is_condition = true;
  house.tests.tests.push_back(test);
  test.is_condition = false;
  test.compartment = CompartmentId(std::size_t{1});
  house.tests.tests.push_back(test);
  CHECK(totals(house).verdict == Verdict::good);
}

TEST_CASE("a plane tells pitch, areas and every eave length") {
  const Assessment house = test_support::wing_house();
  scene::Picked picked;
  picked.plane = house.surface.plane_named("main/0");
  const SelectionText text = panels::selection_text(house, picked, Style::feet_inches);
  CHECK(text.title == "Plane main/0");
  CHECK(values(text, "Pitch").front().rfind("8/12", 0) == 0);
  // 3.85 m and 2.85 m.
  CHECK(values(text, "Eave") == std::vector<std::string>{"12' 7 5/8\"", "9' 4 1/4\""});
  CHECK(values(text, "Valley").size() == 2);
  CHECK(values(text, "Ridge").size() == 1);
  CHECK(values(text, "Slots") == std::vector<std::string>{"2 slots"});
  const SelectionText metric = panels::selection_text(house, picked, Style::metric);
  CHECK(values(metric, "Eave") == std::vector<std::string>{"3.850 m", "2.850 m"});
  CHECK(values(metric, "Pitch").front() == "33.7 deg");
}

TEST_CASE("a line tells its kind, true and plan length and its planes") {
  const Assessment house = test_support::wing_house();
  scene::Picked picked;
  picked.line = house.surface.line_named("main/0|wing/1");
  const SelectionText text = panels::selection_text(house, picked, Style::metric);
  CHECK(text.title == "Valley  main/0|wing/1");
  // The valley runs 2.95 m each way and rises 2.95 x 2/3 m.
  CHECK(values(text, "True length") == std::vector<std::string>{"4.612 m"});
  CHECK(values(text, "Plan length") == std::vector<std::string>{"4.172 m"});
  CHECK(values(text, "Beside").size() == 2);
}

TEST_CASE("nothing selected says nothing") {
  CHECK(panels::selection_text(test_support::hip_house(), {}, Style::metric).title.empty());
}

TEST_CASE("squares and degrees are set as people write them, names are left alone") {
  CHECK(panels::typeset("300 in2 of 1 500 ft2, 12 in2/ft") ==
        "300 in\u00b2 of 1 500 ft\u00b2, 12 in\u00b2/ft");
  CHECK(panels::typeset("20 m2, 425 m3/h at 14 F or -10 C.") ==
        "20 m\u00b2, 425 m\u00b3/h at 14 \u00b0F or -10 \u00b0C.");
  CHECK(panels::typeset("run in-2 on main/2, room2, plan C") ==
        "run in-2 on main/2, room2, plan C");
  CHECK(panels::titled("Intake", "run") == "Intake run");
  CHECK(panels::titled("Ceiling", "ceiling-2") == "Ceiling-2");
}

TEST_CASE("what was placed is told in a sentence") {
  Assessment before = test_support::wing_house();
  Assessment after = before;
  before.model.intake.clear();
  before.model.exhaust.clear();
  after.model.intake.resize(2);
  after.model.exhaust.resize(1);
  after.vents.totals = {};
  vents::CompartmentTotals totals;
  totals.intake_m2 = 300 * 6.4516e-4;
  totals.exhaust_m2 = 240 * 6.4516e-4;
  after.vents.totals.push_back(totals);
  // 300 / 540: 55.6 %.
  CHECK(panels::placed_words(before, after, Style::feet_inches) ==
        "2 runs of intake, 300 in\u00b2, and 1 exhaust vent, 240 in\u00b2: 56 % intake.");
  CHECK(panels::placed_words(after, after, Style::feet_inches).find("took the place of 3 vents") !=
        std::string::npos);
}

TEST_CASE("findings keep their numbers and their weight") {
  const auto texts = panels::findings_text(test_support::wing_house());
  REQUIRE(texts.size() == 3);
  CHECK(texts[0].number == 1);
  CHECK(texts[0].verdict == Verdict::fault);
  CHECK(texts[1].verdict == Verdict::caution);
  CHECK(texts[2].verdict == Verdict::remark);
  CHECK(texts[0].remedy == "End the slot at the rafter before it.");
}
