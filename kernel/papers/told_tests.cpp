#include "papers/told_tests.hpp"

#include "codes/figures.hpp"

#include <fmt/format.h>

#include <set>

namespace ridgeward::papers {

namespace {

/// What a measured share is a share of.
const char* of_what(const codes::Test& test) {
  if (!test.measure || !test.is_measured || !test.is_tested) {
    return "";
  }
  switch (*test.measure) {
    case codes::Measure::high_share_of_required:
    case codes::Measure::low_share_of_required:
      return " of what is required";
    case codes::Measure::intake_height_share:
      return " of the space's height";
    case codes::Measure::intake_share_of_total:
      return " of all openings";
    default:
      return "";
  }
}

}  // namespace

ToldTest told(const Assessment& a, const codes::Test& test, units::Style style) {
  const codes::TestFigures figures =
      codes::figures_of(test, a.tests.required[test.compartment], style);
  ToldTest told{test.holds ? "holds" : "FAILS", test.section,
                test.words + (test.from_memory ? " (Figure from memory.)" : ""),
                figures.measured + of_what(test), figures.needed};
  if (!test.is_tested) {
    told.verdict = "not tested";
  } else if (!test.holds && test.is_advice) {
    told.verdict = "advice";
  } else if (!test.holds && test.is_condition) {
    told.verdict = "not met";
  }
  return told;
}

TestCount count_tests(const Assessment& a, std::optional<CompartmentId> space) {
  TestCount count;
  std::set<std::string> remembered;
  for (const codes::Test& test : a.tests.tests) {
    if (space && test.compartment != *space) {
      continue;
    }
    if (test.is_advice) {
      ++count.practice;
      continue;
    }
    ++count.code;
    if (!test.is_tested) {
      ++count.untested;
    } else if (test.holds) {
      ++count.held;
    }
    if (test.from_memory) {
      remembered.insert(test.section + test.test);
    }
  }
  count.from_memory = remembered.size();
  return count;
}

std::string count_words(const TestCount& count) {
  std::string words =
      fmt::format("{} of {} of the code {}", count.held, counted(count.code, "test", "tests"),
                  count.held == 1 ? "holds" : "hold");
  if (count.untested > 0) {
    words += fmt::format(", {} not tested", counted(count.untested, "is", "are"));
  }
  if (count.practice > 0) {
    words += fmt::format("; {} common practice", counted(count.practice, "more is", "more are"));
  }
  return words;
}

std::string counted(std::size_t count, const char* one, const char* several) {
  return fmt::format("{} {}", count, count == 1 ? one : several);
}

}  // namespace ridgeward::papers
