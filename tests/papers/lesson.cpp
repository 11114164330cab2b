// The lesson of all demo houses: every step is there, its figures are the assessment's, mistakes do
// what they say, answers are right when worked out another way.
#include "papers/lesson.hpp"

#include "papers/assessed.hpp"
#include "papers/json.hpp"
#include "papers/lesson_sheet.hpp"
#include "papers/what_if.hpp"
#include "units/area.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <regex>
#include <set>
#include <string>
#include <vector>

using namespace ridgeward;
using papers::Mistake;
using papers::Topic;
using tests::assessed;
using tests::demo;
using units::Style;

namespace {

std::vector<Assessment> all_houses() {
  std::vector<Assessment> all;
  for (const auto& entry :
       std::filesystem::directory_iterator(RIDGEWARD_SOURCE_DIR "/models/houses")) {
    all.push_back(assessed(entry.path()));
  }
  REQUIRE(all.size() >= 12);
  return all;
}

const std::vector<Assessment>& houses() {
  static const std::vector<Assessment> all = all_houses();
  return all;
}

model::Catalogue catalogue() {
  return model::read_catalogue_file(RIDGEWARD_SOURCE_DIR "/models/catalogues/default.json").value();
}

std::vector<std::string> areas_in(const std::string& text) {
  static const std::regex pattern(R"re(\d[\d,]*(\.\d+)? (in2|ft2|m2)|\d+( \d{3})* cm2)re");
  std::vector<std::string> found;
  for (std::sregex_iterator i(text.begin(), text.end(), pattern), end; i != end; ++i) {
    found.push_back(i->str());
  }
  return found;
}

/// Every number of the assessment as an area of people, and the areas in its sentences.
void add_areas(const nlohmann::json& json, std::set<std::string>& known) {
  if (json.is_number()) {
    for (const Style style : {Style::feet_inches, Style::metric}) {
      known.insert(units::show_free_area(json.get<double>(), style));
      known.insert(units::show_area(json.get<double>(), style));
    }
  } else if (json.is_string()) {
    for (const std::string& area : areas_in(json.get<std::string>())) {
      known.insert(area);
    }
  } else if (json.is_structured()) {
    for (const auto& item : json) {
      add_areas(item, known);
    }
  }
}

Assessment with(const Assessment& own, Mistake mistake) {
  const papers::Variant variant = papers::varied(own, catalogue(), {mistake});
  auto result = assess(variant.model, variant.catalogue, own.code);
  REQUIRE(result.ok());
  return std::move(result).value();
}

bool offers(const Assessment& house, Mistake mistake) {
  const auto all = papers::what_ifs_of(house, catalogue());
  return std::any_of(all.begin(), all.end(), [&](const papers::WhatIf& one) {
    return one.mistake == mistake && !one.title.empty() && !one.does.empty();
  });
}

bool finds(const Assessment& house, const std::string& kind) {
  return std::any_of(house.findings.begin(), house.findings.end(),
                     [&](const conflicts::Finding& finding) { return finding.kind == kind; });
}

double intake_of(const Assessment& house) {
  double sum = 0.0;
  for (const vents::Slot& slot : house.vents.slots) {
    sum += slot.free_area_m2;
  }
  return sum;
}

/// Live bays with an open slot.
std::size_t fed(const Assessment& house) {
  std::set<BayId> bays;
  for (const vents::Slot& slot : house.vents.slots) {
    for (const vents::SlotBay& bay : slot.bays) {
      if (bay.live && bay.free_area_m2 > 0.0) {
        bays.insert(bay.bay);
      }
    }
  }
  return bays.size();
}

const papers::Question& question(const std::vector<papers::Question>& all,
                                 const std::string& words) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const papers::Question& one) {
    return one.asks.find(words) != std::string::npos;
  });
  REQUIRE(found != all.end());
  return *found;
}

}  // namespace

TEST_CASE("lesson: every house has every step, with words, cautions and places on its roof") {
  for (const Assessment& house : houses()) {
    CAPTURE(house.model.name);
    const auto steps = papers::lesson_of(house, Style::feet_inches);
    REQUIRE(steps.size() == papers::topic_count);
    for (std::size_t i = 0; i < steps.size(); ++i) {
      CAPTURE(steps[i].title);
      CHECK(steps[i].topic == static_cast<Topic>(i));
      CHECK_FALSE(steps[i].says.empty());
      CHECK_FALSE(steps[i].cautions.empty());
      for (const std::string& text : steps[i].says) {
        CHECK_FALSE(text.empty());
      }
      for (const BayId bay : steps[i].sight.bays) {
        CHECK(house.framing.bays.has(bay));
      }
    }
    // The work is told with the slot's own figures.
    CHECK_FALSE(steps[4].sight.bands.empty());
    CHECK_FALSE(steps[6].sight.bands.empty());
  }
}

TEST_CASE("lesson: every area in the steps is one of the assessment") {
  for (const Assessment& house : houses()) {
    CAPTURE(house.model.name);
    std::set<std::string> known;
    add_areas(nlohmann::json::parse(papers::to_json(house)), known);
    std::size_t count = 0;
    for (const Style style : {Style::feet_inches, Style::metric}) {
      const CompartmentId space = papers::largest_compartment(house);
      const vents::CompartmentTotals& totals = house.vents.totals[space];
      known.insert(units::show_free_area(totals.intake_m2 + totals.exhaust_m2, style));
      for (const papers::LessonStep& step : papers::lesson_of(house, style)) {
        for (const std::string& text : step.says) {
          for (const std::string& area : areas_in(text)) {
            CAPTURE(text, area);
            CHECK(known.contains(area));
            ++count;
          }
        }
      }
    }
    CHECK(count > 10);
  }
}

TEST_CASE("lesson: shares and air changes of the demo house, by hand from its assessment") {
  const Assessment house = assessed(demo("sorrel-lane"));
  const auto steps = papers::lesson_of(house, Style::feet_inches);
  const auto text_of = [&](Topic topic) {
    std::string text;
    for (const std::string& one : steps[static_cast<std::size_t>(topic)].says) {
      text += one + "\n";
    }
    return text;
  };
  // 469 in2 of intake and 360 in2 of exhaust: 56.6 %. 1 696 ft2 / 300 = 5.653 ft2 = 814 in2.
  CHECK(text_of(Topic::balance).find("57 % is intake") != std::string::npos);
  CHECK(text_of(Topic::code).find("1/300: 814 in2") != std::string::npos);
  const airflow::CaseAir* winter = house.airflow.first(airflow::CaseKind::winter);
  REQUIRE(winter != nullptr);
  CHECK(text_of(Topic::why).find(fmt::format("{:.1f} air changes", winter->air_changes_per_h)) !=
        std::string::npos);
  CHECK(text_of(Topic::place).find("opens onto 11 bays, 11 of them live") != std::string::npos);
  CHECK(text_of(Topic::lines).find("lower line 6 1/2\", upper line 8\"") != std::string::npos);
  CHECK(text_of(Topic::cut).find("1 1/2\"") != std::string::npos);
}

TEST_CASE("what if: a bay that is stopped up takes its own share of the intake and no more") {
  for (const Assessment& house : houses()) {
    CAPTURE(house.model.name);
    REQUIRE(offers(house, Mistake::bay));
    const Assessment after = with(house, Mistake::bay);
    CHECK(fed(after) + 1 == fed(house));
    // The slot is cut as planned; what lies over the one bay is all that is lost.
    REQUIRE(after.vents.slots.size() == house.vents.slots.size());
    double share = 0.0;
    for (const SlotId id : house.vents.slots.ids()) {
      const vents::Slot& planned = house.vents.slots[id];
      const vents::Slot& slot = after.vents.slots[id];
      CHECK(slot.start_m == planned.start_m);
      CHECK(slot.end_m == planned.end_m);
      REQUIRE(slot.bays.size() == planned.bays.size());
      for (std::size_t i = 0; i < slot.bays.size(); ++i) {
        share += planned.bays[i].live && !slot.bays[i].live ? planned.bays[i].free_area_m2 : 0.0;
      }
    }
    CHECK(share > 0.0);
    CHECK(intake_of(house) - intake_of(after) == Approx(share));
    // And it is found: a slot over a dead bay (our own conflict kind, common practice, no source).
    const auto finds = [](const Assessment& one) {
      return std::count_if(one.findings.begin(), one.findings.end(),
                           [](const auto& finding) { return finding.kind == "dead_bay_slot"; });
    };
    CHECK(finds(after) > 0);
  }
}

TEST_CASE("what if: insulation, blocking and snow shut the intake that they say they shut") {
  std::size_t blocked = 0;
  std::size_t insulated = 0;
  for (const Assessment& house : houses()) {
    CAPTURE(house.model.name);
    // Without ceilings in the model nothing is known of its insulation.
    REQUIRE(offers(house, Mistake::insulation) == !house.model.ceilings.empty());
    if (!house.model.ceilings.empty()) {
      ++insulated;
      CHECK(intake_of(with(house, Mistake::insulation)) < 0.5 * intake_of(house));
    }
    REQUIRE(offers(house, Mistake::snow));
    const Assessment snowed = with(house, Mistake::snow);
    CHECK(intake_of(snowed) == 0.0);
    CHECK(snowed.airflow.first(airflow::CaseKind::ice) != nullptr);
    if (offers(house, Mistake::blocking)) {
      ++blocked;
      const Assessment after = with(house, Mistake::blocking);
      for (const vents::Slot& slot : after.vents.slots) {
        CHECK((slot.is_blocked || !slot.is_over_overhang));
      }
      CHECK(intake_of(after) < intake_of(house));
    }
  }
  CHECK(blocked > 6);
  CHECK(insulated > 8);
}

TEST_CASE("what if: too much exhaust and a second kind are found as such") {
  for (const Assessment& house : houses()) {
    CAPTURE(house.model.name);
    const CompartmentId space = papers::largest_compartment(house);
    REQUIRE(offers(house, Mistake::exhaust));
    const Assessment much = with(house, Mistake::exhaust);
    CHECK(much.vents.totals[space].exhaust_m2 >= 1.5 * house.vents.totals[space].intake_m2 - 1e-9);
    CHECK(finds(much, "exhaust_above_intake"));
    CHECK_FALSE(finds(house, "exhaust_above_intake"));
    if (offers(house, Mistake::mixed)) {
      CHECK(finds(with(house, Mistake::mixed), "exhaust_kinds_mixed"));
      CHECK_FALSE(papers::compared(house, with(house, Mistake::mixed), Style::metric).says.empty());
    }
  }
  CHECK(offers(assessed(demo("sorrel-lane")), Mistake::mixed));
}

TEST_CASE("what if: before and after stand side by side, and the air answers") {
  const Assessment house = assessed(demo("sorrel-lane"));
  const papers::Outcome outcome =
      papers::compared(house, with(house, Mistake::snow), Style::feet_inches);
  const auto row = [&](const std::string& what) {
    const auto found =
        std::find_if(outcome.changes.begin(), outcome.changes.end(),
                     [&](const papers::Change& change) { return change.what == what; });
    REQUIRE(found != outcome.changes.end());
    return *found;
  };
  CHECK(row("Intake").before == "469 in2");
  CHECK(row("Intake").after == "0 in2");
  CHECK(row("Exhaust").before == row("Exhaust").after);
  CHECK(row("Share of intake").after == "0 %");
  CHECK(row("Air from the rooms, winter").after == "100 %");
  CHECK(std::any_of(outcome.says.begin(), outcome.says.end(), [](const papers::Remark& one) {
    return one.words.find("from the rooms") != std::string::npos;
  }));
  // As planned against as planned: nothing.
  const papers::Outcome none = papers::compared(house, house, Style::metric);
  CHECK(none.says.empty());
  for (const papers::Change& change : none.changes) {
    CHECK_FALSE(change.is_changed());
  }
}

TEST_CASE("quiz: choices differ, one is right, each is explained") {
  for (const Assessment& house : houses()) {
    for (const Style style : {Style::feet_inches, Style::metric}) {
      CAPTURE(house.model.name);
      const auto all = papers::questions_of(house, style);
      CHECK(all.size() >= 6);
      for (const papers::Question& one : all) {
        CAPTURE(one.asks);
        REQUIRE(one.right < one.choices.size());
        CHECK(one.choices.size() >= 2);
        CHECK(one.choices[one.right].text == one.answer);
        std::set<std::string> texts;
        for (const papers::Choice& choice : one.choices) {
          CHECK(texts.insert(choice.text).second);
          CHECK_FALSE(choice.says.empty());
        }
      }
    }
  }
}

TEST_CASE("quiz: answers worked out another way") {
  for (const Assessment& house : houses()) {
    CAPTURE(house.model.name);
    const auto all = papers::questions_of(house, Style::feet_inches);
    const CompartmentId space = papers::largest_compartment(house);
    const double floor_ft2 = house.attic.compartments[space].floor_area_m2 / 0.09290304;
    const double required_in2 = floor_ft2 * 144.0 / house.tests.required[space].ratio;
    // Parsed from the text: grouped in thousands, to the nearest square inch.
    std::string answer = question(all, "How much net free area").answer;
    std::erase(answer, ',');
    CHECK(std::stod(answer) == Approx(required_in2).margin(0.51));
    const vents::CompartmentTotals& totals = house.vents.totals[space];
    CHECK(std::stod(question(all, "Which share is intake").answer) ==
          Approx(100 * totals.intake_m2 / (totals.intake_m2 + totals.exhaust_m2)).margin(0.51));
  }
  // 8 in 12: 14.42 and 18.76 (NAVEDTRA 14044, rafter table of the framing square).
  const auto sorrel = papers::questions_of(assessed(demo("sorrel-lane")), Style::feet_inches);
  CHECK(question(sorrel, "How long is a common rafter").answer == "14.42 in");
  CHECK(question(sorrel, "And a hip or valley").answer == "18.76 in");
  // 16 in on centre at 8/12: 16 x 14.42 / 12 = 19 1/4 in (the same table: 19.23).
  CHECK(question(sorrel, "By how much does each jack").answer == "1' 7 1/4\"");
  CHECK(question(sorrel, "Where is the upper line").answer == "8\"");
}

TEST_CASE("lesson: the book has a table a mistake, all of it can be read") {
  const Assessment house = assessed(demo("plain-gable"));
  papers::LessonExtras extras;
  for (const papers::WhatIf& one : papers::what_ifs_of(house, catalogue())) {
    extras.what_ifs.push_back(
        {one, papers::compared(house, with(house, one.mistake), Style::metric)});
  }
  const papers::Drawing book = papers::lesson_book(house, extras, Style::metric, papers::Paper::a4);
  CHECK(papers::overlapping_texts(book).empty());
  CHECK(papers::texts_off_page(book).empty());
  std::size_t titles = 0;
  for (const papers::Page& page : book.pages) {
    for (const papers::Text& text : page.texts) {
      titles += static_cast<std::size_t>(
          std::count_if(extras.what_ifs.begin(), extras.what_ifs.end(),
                        [&](const auto& one) { return one.what_if.title == text.text; }));
    }
  }
  CHECK(titles == extras.what_ifs.size());
}
