// Lengths as people write them, each spelling named.
#include "units/area.hpp"
#include "units/length.hpp"
#include "units/pitch.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <utility>
#include <vector>

using namespace ridgeward::units;

namespace {

double inches(double n) { return on_grid(n * inch_m); }

std::optional<double> read_ft(const std::string& text) {
  return parse_length(text, LengthUnit::ft);
}

}  // namespace

TEST_CASE("every spelling of 28 feet 6 1/2 inches is the same length") {
  for (const char* text : {"28' 6 1/2\"",
                           "28'6 1/2\"",
                           "28' 6-1/2\"",
                           "28'-6 1/2\"",
                           "28' - 6 1/2\"",
                           "28'6.5\"",
                           "28' 6.5",
                           "28 ft 6 1/2 in",
                           "28ft 6.5in",
                           "28 FT 6 1/2 IN",
                           "28 feet 6 1/2 inches",
                           "28 ft. 6 1/2 in.",
                           "28 ft, 6 1/2 in",
                           "342 1/2 in",
                           "342.5\"",
                           "342.5 inches",
                           "28' 6 1/2''",
                           "  28' 6 1/2\"  ",
                           "+28' 6 1/2\"",
                           "28\u2032 6\u00BD\u2033",
                           "28\u2019 6 1\u20442\u201D"}) {
    INFO(text);
    REQUIRE(read_ft(text).has_value());
    CHECK(*read_ft(text) == inches(342.5));
  }
}

TEST_CASE("lengths in one unit") {
  const std::vector<std::pair<const char*, double>> cases{{"9 1/4 in", inches(9.25)},
                                                          {"3/4\"", inches(0.75)},
                                                          {"-2'", -inches(24)},
                                                          {"2'", inches(24)},
                                                          {"2 1/2'", inches(30)},
                                                          {"350 mm", 0.35},
                                                          {"35 cm", 0.35},
                                                          {"1.2 m", 1.2},
                                                          {".5 m", 0.5},
                                                          {"12", inches(144)},
                                                          {"12 1/2", inches(150)},
                                                          {"0", 0.0},
                                                          {"-0", 0.0},
                                                          {"\u2212350 mm", -0.35},
                                                          {"5 metres", 5.0},
                                                          {"11 63/64 in", inches(11.984375)}};
  for (const auto& [text, length_m] : cases) {
    INFO(text);
    REQUIRE(read_ft(text).has_value());
    CHECK(*read_ft(text) == length_m);
    CHECK_FALSE(std::signbit(*read_ft(text)) != std::signbit(length_m));
  }
  CHECK(parse_length("12", LengthUnit::mm) == 0.012);
  CHECK(parse_length("12", LengthUnit::in) == inches(12));
  CHECK(parse_length("12", LengthUnit::m) == 12.0);
}

TEST_CASE("what is no length is refused") {
  for (const char* text : {"",
                           " ",
                           "-",
                           "'",
                           "\"",
                           "ft",
                           "abc",
                           "12 q",
                           "1e3 mm",
                           "nan",
                           "inf",
                           "0x10",
                           "1,2 m",
                           "1.2.3 m",
                           "6 1/2 1/2 in",
                           "28' 6 1/2\" 3",
                           "28' 14\"",
                           "28.5' 3\"",
                           "28' 6 mm",
                           "28' x",
                           "61/2\"",
                           "3/2 in",
                           "6 3/2 in",
                           "1/0 in",
                           "0/2 in",
                           "--2'",
                           "2' -",
                           "- 2' 3 ft",
                           "1/99999999999 in",
                           "5 in2",
                           "8/12 deg",
                           "\xFF\xFE",
                           "28'\xC2"}) {
    INFO(text);
    CHECK_FALSE(read_ft(text).has_value());
  }
  CHECK_FALSE(read_ft(std::string(400, '9') + " m").has_value());
  CHECK_FALSE(read_ft(std::string("2'\0", 3)).has_value());
}

TEST_CASE("feet and inches carry over where rounding fills a foot") {
  const std::vector<std::pair<double, const char*>> cases{
      {0.0, "0\""},      {11.99, "1' 0\""},      {11.9, "11 7/8\""},     {0.75, "3/4\""},
      {9.25, "9 1/4\""}, {342.5, "28' 6 1/2\""}, {12.125, "1' 0 1/8\""}, {-24.0, "-2' 0\""},
      {-0.01, "0\""},    {-0.0625, "-1/8\""},    {143.95, "12' 0\""},    {12.0, "1' 0\""}};
  for (const auto& [length_in, text] : cases) {
    CHECK(feet_inches(length_in * inch_m) == text);
  }
  CHECK(feet_inches(11.99 * inch_m, 64) == "11 63/64\"");
  CHECK(feet_inches(11.99 * inch_m, 1) == "1' 0\"");
  for (const double wild : {1e300, -1e300, std::numeric_limits<double>::infinity(),
                            std::numeric_limits<double>::quiet_NaN()}) {
    CHECK_FALSE(feet_inches(wild).empty());
    CHECK_FALSE(show(wild, Style::metric).empty());
  }
}

TEST_CASE("metric lengths") {
  CHECK(show(8.7, Style::metric) == "8.700 m");
  CHECK(show(0.232, Style::metric) == "232 mm");
  CHECK(show(0.9996, Style::metric) == "1.000 m");
  CHECK(show(-0.232, Style::metric) == "-232 mm");
  CHECK(show(-0.0001, Style::metric) == "0 mm");
  CHECK(show(0.3048, Style::feet_inches) == "1' 0\"");
}

TEST_CASE("unit words") {
  CHECK(unit_named("ft") == LengthUnit::ft);
  CHECK(unit_named("mm") == LengthUnit::mm);
  CHECK_FALSE(unit_named("cm").has_value());
  CHECK_FALSE(unit_named("").has_value());
  CHECK(metres_in(LengthUnit::in) == 0.0254);
}

TEST_CASE("pitch in its three forms") {
  for (const char* text : {"8/12", "8:12", "8 in 12", "8 / 12", " 8/12 ", "8.0/12", "4/6"}) {
    INFO(text);
    REQUIRE(parse_pitch(text).has_value());
    CHECK(parse_pitch(text)->tangent() == Approx(8.0 / 12).epsilon(1e-15));
  }
  CHECK(parse_pitch("7 1/2 in 12")->in_12() == Approx(7.5));
  CHECK(parse_pitch("7.25/12")->in_12() == Approx(7.25));
  CHECK(parse_pitch("45 deg")->tangent() == 1.0);
  CHECK(parse_pitch("45\u00B0")->tangent() == 1.0);
  CHECK(parse_pitch("33.690067526 degrees")->in_12() == Approx(8.0).epsilon(1e-9));
  CHECK(parse_pitch("66.7 %")->tangent() == Approx(0.667));
  CHECK(parse_pitch("66.7%")->tangent() == Approx(0.667));
  CHECK(parse_pitch("-8/12")->tangent() < 0.0);
  CHECK(parse_pitch("90 deg")->degrees() > 89.9);
  CHECK(parse_pitch("200 deg")->degrees() > 89.9);
  for (const char* text : {"", "8", "8/", "/12", "8/0", "8/12/3", "8//12", "deg", "nan deg",
                           "8 rad", "8 %%", "eight in twelve", "8 in"}) {
    INFO(text);
    CHECK_FALSE(parse_pitch(text).has_value());
  }
}

TEST_CASE("pitch is shown in twelve with at most two decimals") {
  CHECK(show_pitch(Pitch::from_rise_run(8, 12)) == "8/12");
  CHECK(show_pitch(Pitch::from_rise_run(7.25, 12)) == "7.25/12");
  CHECK(show_pitch(Pitch::from_rise_run(10, 12)) == "10/12");
  CHECK(show_pitch(Pitch::from_degrees(40)) == "10.07/12");
  // In metric by the angle to the level: 35 degrees are no 8.4 in 12.
  for (const Style style : {Style::feet_inches, Style::metric}) {
    CHECK(show_pitch(Pitch(), style) == "flat");
  }
  CHECK(show_pitch(Pitch::from_rise_run(8, 12), Style::feet_inches) == "8/12");
  CHECK(show_pitch(Pitch::from_rise_run(8, 12), Style::metric) == "33.7 deg");
  CHECK(show_pitch(Pitch::from_degrees(35), Style::metric) == "35 deg");
  CHECK(style_of(LengthUnit::mm) == Style::metric);
  CHECK(style_of(LengthUnit::in) == Style::feet_inches);
  // Framing square, 12 of run: 4 gives 18.4349 degrees.
  CHECK(Pitch::from_rise_run(4, 12).degrees() == Approx(18.4349).margin(5e-5));
  CHECK(Pitch::from_rise_run(8, 12).slope_factor() == Approx(std::sqrt(208.0) / 12));
}

TEST_CASE("areas and areas per length") {
  CHECK(parse_area("50 in2") == Approx(50 * 0.0254 * 0.0254));
  CHECK(parse_area("50 sq in") == parse_area("50 in2"));
  CHECK(parse_area("50 in\u00B2") == parse_area("50 in2"));
  CHECK(parse_area("320 cm2") == Approx(0.032));
  CHECK(parse_area("20000 mm2") == Approx(0.02));
  CHECK(parse_area("0.02 m2") == Approx(0.02));
  CHECK(parse_area("3 ft2") == Approx(432 * 0.0254 * 0.0254));
  CHECK(parse_area_per_length("10 in2/ft") == Approx(10 * 0.0254 * 0.0254 / 0.3048));
  CHECK(parse_area_per_length("10 sq in per ft") == parse_area_per_length("10 in2/ft"));
  CHECK(parse_area_per_length("200 cm2/m") == Approx(0.02));
  CHECK(parse_area_per_length("10000 mm2/m") == Approx(0.01));
  // Soffit strip of 10 sq in per ft is 0.069 sq ft per ft (C23 [NM], S)
  CHECK(*parse_area_per_length("10 in2/ft") / 0.3048 == Approx(0.069).margin(0.0005));
  for (const char* text : {"", "50", "50 in", "in2", "50 in3", "50 in2 in2", "50 in2/ft", "x"}) {
    INFO(text);
    CHECK_FALSE(parse_area(text).has_value());
  }
  for (const char* text : {"", "10", "10 in2", "10 in2/", "10 in2/x", "10/ft", "10 in2/ft2"}) {
    INFO(text);
    CHECK_FALSE(parse_area_per_length(text).has_value());
  }
}

TEST_CASE("areas are shown with groups of three") {
  CHECK(show_area(1120.0 * square_foot_m2, Style::feet_inches) == "1,120.0 ft2");
  CHECK(show_area(104.05, Style::metric) == "104.05 m2");
  CHECK(show_area(1234567.0 * square_foot_m2, Style::feet_inches) == "1,234,567.0 ft2");
  CHECK(show_free_area(360 * square_inch_m2, Style::feet_inches) == "360 in2");
  CHECK(show_free_area(0.2323, Style::metric) == "2 323 cm2");
  CHECK(show_area(0.0, Style::feet_inches) == "0.0 ft2");
}
