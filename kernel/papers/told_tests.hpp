#pragma once
// Tests of the code as every sheet tells them: one verdict, one count, one unit.

#include "assess.hpp"
#include "units/length.hpp"

#include <optional>
#include <string>

namespace ridgeward::papers {

/// A test in words, its figures in one unit.
struct ToldTest {
  const char* verdict = "";  ///< "holds", "FAILS", "advice", "not met", "not tested"
  std::string section;
  std::string asks;  ///< says where its figure is from memory
  std::string measured;
  std::string needed;
};
ToldTest told(const Assessment& assessment, const codes::Test& test, units::Style style);

/// Advice is common practice, no test of the code. Law: code >= held + untested.
struct TestCount {
  std::size_t code = 0;
  std::size_t held = 0;
  std::size_t untested = 0;
  std::size_t practice = 0;
  std::size_t from_memory = 0;  ///< rules, each once, whose figures are from memory
};
/// Of one space, or of all.
TestCount count_tests(const Assessment& assessment, std::optional<CompartmentId> space = {});

/// "5 of 6 tests of the code hold, 1 is not tested; 2 more are common practice".
std::string count_words(const TestCount& count);

/// "1 day", "2 days".
std::string counted(std::size_t count, const char* one, const char* several);

}  // namespace ridgeward::papers
