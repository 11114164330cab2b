// The inspector's sheet and the plan: read back with pdftotext (Debian poppler-utils), measured.
#include "assess.hpp"
#include "model/read.hpp"
#include "papers/cairo.hpp"
#include "papers/inspector_sheet.hpp"
#include "papers/plan_drawing.hpp"
#include "papers/sheet.hpp"
#include "units/area.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <array>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>

using namespace ridgeward;
using papers::Drawing;
using papers::Paper;

namespace {

codes::CodeSet code_set_of(const model::RoofModel& model) {
  auto set = codes::read_code_set_file(
      fmt::format("{}/models/codes/{}.json", RIDGEWARD_SOURCE_DIR, model.site.code));
  REQUIRE(set.ok());
  return std::move(set).value();
}

Assessment assessed(const std::filesystem::path& path) {
  const auto read = model::read_file(path.string());
  REQUIRE(read.ok());
  const auto catalogue =
      model::read_catalogue_file(RIDGEWARD_SOURCE_DIR "/models/catalogues/default.json");
  REQUIRE(catalogue.ok());
  auto result = assess(read.value().model, catalogue.value(), code_set_of(read.value().model));
  REQUIRE(result.ok());
  return std::move(result).value();
}

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

TEST_CASE("no texts overlap or leave the page, on any sheet of any demo house") {
  for (const std::filesystem::path& house : houses()) {
    const Assessment a = assessed(house);
    for (const Paper paper : {Paper::letter, Paper::a4}) {
      for (const units::Style style : {units::Style::feet_inches, units::Style::metric}) {
        const Drawing sheet = papers::inspector_sheet(a, style, paper);
        CAPTURE(house.string(), papers::overlapping_texts(sheet), papers::texts_off_page(sheet));
        REQUIRE(papers::overlapping_texts(sheet).empty());
        REQUIRE(papers::texts_off_page(sheet).empty());
      }
    }
  }
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

TEST_CASE("the sheet read back holds every space, test and finding of the assessment") {
  for (const std::filesystem::path& house : houses()) {
    const Assessment a = assessed(house);
    const auto pdf =
        papers::to_pdf(papers::inspector_sheet(a, units::Style::feet_inches, Paper::letter));
    REQUIRE(pdf.ok());
    const std::string text = text_of_pdf(pdf.value());
    CAPTURE(house.string());
    for (const attic::Compartment& space : a.attic.compartments) {
      REQUIRE(text.find("Tests of " + space.id) != std::string::npos);
    }
    for (const CompartmentId id : a.attic.compartments.ids()) {
      REQUIRE(text.find(units::show_free_area(a.tests.required[id].required_m2,
                                              units::Style::feet_inches)) != std::string::npos);
    }
    for (const vents::Slot& slot : a.vents.slots) {
      REQUIRE(text.find(units::show_free_area(slot.free_area_m2, units::Style::feet_inches)) !=
              std::string::npos);
    }
    REQUIRE(text.find("licensed professional") != std::string::npos);
    REQUIRE((text.find("NOT in order") != std::string::npos) == a.is_at_fault());
  }
}

TEST_CASE("equal assessments give equal bytes") {
  const Assessment a = assessed(houses().front());
  const auto sheet = [&] {
    return papers::to_pdf(papers::inspector_sheet(a, units::Style::metric, Paper::a4)).value();
  };
  REQUIRE(sheet() == sheet());
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
