// The assessment as JSON: equal bytes for equal assessments, and the stages' own figures.
#include "papers/json.hpp"

#include "assess.hpp"
#include "codes/code_set.hpp"
#include "model/catalogue.hpp"
#include "model/read.hpp"
#include "papers/summary.hpp"
#include "papers/told_tests.hpp"

#include "support/json_schema.hpp"
#include "support/program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <string>
#include <vector>

using namespace ridgeward;
using namespace ridgeward::support;
using Json = nlohmann::json;

namespace {

const std::string models = std::string(RIDGEWARD_SOURCE_DIR) + "/models";
const std::vector<std::string> houses{"sorrel-lane", "plain-gable", "heron-court"};

Assessment assessment_of(const std::string& house) {
  const auto read = model::read_file(demo_house(house));
  const auto catalogue = model::read_catalogue_file(models + "/catalogues/default.json");
  const auto code = codes::read_code_set_file(models + "/codes/us-irc-2021.json");
  REQUIRE(read.ok());
  REQUIRE(catalogue.ok());
  REQUIRE(code.ok());
  auto assessment = assess(read.value().model, catalogue.value(), code.value());
  REQUIRE(assessment.ok());
  return std::move(assessment).value();
}

double sum_of(const Json& list, const char* key) {
  double sum = 0.0;
  for (const Json& item : list) {
    sum += item[key].get<double>();
  }
  return sum;
}

double sum_of_kind(const Json& lines, const char* kind) {
  double sum = 0.0;
  for (const Json& line : lines) {
    sum += line["kind"] == kind ? line["length_m"].get<double>() : 0.0;
  }
  return sum;
}

/// Where two JSON values differ by more than `share` of themselves: numbers within, all else alike.
void same_within(const Json& a, const Json& b, double share, const std::string& where) {
  INFO(where);
  if (a.is_number() && b.is_number()) {
    REQUIRE(a.get<double>() == Approx(b.get<double>()).epsilon(share).margin(share));
  } else if (a.is_structured()) {
    REQUIRE(a.size() == b.size());
    const Json flat_a = a.flatten();
    const Json flat_b = b.flatten();
    REQUIRE(flat_a.size() == flat_b.size());
    for (const auto& [key, value] : flat_a.items()) {
      REQUIRE(flat_b.contains(key));
      if (!value.is_structured()) {
        same_within(value, flat_b[key], share, where + key);
      }
    }
  } else {
    REQUIRE(a == b);
  }
}

}  // namespace

TEST_CASE("equal models give equal bytes, on every paper") {
  for (const std::string& house : houses) {
    INFO(house);
    const Assessment a = assessment_of(house);
    const Assessment b = assessment_of(house);
    CHECK(papers::to_json(a) == papers::to_json(b));
    CHECK(papers::to_json(a, -1) == papers::to_json(b, -1));
    for (const units::Style style : {units::Style::feet_inches, units::Style::metric}) {
      CHECK(papers::to_summary(a, style) == papers::to_summary(b, style));
    }
  }
}

TEST_CASE("in one line or indented it is the same JSON") {
  const Assessment a = assessment_of("sorrel-lane");
  const std::string line = papers::to_json(a, -1);
  CHECK(line.find('\n') == line.size() - 1);
  CHECK(Json::parse(line) == Json::parse(papers::to_json(a)));
}

TEST_CASE("the JSON holds the stages' figures to the last bit") {
  for (const std::string& house : houses) {
    INFO(house);
    const Assessment a = assessment_of(house);
    const Json found = Json::parse(papers::to_json(a));
    REQUIRE(found["planes"].size() == a.surface.planes.size());
    for (const PlaneId id : a.surface.planes.ids()) {
      const Json& plane = found["planes"][id.value];
      CHECK(plane["id"] == a.surface.planes[id].id);
      CHECK(plane["area_m2"].get<double>() == a.surface.planes[id].area_m2);
      CHECK(plane["eave_m"].get<double>() == a.takeoff.planes[id].eave_m);
    }
    REQUIRE(found["slots"].size() == a.vents.slots.size());
    for (const SlotId id : a.vents.slots.ids()) {
      const Json& slot = found["slots"][id.value];
      CHECK(slot["free_area_m2"].get<double>() == a.vents.slots[id].free_area_m2);
      CHECK(slot["bays"].size() == a.vents.slots[id].bays.size());
      CHECK(slot["crossings"].size() == a.vents.slots[id].crossings.size());
    }
    REQUIRE(found["bays"].size() == a.framing.bays.size());
    REQUIRE(found["members"].size() == a.framing.members.size());
    REQUIRE(found["exhausts"].size() == a.vents.exhausts.size());
    REQUIRE(found["conflicts"].size() == a.findings.size());
  }
}

TEST_CASE("what is not tested on paper neither holds nor fails in the JSON") {
  std::size_t untested = 0;
  for (const std::string& house : houses) {
    const Assessment a = assessment_of(house);
    std::vector<const codes::Test*> tests;
    for (const CompartmentId id : a.attic.compartments.ids()) {
      for (const codes::Test& test : a.tests.tests) {
        if (test.compartment == id) {
          tests.push_back(&test);
        }
      }
    }
    std::size_t at = 0;
    const Json found = Json::parse(papers::to_json(a));
    for (const Json& compartment : found["compartments"]) {
      for (const Json& test : compartment["tests"]) {
        const std::string paper = papers::told(a, *tests.at(at++), units::Style::metric).verdict;
        CHECK(test["holds"].is_null() == (paper == "not tested"));
        CHECK((test["holds"] == true) == (paper == "holds"));
        untested += test["holds"].is_null() ? 1 : 0;
      }
    }
    CHECK(at == tests.size());
  }
  CHECK(untested > 0);
}

TEST_CASE("parts and totals of the JSON agree with each other") {
  for (const std::string& house : houses) {
    INFO(house);
    const Json found = Json::parse(papers::to_json(assessment_of(house)));
    const Json& totals = found["totals"];
    const auto total = [&](const char* key) { return totals[key].get<double>(); };
    CHECK(sum_of(found["planes"], "area_m2") == Approx(total("area_m2")).epsilon(1e-12));
    CHECK(sum_of(found["planes"], "plan_area_m2") == Approx(total("plan_area_m2")).epsilon(1e-12));
    CHECK(sum_of(found["planes"], "eave_m") == Approx(total("eave_m")).epsilon(1e-12));
    CHECK(sum_of(found["planes"], "rake_m") == Approx(total("rake_m")).epsilon(1e-12));
    // Two planes meet in each ridge, hip and valley.
    for (const char* kind : {"ridge", "hip", "valley"}) {
      const std::string key = std::string(kind) + "_m";
      INFO(key);
      CHECK(sum_of(found["planes"], key.c_str()) == Approx(2 * total(key.c_str())));
      CHECK(sum_of_kind(found["lines"], kind) == Approx(total(key.c_str())));
    }
    CHECK(sum_of_kind(found["lines"], "eave") == Approx(total("eave_m")));
    CHECK(sum_of_kind(found["lines"], "rake") == Approx(total("rake_m")));
    CHECK(sum_of(found["slots"], "free_area_m2") == Approx(total("intake_m2")));
    CHECK(sum_of(found["exhausts"], "free_area_m2") == Approx(total("exhaust_m2")));
    CHECK(sum_of(found["compartments"], "required_m2") == Approx(total("required_m2")));
    for (const Json& slot : found["slots"]) {
      double live = 0.0;
      for (const Json& bay : slot["bays"]) {
        live += bay["live"].get<bool>() ? bay["free_area_m2"].get<double>() : 0.0;
        CHECK(bay["open_length_m"].get<double>() <= bay["share_m"].get<double>() + 1e-9);
      }
      CHECK(slot["free_area_m2"].get<double>() == Approx(live));
      const double length_m = slot["end_m"].get<double>() - slot["start_m"].get<double>();
      CHECK(sum_of(slot["bays"], "open_length_m") <= length_m + 1e-9);
    }
  }
}

TEST_CASE("every name in the JSON points to something in it") {
  for (const std::string& house : houses) {
    INFO(house);
    const Json found = Json::parse(papers::to_json(assessment_of(house)));
    const auto ids = [&](const char* list) {
      std::set<std::string> all;
      for (const Json& item : found[list]) {
        CHECK(all.insert(item["id"]).second);  // no id twice
      }
      return all;
    };
    const auto planes = ids("planes");
    const auto lines = ids("lines");
    const auto members = ids("members");
    const auto bays = ids("bays");
    const auto spaces = ids("compartments");
    ids("slots");
    ids("exhausts");
    const auto points_into = [](const std::set<std::string>& all, const Json& name) {
      return name.is_null() || all.count(name.get<std::string>()) == 1;
    };
    for (const Json& line : found["lines"]) {
      for (const Json& plane : line["planes"]) {
        CHECK(points_into(planes, plane));
      }
    }
    for (const Json& bay : found["bays"]) {
      CHECK(points_into(planes, bay["plane"]));
      CHECK(points_into(lines, bay["foot"]));
      CHECK(points_into(lines, bay["head"]));
      CHECK(points_into(spaces, bay["compartment"]));
    }
    for (const Json& slot : found["slots"]) {
      CHECK(points_into(planes, slot["plane"]));
      CHECK(points_into(spaces, slot["compartment"]));
      for (const Json& bay : slot["bays"]) {
        CHECK(points_into(bays, bay["bay"]));
      }
      for (const Json& crossing : slot["crossings"]) {
        CHECK(points_into(members, crossing["member"]));
      }
    }
  }
}

TEST_CASE("a model drawn in another unit gives the same answer") {
  const auto read = model::read_file(demo_house("plain-gable"));
  REQUIRE(read.ok());
  const auto catalogue = model::read_catalogue_file(models + "/catalogues/default.json");
  const auto code = codes::read_code_set_file(models + "/codes/us-irc-2021.json");
  const Json in_feet = Json::parse(
      papers::to_json(assess(read.value().model, catalogue.value(), code.value()).value()));
  for (const units::LengthUnit unit :
       {units::LengthUnit::in, units::LengthUnit::mm, units::LengthUnit::m}) {
    model::RoofModel other = read.value().model;
    other.unit = unit;
    const auto again = model::read(model::write(other));
    REQUIRE(again.ok());
    const Json found = Json::parse(
        papers::to_json(assess(again.value().model, catalogue.value(), code.value()).value()));
    for (const char* key : {"planes", "lines", "bays", "slots", "exhausts", "totals"}) {
      same_within(found[key], in_feet[key], 1e-9, key);
    }
  }
}

TEST_CASE("faults are one line of JSON, whatever bytes they quote") {
  const Faults faults{{"json.syntax", "/a~1b", "no \"number\"\nhere", "cure \xff"},
                      {"file.missing", "", "\xc3", ""}};
  const std::string text = papers::faults_to_json(faults);
  CHECK(text.find('\n') == text.size() - 1);
  const Json found = Json::parse(text);
  REQUIRE(found["faults"].size() == 2);
  CHECK(found["ridgeward"] == 1);
  CHECK(found["faults"][0]["code"] == "json.syntax");
  CHECK(found["faults"][0]["where"] == "/a~1b");
  CHECK(found["faults"][0]["what"] == "no \"number\"\nhere");
}

TEST_CASE("the summary fits a terminal with the longest names a model may have") {
  Assessment a = assessment_of("sorrel-lane");
  a.model.name = std::string(300, 'n');
  for (surface::Plane& plane : a.surface.planes) {
    plane.id = std::string(25, 'p') + plane.id;
  }
  for (vents::Slot& slot : a.vents.slots) {
    slot.id = std::string(40, 's') + slot.id;
    slot.product = std::string(60, 'q');
  }
  for (vents::Exhaust& exhaust : a.vents.exhausts) {
    exhaust.id = std::string(40, 'e') + exhaust.id;
  }
  for (const std::size_t columns : {60U, 80U, 100U}) {
    const std::string text = papers::to_summary(a, units::Style::feet_inches, columns);
    for (const std::string& line : lines_of(text)) {
      CAPTURE(columns, line);
      // A single word may be longer than the line; nothing else.
      const bool is_one_word = line.find(' ', line.find_first_not_of(' ')) == std::string::npos;
      CHECK((line.size() <= columns || is_one_word));
    }
  }
}
