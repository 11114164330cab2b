// All sheets of all demo houses: read back with pdftotext (Debian poppler-utils), every length held
// against the JSON, boxes of texts compared.
#include "papers/sheets.hpp"

#include "papers/assessed.hpp"
#include "papers/cairo.hpp"
#include "papers/crew_steps.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/inspector_sheet.hpp"
#include "papers/json.hpp"
#include "papers/lesson_sheet.hpp"
#include "papers/marks.hpp"
#include "papers/plan_drawing.hpp"
#include "papers/sheet.hpp"
#include "papers/summary.hpp"
#include "units/area.hpp"

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
#include <fstream>
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
  const std::string path = fmt::format("{}/sheet-test.pdf", RIDGEWARD_BUILD_DIR);
  std::ofstream(path, std::ios::binary) << bytes;
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

}  // namespace

namespace {

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
