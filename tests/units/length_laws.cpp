// Laws of the input grid: 1/64 in and 1 mm stay exact.
#include "units/length.hpp"
#include "units/pitch.hpp"

#include "support/seed.hpp"

#include <catch2/catch.hpp>

#include <clocale>
#include <cmath>
#include <random>
#include <string>

using namespace ridgeward::units;

TEST_CASE("every 1/64 in up to 1000 ft is a whole number of grid steps") {
  // 1/64 in is 3175 steps of 1/8 micrometre; the double nearest to k / 8e6 is the only one allowed.
  long wrong = 0;
  for (long n = 0; n <= 1000L * 12 * 64; ++n) {
    const double length_m = on_grid(static_cast<double>(n) / 64.0 * inch_m);
    wrong += length_m == static_cast<double>(n * 3175) / 8.0e6 ? 0 : 1;
    wrong += on_grid(length_m) == length_m ? 0 : 1;
  }
  CHECK(wrong == 0);
}

TEST_CASE("every millimetre up to 300 m is a whole number of grid steps") {
  long wrong = 0;
  for (long n = 0; n <= 300000; ++n) {
    wrong +=
        on_grid(static_cast<double>(n) * 0.001) == static_cast<double>(n * 8000) / 8.0e6 ? 0 : 1;
  }
  CHECK(wrong == 0);
}

TEST_CASE("feet as decimals and feet as feet and inches agree to the bit") {
  for (long n = 0; n <= 100L * 12 * 64; ++n) {
    const double decimal_ft = static_cast<double>(n) / (12.0 * 64.0);
    const double direct = on_grid(decimal_ft * foot_m);
    REQUIRE(direct == on_grid(static_cast<double>(n) / 64.0 * inch_m));
  }
}

TEST_CASE("what is printed is read back") {
  long wrong = 0;
  for (long n = -12L * 64 * 40; n <= 12L * 64 * 400; n += 1) {
    const double length_m = on_grid(static_cast<double>(n) / 64.0 * inch_m);
    const auto back = parse_length(feet_inches(length_m, 64), LengthUnit::m);
    wrong += back && *back == length_m ? 0 : 1;
  }
  CHECK(wrong == 0);
  for (long mm = -2000; mm <= 20000; ++mm) {
    const double length_m = on_grid(static_cast<double>(mm) * 0.001);
    const auto back = parse_length(show(length_m, Style::metric), LengthUnit::ft);
    wrong += back && *back == length_m ? 0 : 1;
  }
  CHECK(wrong == 0);
}

TEST_CASE("printing rounds to the nearest eighth") {
  std::mt19937_64 random(ridgeward::tests::seed());
  std::uniform_real_distribution<double> lengths(-100.0, 100.0);
  for (int i = 0; i < 20000; ++i) {
    const double length_m = lengths(random);
    const auto back = parse_length(feet_inches(length_m), LengthUnit::m);
    REQUIRE(back.has_value());
    REQUIRE(std::abs(*back - length_m) <= inch_m / 16.0 + grid_m);
  }
}

TEST_CASE("any bytes give a value or none") {
  std::mt19937_64 random(ridgeward::tests::seed());
  const std::string letters = "0123456789./-'\" ftinmc%deg:\xC2\xBD\xE2\x80\xB2,+12";
  std::uniform_int_distribution<std::size_t> pick(0, letters.size() - 1);
  std::uniform_int_distribution<int> sizes(0, 14);
  for (int i = 0; i < 100000; ++i) {
    std::string text;
    const int size = sizes(random);
    for (int n = 0; n < size; ++n) {
      text += letters[pick(random)];
    }
    if (const auto length_m = parse_length(text, LengthUnit::in)) {
      REQUIRE(std::isfinite(*length_m));
      REQUIRE(on_grid(*length_m) == *length_m);
    }
    if (const auto pitch = parse_pitch(text)) {
      REQUIRE(std::isfinite(pitch->tangent()));
    }
  }
}

TEST_CASE("reading does not follow the locale") {
  const char* set = std::setlocale(LC_ALL, "de_DE.UTF-8");
  CHECK(parse_length("1.5 m", LengthUnit::ft) == 1.5);
  CHECK(show(8.7, Style::metric) == "8.700 m");
  std::setlocale(LC_ALL, "C");
  (void)set;
}
