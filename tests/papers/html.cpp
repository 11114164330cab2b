// The report as one file of HTML: what stands in it, and that no text of a model becomes markup.
// What a browser makes of it is in tests/report.
#include "papers/html.hpp"

#include "assessed.hpp"
#include "papers/estimator_sheet.hpp"
#include "papers/json.hpp"
#include "papers/told_tests.hpp"

#include <glm/geometric.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

using namespace ridgeward;
using nlohmann::json;
using papers::base64;
using papers::escaped;
using tests::assessed;
using tests::demo;

namespace {

const papers::ReportParts parts{"/* library */", "the makers' terms", "/* script */", "/* look */",
                                "glTF"};

std::string page_of(const Assessment& a, units::Style style) {
  const Result<std::string> page = papers::to_html(a, style, parts);
  REQUIRE(page.ok());
  return page.value();
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++count;
  }
  return count;
}

}  // namespace

TEST_CASE("markup in a text is shown, not obeyed") {
  CHECK(escaped("28' 6 1/2\" & <b>") == "28&#39; 6 1/2&quot; &amp; &lt;b&gt;");
  CHECK(escaped("") == "");
  CHECK(escaped("Überhang 5°") == "Überhang 5°");
  // RFC 3629, section 10: overlong forms, surrogates and what lies beyond U+10FFFF are no UTF-8.
  const std::string wrong = "\xEF\xBF\xBD";
  CHECK(escaped("\xC0\xBC") == wrong + wrong);
  CHECK(escaped("\xED\xA0\x80") == wrong + wrong + wrong);
  CHECK(escaped("\xF4\x90\x80\x80") == wrong + wrong + wrong + wrong);
  CHECK(escaped("a\xE2\x82") == "a" + wrong + wrong);
  CHECK(escaped("\xE2\x82\xAC\xF0\x9F\x8F\xA0") == "\xE2\x82\xAC\xF0\x9F\x8F\xA0");
  CHECK(escaped(std::string("a\0b\x1B", 4)) == "a" + wrong + "b" + wrong);
  CHECK(escaped("a\tb\nc") == "a\tb\nc");
}

TEST_CASE("bytes as letters, by the examples of RFC 4648") {
  CHECK(base64("") == "");
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foob") == "Zm9vYg==");
  CHECK(base64("fooba") == "Zm9vYmE=");
  CHECK(base64("foobar") == "Zm9vYmFy");
  CHECK(base64("\xFF\xFE\xFB") == "//77");
}

TEST_CASE("the report holds what the papers hold") {
  for (const char* name : {"sorrel-lane", "plover-hall", "otter-barn"}) {
    INFO(name);
    const Assessment a = assessed(demo(name));
    const units::Style style =
        a.model.unit == units::LengthUnit::m ? units::Style::metric : units::Style::feet_inches;
    const std::string page = page_of(a, style);
    const auto holds = [&](const std::string& text) {
      INFO(text);
      CHECK(page.find(escaped(text)) != std::string::npos);
    };
    holds(a.model.name);
    holds(a.code.name);
    for (const codes::Test& test : a.tests.tests) {
      holds(test.section);
      holds(test.words);
      const papers::ToldTest told = papers::told(a, test, style);
      holds(told.measured);
      holds(told.needed);
    }
    for (const conflicts::Finding& finding : a.findings) {
      holds(finding.message);
      holds(finding.remedy);
    }
    for (const takeoff::OrderLine& line : a.takeoff.order) {
      holds(papers::item_words(line.item, style));
      holds(line.for_what);
    }
    for (const takeoff::SectionRun& run : a.takeoff.sections) {
      for (const takeoff::Piece& piece : run.pieces) {
        holds(units::show(piece.lower_edge_m, style));
        holds(units::show(piece.upper_edge_m, style));
      }
    }
    for (const std::string& text : a.assumptions) {
      holds(text);
    }
    const json printed = json::parse(papers::to_json(a));
    for (const json& text : printed["cautions"]) {
      holds(text.get<std::string>());
    }
    for (const json& text : printed["airflow"]["words"]) {
      holds(text.get<std::string>());
    }
    holds("the makers' terms");
    CHECK(page.find(base64("glTF")) != std::string::npos);
    CHECK(page == page_of(a, style));
    // Pictures are in the page, nothing is fetched.
    CHECK(count_of(page, "<img") == count_of(page, "src=\"data:image/svg+xml;base64,"));
    CHECK(count_of(page, "href=") == 0);
    CHECK(page.find("default-src 'none'") != std::string::npos);
  }
}

TEST_CASE("names full of markup end no element of the report") {
  model::RoofModel model = tests::house(demo("plain-gable"));
  const std::string evil = "</script><script>alert(1)</script><!--\"'&";
  model.name = evil;
  for (model::IntakeRun& run : model.intake) {
    run.id = "<img src=x onerror=alert(2)>" + run.id;
  }
  const Assessment a = assessed(model);
  const std::string page = page_of(a, units::Style::feet_inches);
  CHECK(page.find("<script>alert") == std::string::npos);
  CHECK(page.find("<img src=x") == std::string::npos);
  CHECK(page.find("<!--") == std::string::npos);
  CHECK(count_of(page, "<script") == 4);
  CHECK(count_of(page, "</script>") == 4);
  const std::string things = papers::things_json(a, units::Style::metric);
  CHECK(things.find('<') == std::string::npos);
  CHECK(std::all_of(things.begin(), things.end(), [](char c) { return c >= ' ' && c <= '~'; }));
  bool is_found = false;
  const json read = json::parse(things);
  for (const json& one : read["things"]) {
    is_found = is_found || one["title"].get<std::string>().find("<img src=x") != std::string::npos;
  }
  CHECK(is_found);
}

TEST_CASE("each plane, line, opening and finding can be pointed at") {
  const Assessment a = assessed(demo("plover-hall"));
  const json all = json::parse(papers::things_json(a, units::Style::feet_inches));
  std::map<std::string, std::size_t> kinds;
  std::set<std::string> keys;
  for (const json& one : all["things"]) {
    ++kinds[one["kind"]];
    CHECK(keys.insert(one["key"]).second);
    CHECK(one["rows"].size() >= 2);
  }
  const json printed = json::parse(papers::to_json(a));
  CHECK(kinds["plane"] == printed["planes"].size());
  CHECK(kinds["line"] == printed["lines"].size());
  CHECK(kinds["slot"] == printed["slots"].size());
  CHECK(kinds["exhaust"] == printed["exhausts"].size());
  CHECK(kinds["finding"] == printed["conflicts"].size());
  CHECK(all["north_deg"] == a.model.site.north_deg);
  // The middle of a plane lies on it.
  for (const PlaneId id : a.surface.planes.ids()) {
    const json& at = all["things"][id.value]["at"];
    const surface::Frame& frame = a.surface.planes[id].frame;
    const glm::dvec3 p{at[0].get<double>(), at[1].get<double>(), at[2].get<double>()};
    CHECK(std::abs(glm::dot(p - frame.origin, frame.normal)) < 1e-9);
  }
}
