// Every code set of models/codes is read, and says what check-values.md says of its code.
#include "codes/code_set.hpp"

#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <map>
#include <string>

using namespace ridgeward;

namespace {

const std::filesystem::path folder =
    std::filesystem::path(RIDGEWARD_SOURCE_DIR) / "models" / "codes";

codes::CodeSet set_named(const std::string& id) {
  const auto read = codes::read_code_set_file((folder / (id + ".json")).string());
  INFO(tests::words(read));
  REQUIRE(read.ok());
  return read.value();
}

const codes::Rule& rule(const std::vector<codes::Rule>& rules, const std::string& id) {
  const auto at =
      std::find_if(rules.begin(), rules.end(), [&](const codes::Rule& r) { return r.id == id; });
  REQUIRE(at != rules.end());
  return *at;
}

}  // namespace

TEST_CASE("every code set is read, its id is its file's name, every rule has section and words") {
  int count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const codes::CodeSet code = set_named(entry.path().stem().string());
    INFO(code.id);
    CHECK(code.id == entry.path().stem().string());
    CHECK_FALSE(code.notes.empty());
    CHECK(code.ratio_section.empty() == (code.ratio == 0.0));
    for (const auto* rules : {&code.conditions, &code.rules}) {
      for (const codes::Rule& rule : *rules) {
        CHECK_FALSE(rule.section.empty());
        CHECK_FALSE(rule.words.empty());
        CHECK((rule.bounds.least || rule.bounds.most));
        CHECK((rule.is_advice == (rule.section == "common practice")));
      }
    }
    ++count;
  }
  CHECK(count >= 12);
}

TEST_CASE("1/150 and 1/300 in every set") {
  // C01 rule V, C02 rule S; NBC C30, C31 V
  for (const char* id : {"us-irc-2024", "us-irc-2021", "us-irc-2018", "us-irc-2015", "us-irc-2012",
                         "us-irc-2009", "us-ibc-2018", "ca-nbc-9.19.1"}) {
    INFO(id);
    CHECK(set_named(id).ratio == 150.0);
    CHECK(set_named(id).reduced_ratio == 300.0);
    CHECK(set_named(id).reduced_needs_all);
  }
}

TEST_CASE("shares and places by edition") {
  for (const char* id :
       {"us-irc-2024", "us-irc-2021", "us-irc-2018", "us-irc-2015", "us-irc-2012", "us-ibc-2018"}) {
    const codes::CodeSet code = set_named(id);
    INFO(id);
    // 40 to 50 per cent high (C02, C03), within 36 in of the top (C05)
    CHECK(rule(code.conditions, "high_share").bounds.least == Approx(0.4));
    CHECK(rule(code.conditions, "high_share").bounds.most == Approx(0.5));
    CHECK(rule(code.conditions, "exhaust_below_top").bounds.most == 0.9144);
    CHECK(rule(code.conditions, "low_share").bounds.least == Approx(0.5));
  }
  const codes::CodeSet old = set_named("us-irc-2009");
  // C04: 50 to 80 per cent high and at least 36 in above the eave vents
  CHECK(rule(old.conditions, "high_share").bounds.least == Approx(0.5));
  CHECK(rule(old.conditions, "high_share").bounds.most == Approx(0.8));
  CHECK(rule(old.conditions, "exhaust_above_eaves").bounds.least == 0.9144);
  // bottom third from 2018 on
  CHECK(rule(set_named("us-irc-2021").conditions, "low_place").bounds.most == 1.0 / 3.0);
  CHECK(rule(set_named("us-irc-2018").conditions, "low_place").bounds.most == 1.0 / 3.0);
}

TEST_CASE("the air space over the insulation") {
  // C07: 1 in, R806.3, V [SAUK]; C33: 25 mm, NBC 9.19.1.3(2), V
  CHECK(rule(set_named("us-irc-2021").rules, "space_over_insulation").bounds.least == 0.0254);
  CHECK_FALSE(rule(set_named("us-irc-2021").rules, "space_over_insulation").from_memory);
  CHECK(rule(set_named("ca-nbc-9.19.1").rules, "space_over_insulation").bounds.least == 0.025);
  // C34 is from memory and says so
  CHECK(rule(set_named("ca-nbc-9.19.1").rules, "high_share").from_memory);
  CHECK(rule(set_named("ca-nbc-9.19.1").conditions, "slope").bounds.least == Approx(1.0 / 6.0));
}
