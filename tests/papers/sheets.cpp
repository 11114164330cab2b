// All sheets of all demo houses: read back with pdftotext (Debian poppler-utils), every length held
// against the JSON, boxes of texts compared.
#include "papers/sheets.hpp"

#include "airflow/words.hpp"
#include "base/polygon.hpp"
#include "papers/air.hpp"
#include "papers/assessed.hpp"
#include "papers/cairo.hpp"
#include "papers/crew_steps.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/inspector_sheet.hpp"
#include "papers/json.hpp"
#include "papers/lesson_sheet.hpp"
#include "papers/marks.hpp"
#include "papers/plan_drawing.hpp"
#include "papers/plan_names.hpp"
#include "papers/section_drawing.hpp"
#include "papers/sheet.hpp"
#include "papers/summary.hpp"
#include "papers/told_tests.hpp"
#include "units/area.hpp"

#include "support/program.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <regex>
#include <set>

using namespace ridgeward;
using papers::Drawing;
using papers::Paper;
using tests::assessed;

namespace {

std::vector<std::filesystem::path> houses() {
  std::vector<std::filesystem::path> all;
  for (const auto& entry :
       std::filesystem::directory_iterator(RIDGEWARD_SOURCE_DIR "/models/houses")) {
    all.push_back(entry.path());
  }
  REQUIRE(all.size() >= 8);
  return all;
}

std::string text_of_pdf(const std::string& bytes) {
  const support::Folder folder;  // of its own: other tests read sheets at the same time
  const std::string path = folder.write("sheet.pdf", bytes);
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> pipe(
      popen(fmt::format("pdftotext -layout '{}' -", path).c_str(), "r"), pclose);
  REQUIRE(pipe != nullptr);
  std::string text;
  std::array<char, 4096> some{};
  for (std::size_t n = 0; (n = std::fread(some.data(), 1, some.size(), pipe.get())) > 0;) {
    text.append(some.data(), n);
  }
  return text;
}

/// Lengths as people write them in a text, in feet and inches and in metric.
std::vector<std::string> lengths_in(const std::string& text) {
  static const std::regex pattern(
      R"re((\d+' )?(\d+ )?\d+/\d+"|(\d+' )?\d+"|\d+\.\d{3} m(?![\w/])|\d+ mm(?!\w))re");
  std::vector<std::string> found;
  if (text.find('"') != std::string::npos || text.find(" m") != std::string::npos) {
    for (std::sregex_iterator i(text.begin(), text.end(), pattern), end; i != end; ++i) {
      found.push_back(i->str());
    }
  }
  return found;
}

/// Every number of the assessment as a length of people, and the lengths in its sentences.
void add_lengths(const nlohmann::json& json, std::set<std::string>& known) {
  if (json.is_number()) {
    const double m = std::abs(json.get<double>());
    known.insert(units::show(m, units::Style::feet_inches));
    known.insert(units::show(m, units::Style::metric));
    known.insert(fmt::format("{:.3f} m", m));  // columns keep to metres
  } else if (json.is_string()) {
    for (const std::string& length : lengths_in(json.get<std::string>())) {
      known.insert(length);
    }
  } else if (json.is_structured()) {
    for (const auto& item : json) {
      add_lengths(item, known);
    }
  }
}

std::vector<std::string> unknown_lengths(const std::string& text,
                                         const std::set<std::string>& known) {
  std::vector<std::string> all = lengths_in(text);
  std::erase_if(all, [&](const std::string& length) { return known.contains(length); });
  return all;
}

/// Spaces and line ends of the PDF's layout do not count.
std::string without_gaps(std::string text) {
  std::erase_if(text, [](unsigned char c) { return std::isspace(c) != 0; });
  return text;
}

/// What each kind of sheet has to say about a house.
void check_contents(const Assessment& a, const std::string& text, units::Style style) {
  const auto holds = [&](const std::string& words) {
    CAPTURE(words);
    REQUIRE(text.find(without_gaps(words)) != std::string::npos);
  };
  for (const CompartmentId id : a.attic.compartments.ids()) {
    holds("Tests of " + a.attic.compartments[id].id);
    holds(units::show_free_area(a.tests.required[id].required_m2, style));
  }
  for (const papers::Run& run : papers::runs_of(a)) {
    holds("Intake " + run.id + " on plane " + a.surface.planes[run.plane].id);
    for (const std::string& step : papers::steps_of(a, run, style)) {
      holds(step.substr(0, 30));
    }
    for (const SlotId slot : run.slots) {
      holds(units::show_free_area(a.vents.slots[slot].free_area_m2, style));
      for (const papers::RafterMark& mark : papers::marks_of(a, a.vents.slots[slot]).rafters) {
        holds(units::show(mark.from_left_m, style));
      }
    }
  }
  for (const takeoff::SectionRun& strip : a.takeoff.sections) {
    for (const takeoff::Piece& piece : strip.pieces) {
      holds(units::show(piece.length_m, style));
    }
  }
  for (const takeoff::OrderLine& line : a.takeoff.order) {
    holds(papers::quantity_words(line, style));
  }
  for (const papers::RidgeRun& run : papers::ridge_runs_of(a)) {
    holds("Exhaust " + run.id + " along");
  }
  for (const PlaneId id : a.surface.planes.ids()) {
    holds(units::show_area(a.takeoff.planes[id].area_m2, style));
  }
  for (const papers::Question& question : papers::questions_of(a, style)) {
    holds(question.asks.substr(0, 40));
    holds(question.answer);
  }
  for (const std::string& caution : papers::cautions()) {
    holds(caution.substr(0, 40));
  }
  REQUIRE((text.find("NOTinorder") != std::string::npos) == a.is_at_fault());
}

}  // namespace

TEST_CASE(
    "every sheet of every demo house: no texts overlap or leave the page, each length is in "
    "the JSON, the PDF says it all") {
  for (const std::filesystem::path& house : houses()) {
    const Assessment a = assessed(house);
    std::set<std::string> known;
    add_lengths(nlohmann::json::parse(papers::to_json(a)), known);
    for (const auto& [style, paper] : {std::pair{units::Style::feet_inches, Paper::letter},
                                       std::pair{units::Style::metric, Paper::a4}}) {
      const Drawing set = papers::sheets(a, papers::sheet_names(), style, paper);
      CAPTURE(house.string(), papers::overlapping_texts(set), papers::texts_off_page(set));
      REQUIRE(papers::overlapping_texts(set).empty());
      REQUIRE(papers::texts_off_page(set).empty());
      const auto pdf = papers::to_pdf(set);
      REQUIRE(pdf.ok());
      const std::string text = text_of_pdf(pdf.value());
      // One form feed a page.
      REQUIRE(static_cast<std::size_t>(std::count(text.begin(), text.end(), '\f')) ==
              set.pages.size());
      check_contents(a, without_gaps(text), style);
      // Sums of the order, sizes in its items' names, the airflow's sentences in the other unit.
      for (const takeoff::OrderLine& line : papers::together_of(a.takeoff.order)) {
        known.insert(papers::quantity_words(line, style));
        for (const std::string& length : lengths_in(papers::item_words(line.item, style))) {
          known.insert(length);
        }
      }
      for (const std::string& words : papers::air_words(a, style)) {
        for (const std::string& length : lengths_in(words)) {
          known.insert(length);
        }
      }
      for (const papers::Page& page : set.pages) {
        for (const papers::Text& one : page.texts) {
          CAPTURE(one.text);
          REQUIRE(unknown_lengths(one.text, known) == std::vector<std::string>{});
        }
      }
    }
  }
}

TEST_CASE("a length that the JSON does not hold is found") {
  std::set<std::string> known;
  add_lengths(nlohmann::json::parse(R"({"a": 1.0, "b": ["eave 2' 6 1/2\" long"]})"), known);
  CHECK(unknown_lengths("from 1.000 m to 3' 3 3/8\", 2' 6 1/2\"", known).empty());
  CHECK(unknown_lengths("4' 0\", 3/4\", 12 mm, 2.500 m", known).size() == 4);
}

TEST_CASE("overlapping texts are found") {
  Drawing drawing;
  drawing.pages.emplace_back();
  papers::Text one;
  one.text = "slot";
  one.at = {20, 20};
  papers::Text other = one;
  other.at = {22, 21};
  drawing.pages[0].texts = {one, other};
  REQUIRE(papers::overlapping_texts(drawing).size() == 1);
  drawing.pages[0].texts[1].at = {20, 30};
  REQUIRE(papers::overlapping_texts(drawing).empty());
  drawing.pages[0].texts[1].at = {-2, 30};
  REQUIRE(papers::texts_off_page(drawing).size() == 1);
}

TEST_CASE("slopes are told in degrees where lengths are metric, else as rise in 12") {
  const Assessment a = assessed(tests::demo("sorrel-lane"));
  const std::regex in_12("[0-9]/12([^0-9]|$)");
  const std::regex in_degrees("[0-9] deg");
  for (const char* name : {"crew", "estimator", "lesson"}) {
    CAPTURE(name);
    const auto text_in = [&](units::Style style) {
      return text_of_pdf(papers::to_pdf(papers::sheets(a, {name}, style, Paper::a4)).value());
    };
    const std::string metric = text_in(units::Style::metric);
    CHECK_FALSE(std::regex_search(metric, in_12));
    CHECK(metric.find("33.7 deg") != std::string::npos);  // atan(8 / 12)
    const std::string feet = text_in(units::Style::feet_inches);
    CHECK_FALSE(std::regex_search(feet, in_degrees));
    CHECK(feet.find("8/12") != std::string::npos);
  }
}

TEST_CASE("equal assessments give equal bytes") {
  const Assessment a = assessed(houses().front());
  const auto sheet = [&] {
    return papers::to_pdf(papers::inspector_sheet(a, units::Style::metric, Paper::a4)).value();
  };
  REQUIRE(sheet() == sheet());
}

TEST_CASE("a set holds the sheets asked for, in its own order") {
  const Assessment a = assessed(houses().front());
  const auto pages = [&](const std::vector<std::string>& names) {
    return papers::sheets(a, names, units::Style::metric, Paper::a4).pages.size();
  };
  std::size_t sum = 0;
  for (const std::string& name : papers::sheet_names()) {
    REQUIRE(pages({name}) >= 1);
    sum += pages({name});
  }
  REQUIRE(pages(papers::sheet_names()) == sum);
  const Drawing set = papers::sheets(a, {"inspector", "crew"}, units::Style::metric, Paper::letter);
  REQUIRE(set.pages.front().texts.front().text.find("for the crew") != std::string::npos);
}

TEST_CASE("the plan is true to scale") {
  const Assessment a = assessed(houses().front());
  const papers::Frame frame{{10, 10}, {180, 200}};
  for (const units::Style style : {units::Style::feet_inches, units::Style::metric}) {
    const papers::PlanScale scale = papers::scale_to_fit(a, frame, style);
    // "1/8 in = 1 ft (1:96)": the figure after the colon is the ratio.
    const double ratio = std::stod(scale.words.substr(scale.words.rfind(':') + 1));
    REQUIRE(1000.0 / scale.mm_per_m == Approx(ratio).epsilon(1e-9));
    papers::Page page;
    papers::draw_plan(a, scale, frame, style, page);
    // Each eave is drawn as a line of its length in plan, over the scale.
    for (const surface::Line& line : a.surface.lines) {
      if (line.kind != surface::LineKind::eave) {
        continue;
      }
      const bool is_drawn =
          std::any_of(page.paths.begin(), page.paths.end(), [&](const papers::Path& path) {
            return path.loops.size() == 1 && path.loops[0].size() == 2 &&
                   std::abs(glm::length(path.loops[0][1] - path.loops[0][0]) * ratio / 1000 -
                            line.plan_length_m) < 1e-9;
          });
      CAPTURE(line.id);
      REQUIRE(is_drawn);
    }
  }
}

TEST_CASE("words wrap within the width, whatever their length") {
  for (const char* words :
       {"short", "a paragraph of several words that does not fit into one line of the column",
        "averyveryverylongwordthatfitsintonolineatallandhastobecutsomewhere",
        "Öhöäüß ßßßßßßßßßßßß"}) {
    const std::string text = words;
    std::string joined;
    for (const std::string& line : papers::wrapped_lines(text, 30.0, 3.0, false)) {
      REQUIRE(papers::text_width_mm(line, 3.0, false) <= 30.0);
      joined += line;
    }
    std::string without_spaces = text;
    std::erase(without_spaces, ' ');
    std::erase(joined, ' ');
    REQUIRE(joined == without_spaces);
  }
}

TEST_CASE("the summary says what is bought, how it is cut, and how long the order is") {
  for (const char* name : {"sorrel-lane", "plover-hall"}) {
    const Assessment a = assessed(tests::demo(name));
    std::string text = papers::to_summary(a, units::Style::feet_inches);
    // Lines are wrapped: the words are what counts.
    text = std::regex_replace(text, std::regex("\\s+"), " ");
    INFO(text);
    for (const takeoff::Purchase& one : a.takeoff.purchases) {
      std::size_t pieces = 0;
      for (const takeoff::SectionRun& run : a.takeoff.sections) {
        pieces += run.product == one.product ? run.pieces.size() : 0;
      }
      const auto feet = [](double m) { return units::show(m, units::Style::feet_inches); };
      CHECK(text.find(fmt::format("{}: {} sections of {}", one.product, one.bought,
                                  feet(one.section_m))) != std::string::npos);
      CHECK(text.find(fmt::format("{} laid in {} pieces", feet(one.laid_m), pieces)) !=
            std::string::npos);
      CHECK(text.find(feet(one.waste_m) + " left over") != std::string::npos);
    }
    CHECK(text.find(fmt::format("{} lines in the order", a.takeoff.order.size())) !=
          std::string::npos);
  }
}

namespace {

/// In plan, of what is seen of a plane.
polygon::Loops plan_of(const Assessment& a, PlaneId id) {
  polygon::Loops loops;
  for (const surface::Loop& loop : a.surface.planes[id].loops) {
    loops.emplace_back();
    for (const glm::dvec3& corner : surface::corners(a.surface, loop)) {
      loops.back().emplace_back(corner);
    }
  }
  return loops;
}

double height_at(const surface::Plane& plane, glm::dvec2 p) {
  const glm::dvec3 n = plane.frame.normal;
  return plane.frame.origin.z - glm::dot(glm::dvec2(n), p - glm::dvec2(plane.frame.origin)) / n.z;
}

glm::dvec2 middle_of(const papers::Text& text) {
  glm::dvec2 sum{0.0};
  for (const glm::dvec2 corner : papers::box_of(text)) {
    sum += corner / 4.0;
  }
  return sum;
}

/// The bold texts of a page that say just this.
std::vector<papers::Text> bold(const papers::Page& page, const std::string& words) {
  std::vector<papers::Text> found;
  std::copy_if(page.texts.begin(), page.texts.end(), std::back_inserter(found),
               [&](const auto& one) { return one.is_bold && one.text == words; });
  return found;
}

const papers::Frame plan_frame{{15, 60}, {186, 195}};

}  // namespace

TEST_CASE("every plane is named on the plan, on itself or by a letter of the key") {
  for (const std::filesystem::path& house : houses()) {
    const Assessment a = assessed(house);
    const units::Style style = units::Style::feet_inches;
    const papers::PlanScale scale = papers::scale_to_fit(a, plan_frame, style);
    papers::Page page;
    papers::draw_plan(a, scale, plan_frame, style, page);
    for (const PlaneId id : a.surface.planes.ids()) {
      const surface::Plane& plane = a.surface.planes[id];
      if (!plane.cricket.empty()) {
        continue;
      }
      CAPTURE(house.string(), plane.id);
      const std::string line = plane.id + "  " + units::show_pitch(plane.pitch, style);
      std::vector<papers::Text> names = bold(page, line);
      const std::vector<papers::Text> alone = bold(page, plane.id);
      names.insert(names.end(), alone.begin(), alone.end());
      const auto keyed = std::find_if(page.texts.begin(), page.texts.end(), [&](const auto& one) {
        return !one.is_bold && one.text == line;
      });
      if (names.empty() && keyed != page.texts.end()) {
        // The letter before it in the key, and once on the roof.
        REQUIRE(keyed != page.texts.begin());
        REQUIRE(bold(page, std::prev(keyed)->text).size() == 2);
        continue;
      }
      REQUIRE(names.size() == 1);
      // Where roofs lie one above the other the name belongs to the upper one.
      const glm::dvec2 at = scale.from(middle_of(names[0]));
      for (const PlaneId other : a.surface.planes.ids()) {
        if (other != id && polygon::contains(plan_of(a, other), at)) {
          REQUIRE(height_at(a.surface.planes[other], at) < height_at(plane, at));
        }
      }
      for (const glm::dvec2 corner : papers::box_of(names[0])) {
        REQUIRE(polygon::contains(plan_of(a, id), scale.from(corner)));
      }
    }
  }
}

TEST_CASE("no label of a plan covers a slot or a vent, and each of them is named") {
  for (const std::filesystem::path& house : houses()) {
    const Assessment a = assessed(house);
    const papers::PlanScale scale = papers::scale_to_fit(a, plan_frame, units::Style::feet_inches);
    papers::Page page;
    papers::draw_plan(a, scale, plan_frame, units::Style::feet_inches, page);
    std::vector<std::pair<glm::dvec3, glm::dvec3>> symbols;
    for (const vents::Slot& slot : a.vents.slots) {
      symbols.emplace_back(slot.from, slot.to);
    }
    for (const vents::Exhaust& vent : a.vents.exhausts) {
      symbols.emplace_back(vent.from, vent.to);
    }
    constexpr int steps = 200;
    for (const papers::Text& text : page.texts) {
      const bool is_mark = text.is_bold && std::isdigit(static_cast<unsigned char>(text.text[0]));
      polygon::Loop box = papers::box_of(text);
      for (const auto& [from, to] : symbols) {
        for (int k = 0; k <= steps && !is_mark; ++k) {
          const glm::dvec2 p = scale.at(glm::dvec2(from + (to - from) * (1.0 * k / steps)));
          CAPTURE(house.string(), text.text);
          REQUIRE_FALSE(polygon::contains(box, p));
        }
      }
    }
    for (const papers::OpeningName& name : papers::opening_names(a)) {
      CAPTURE(house.string(), name.text);
      CHECK(std::any_of(page.texts.begin(), page.texts.end(),
                        [&](const auto& one) { return one.text == name.text; }));
    }
  }
}

TEST_CASE("a large roof fills its plan: turned where that lets it be larger") {
  const Assessment a = assessed(tests::demo("quarry-rise"));
  const papers::PlanScale scale = papers::scale_to_fit(a, plan_frame, units::Style::feet_inches);
  CHECK(scale.is_turned);
  const glm::dvec2 p{3.0, 4.0};
  CHECK(glm::length(scale.from(scale.at(p)) - p) < 1e-12);
  // Turned, not mirrored: going left from a way leads left on the page too (its y runs down).
  const glm::dvec2 east = scale.along({1.0, 0.0});
  const glm::dvec2 north = scale.along({0.0, 1.0});
  CHECK(east.x * north.y - east.y * north.x == Approx(-1.0));
}

TEST_CASE("what an inspector reads of a slot's place is what the crew's tape reads") {
  const Assessment a = assessed(tests::demo("quarry-rise"));
  const units::Style feet = units::Style::feet_inches;
  for (const vents::Slot& slot : a.vents.slots) {
    const papers::SlotMarks marks = papers::marks_of(a, slot);
    CHECK(marks.end_from_left_m <= marks.eave_m + 1e-9);
    CHECK(papers::place_words(a, slot, feet) ==
          units::show(marks.start_from_left_m, feet) + " to " +
              units::show(marks.end_from_left_m, feet) + " from the left, " + marks.left_hook);
  }
  // By hand: this plane's eave starts beyond the wall's corner that the model counts from.
  CHECK(std::any_of(a.vents.slots.begin(), a.vents.slots.end(), [&](const vents::Slot& slot) {
    return std::abs(papers::marks_of(a, slot).start_from_left_m - slot.start_m) > 1.0;
  }));
}

TEST_CASE("room over insulation is not tested where none is given; tests are counted one way") {
  for (const char* name : {"heron-court", "plain-gable", "tern-cottage", "quarry-rise"}) {
    const Assessment a = assessed(tests::demo(name));
    const papers::TestCount count = papers::count_tests(a);
    CAPTURE(name, papers::count_words(count));
    CHECK(count.code + count.practice == a.tests.tests.size());
    std::size_t untested = 0;
    for (const codes::Test& test : a.tests.tests) {
      const papers::ToldTest told = papers::told(a, test, units::Style::metric);
      const bool is_bare = a.attic.compartments[test.compartment].insulation_m <= 0.0;
      const bool is_room = test.measure == codes::Measure::space_over_insulation_m;
      CHECK((std::string(told.verdict) == "not tested") == (is_bare && is_room));
      CHECK(test.is_tested != (is_bare && is_room));
      untested += is_bare && is_room ? 1 : 0;
      CHECK(told.measured.find('"') == std::string::npos);  // metric alone
      CHECK((told.asks.find("from memory") != std::string::npos) == test.from_memory);
    }
    CHECK(count.untested == untested);
    const std::string verdict = papers::verdict_words(a);
    CHECK((verdict.find("from memory") != std::string::npos) == (count.from_memory > 0));
  }
  CHECK(papers::count_words({6, 5, 1, 2, 0}) ==
        "5 of 6 tests of the code hold, 1 is not tested; 2 more are common practice");
}

TEST_CASE("the verdict names the ratio that it stands on, and what no model tells") {
  // The hall's openings do not meet the conditions of 1/300: R806.2 then asks for 1/150.
  const Assessment hall = assessed(tests::demo("plover-hall"));
  CHECK_FALSE(hall.is_at_fault());
  CHECK(papers::verdict_words(hall).find("holds at 1/150 (the conditions of 1/300") !=
        std::string::npos);
  // IRC 2021 R806.2: in zones 6 to 8 the reduction also asks for a vapor retarder.
  Assessment lane = assessed(tests::demo("sorrel-lane"));
  CHECK(papers::verdict_words(lane).find("every test of the code holds and no conflict") !=
        std::string::npos);
  CHECK(papers::verdict_words(lane).find("retarder") == std::string::npos);
  lane.model.site.climate_zone = "7";
  CHECK(papers::verdict_words(lane).find("provided that: In climate zone 7 1/300 also asks") !=
        std::string::npos);
  lane.model.site.climate_zone.clear();
  CHECK(papers::verdict_words(lane).find("No climate zone is given") != std::string::npos);
}

TEST_CASE("the air that comes in and goes out weighs the same") {
  for (const char* name : {"plain-gable", "quarry-rise"}) {
    const Assessment a = assessed(tests::demo(name));
    const airflow::CaseAir& noon = *a.airflow.first(airflow::CaseKind::summer);
    // By the ideal gas law at one pressure: density goes with 1 / absolute temperature; what leaves
    // has the temperature of its space, what comes up that of the rooms.
    double in = 0.0;
    double out = 0.0;
    for (std::size_t i = 0; i < noon.openings.size(); ++i) {
      const airflow::Way& way = a.airflow.openings[i];
      const double flow = noon.openings[i].flow_m3s;
      const bool is_leak = way.role == airflow::Role::leak;
      const double space_c = noon.spaces[way.compartment].air_c;
      const double outside_c = is_leak ? noon.conditions.inside_c : noon.conditions.outside_c;
      (flow > 0.0 ? in : out) += std::abs(flow) / (273.15 + (flow > 0.0 ? outside_c : space_c));
    }
    CAPTURE(name, papers::balance_words(noon, a.airflow, units::Style::feet_inches));
    CHECK(in == Approx(out).epsilon(0.01));
    CHECK(
        papers::balance_words(noon, a.airflow, units::Style::feet_inches).find("weigh the same") !=
        std::string::npos);
  }
}

TEST_CASE("the airflow's sentences name each intake once") {
  const Assessment a = assessed(tests::demo("tern-cottage"));
  for (const std::string& words : papers::air_words(a, units::Style::feet_inches)) {
    const std::size_t first = words.find("front/1");
    CAPTURE(words);
    CHECK((first == std::string::npos || words.find("front/1", first + 1) == std::string::npos));
  }
}

TEST_CASE("the order all together: one line an item, the same sums and the same money") {
  model::RoofModel model = tests::house(tests::demo("quarry-rise"));
  model.prices = {{"over-deck-10", 20.0}, {"box-50", 9.5}};
  const Assessment a = assessed(model);
  const std::vector<takeoff::OrderLine> together = papers::together_of(a.takeoff.order);
  double sum = 0.0;
  std::set<std::string> items;
  for (const takeoff::OrderLine& line : together) {
    CHECK(items.insert(line.item + line.unit).second);
    sum += line.total_price.value_or(0.0);
  }
  CHECK(together.size() < a.takeoff.order.size() / 4);
  CHECK(sum == Approx(a.takeoff.price.sum));
  CHECK(papers::item_words("hand nails 3 in", units::Style::metric) == "hand nails 76 mm");
  CHECK(papers::item_words("underlayment strip 18 in", units::Style::metric) ==
        "underlayment strip 457 mm");
  CHECK(papers::item_words("drip edge", units::Style::metric) == "drip edge");
}

TEST_CASE("a heading goes to the next page with what follows it") {
  papers::Sheet sheet("t", "f", Paper::letter);
  sheet.space(sheet.room_mm() - 24.0);
  sheet.heading("Alone?");
  sheet.table({{"a", 1.0}}, {{std::string("one two three four five ") + std::string(900, 'x')}});
  const Drawing drawing = sheet.take();
  REQUIRE(drawing.pages.size() == 2);
  const auto is_there = [&](const papers::Page& page) {
    return std::any_of(page.texts.begin(), page.texts.end(),
                       [](const auto& text) { return text.text == "Alone?"; });
  };
  CHECK_FALSE(is_there(drawing.pages[0]));
  CHECK(is_there(drawing.pages[1]));
}

TEST_CASE("a standard wind is told in miles an hour where lengths are feet") {
  const Assessment a = assessed(tests::demo("plain-gable"));
  const auto wind =
      std::find_if(a.airflow.cases.begin(), a.airflow.cases.end(),
                   [](const airflow::CaseAir& one) { return one.kind == airflow::CaseKind::wind; });
  REQUIRE(wind != a.airflow.cases.end());
  REQUIRE(wind->conditions.wind_ms == Approx(4.0));
  // 1 mph is 0.44704 m/s: 8.95 mph.
  CHECK(airflow::case_words(*wind, units::Style::feet_inches).substr(0, 16) == "wind 9 mph from ");
  CHECK(airflow::case_words(*wind, units::Style::metric) == wind->conditions.name);
}
