// Checks of the user's own, through the C header.
#include "plugin/check.hpp"

#include "support/program.hpp"
#include "support/words.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <string>

using namespace ridgeward;
namespace fs = std::filesystem;

namespace {

const fs::path built = RIDGEWARD_TEST_PLUGINS;

std::string code_of(const fs::path& path) {
  const auto loaded = plugin::OwnCheck::load(path.string());
  REQUIRE_FALSE(loaded.ok());
  CHECK_FALSE(loaded.faults().front().cure.empty());
  return loaded.faults().front().code;
}

}  // namespace

TEST_CASE("a check is loaded, run, and reports") {
  const auto check = plugin::OwnCheck::load((built / "long_slots.so").string());
  INFO(tests::words(check));
  REQUIRE(check.ok());
  CHECK(check.value().kind() == "county_long_slot");
  CHECK(check.value().words() == "slots over 30 ft");
  const auto found = check.value().run(R"({"slots": []})");
  REQUIRE(found.ok());
  REQUIRE(found.value().size() == 1);
  CHECK(found.value()[0].severity == 2);
  CHECK(found.value()[0].message == "The county asks for a break in long slots.");
  CHECK(found.value()[0].exhaust.empty());
  const auto failed = check.value().run("{}");
  REQUIRE_FALSE(failed.ok());
  CHECK(failed.faults()[0].code == "check.failed");
}

TEST_CASE("what is no check is told as such") {
  CHECK(code_of("long_slots.so") == "check.folder");
  CHECK(code_of(built / "none.so") == "check.missing");
  CHECK(code_of(built / "no_symbol.so") == "check.symbol");
  CHECK(code_of(built / "other_check_version.so") == "check.version");
}

TEST_CASE("a check that dies, hangs or leaves takes nothing with it") {
  const std::string careless = (built / "careless_check.so").string();
  const auto code = [&](const char* assessment, const plugin::Limits& limits) {
    const auto found = plugin::run_apart(careless, assessment, limits);
    REQUIRE_FALSE(found.ok());
    CHECK(found.faults().front().what.find("careless_check.so") != std::string::npos);
    CHECK_FALSE(found.faults().front().cure.empty());
    return found.faults().front().code;
  };
  CHECK(code("crash", {}) == "check.crashed");
  CHECK(code("exit", {}) == "check.garbled");
  CHECK(code("hang", {.wall_s = 0.2}) == "check.hung");
  const auto calm = plugin::run_apart(careless, "{}");
  INFO(tests::words(calm));
  REQUIRE(calm.ok());
  CHECK(calm.value().kind == "careless");
  REQUIRE(calm.value().found.size() == 2);
  CHECK(calm.value().found[0].message == "first");
  CHECK(calm.value().found[1].at[2] == 2.5);
  CHECK(calm.value().found[1].plane == "main/0");
  CHECK(plugin::run_apart((built / "no_symbol.so").string(), "{}").faults()[0].code ==
        "check.symbol");
  // A library that dies while it is looked into.
  const auto deadly = plugin::checks_in((built / "deadly").string());
  REQUIRE_FALSE(deadly.ok());
  CHECK(deadly.faults()[0].code == "check.crashed");
  CHECK(deadly.faults()[0].what.find("dies_on_load.so") != std::string::npos);
}

TEST_CASE("the checks of a folder are found among importers") {
  const auto paths = plugin::checks_in(built.string());
  REQUIRE(paths.ok());
  CHECK(std::any_of(paths.value().begin(), paths.value().end(), [](const std::string& path) {
    return path.find("long_slots.so") != std::string::npos;
  }));
  CHECK(std::none_of(paths.value().begin(), paths.value().end(), [](const std::string& path) {
    return path.find("no_symbol.so") != std::string::npos;
  }));
  CHECK_FALSE(plugin::checks_in("/no/such/folder").ok());
}
