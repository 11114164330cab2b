#include "units/length.hpp"

#include "units/scan.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <utility>

namespace ridgeward::units {

namespace {

// Steps of the input grid in a metre. Multiplying and dividing by a whole number keeps k / 8e6
// correctly rounded, where multiplying by grid_m (no binary fraction) would not.
constexpr double steps_per_m = 8.0e6;

constexpr double cm_m = 0.01;

/// Metres in a unit word or mark at the front of `scan`; 0 if there is none.
double take_unit(Scan& scan) {
  if (scan.take("''") || scan.take("\"")) {
    return inch_m;
  }
  if (scan.take("'")) {
    return foot_m;
  }
  using Word = std::pair<std::string_view, double>;
  constexpr std::array<Word, 19> words{{
      {"ft", foot_m},
      {"foot", foot_m},
      {"feet", foot_m},
      {"in", inch_m},
      {"inch", inch_m},
      {"inches", inch_m},
      {"m", 1.0},
      {"metre", 1.0},
      {"metres", 1.0},
      {"meter", 1.0},
      {"meters", 1.0},
      {"cm", cm_m},
      {"mm", 0.001},
      {"millimetre", 0.001},
      {"millimetres", 0.001},
      {"millimeter", 0.001},
      {"millimeters", 0.001},
      {"centimetre", cm_m},
      {"centimetres", cm_m},
  }};
  const std::string_view word = scan.take_letters();
  for (const auto& [name, metres] : words) {
    if (word == name) {
      scan.take(".");  // "ft.", "in."
      return metres;
    }
  }
  return word.empty() ? 0.0 : -1.0;
}

/// The inches after the feet of "28' 6 1/2\"", in metres: 0 at the end of the text.
std::optional<double> take_inches(Scan& scan) {
  scan.skip_spaces();
  if (scan.at_end()) {
    return 0.0;
  }
  if (scan.take("-") || scan.take(",")) {
    scan.skip_spaces();
  }
  const std::optional<double> inches = scan.take_mixed();
  scan.skip_spaces();
  if (!inches || *inches >= 12.0) {
    return std::nullopt;
  }
  const double unit = take_unit(scan);
  if (unit != 0.0 && unit != inch_m) {
    return std::nullopt;
  }
  return *inches * inch_m;
}

std::string with_sign(bool is_negative, std::string text) {
  return is_negative ? "-" + std::move(text) : std::move(text);
}

}  // namespace

Style style_of(LengthUnit unit) {
  return unit == LengthUnit::m || unit == LengthUnit::mm ? Style::metric : Style::feet_inches;
}

std::optional<LengthUnit> unit_named(std::string_view word) {
  if (word == "ft") {
    return LengthUnit::ft;
  }
  if (word == "in") {
    return LengthUnit::in;
  }
  if (word == "m") {
    return LengthUnit::m;
  }
  if (word == "mm") {
    return LengthUnit::mm;
  }
  return std::nullopt;
}

double metres_in(LengthUnit unit) {
  switch (unit) {
    case LengthUnit::ft:
      return foot_m;
    case LengthUnit::in:
      return inch_m;
    case LengthUnit::m:
      return 1.0;
    case LengthUnit::mm:
      return 0.001;
  }
  return 1.0;
}

double on_grid(double length_m) {
  const double steps = length_m * steps_per_m;
  if (!std::isfinite(steps)) {
    return length_m;
  }
  return std::round(steps) / steps_per_m + 0.0;  // + 0.0 makes a negative zero plain
}

std::optional<double> parse_length(std::string_view text, LengthUnit bare) {
  const std::string plain = plain_ascii(text);
  Scan scan(trimmed(plain));
  const bool is_negative = scan.take("-");
  if (!is_negative) {
    scan.take("+");
  }
  scan.skip_spaces();
  const std::optional<double> number = scan.take_mixed();
  if (!number) {
    return std::nullopt;
  }
  scan.skip_spaces();
  const double unit = take_unit(scan);
  if (unit < 0.0) {
    return std::nullopt;
  }
  double length_m = *number * (unit == 0.0 ? metres_in(bare) : unit);
  if (unit == foot_m && !scan.at_end()) {
    const std::optional<double> inches_m = take_inches(scan);
    if (!inches_m || (*inches_m > 0.0 && *number != std::floor(*number))) {
      return std::nullopt;
    }
    length_m += *inches_m;
  }
  scan.skip_spaces();
  if (!scan.at_end() || !std::isfinite(length_m * steps_per_m)) {
    return std::nullopt;
  }
  return on_grid(is_negative ? -length_m : length_m);
}

std::string feet_inches(double length_m, int denominator) {
  const double parts = std::abs(length_m) / inch_m * denominator;
  if (!(parts < 1.0e15)) {  // also for NaN: no sheet of paper has use for it
    return fmt::format("{:.3g} m", length_m);
  }
  const auto total = static_cast<std::int64_t>(std::llround(parts));
  const std::int64_t feet = total / (12LL * denominator);
  const std::int64_t inches = total / denominator % 12;
  const std::int64_t rest = total % denominator;
  const std::int64_t common = std::gcd(rest, std::int64_t{denominator});
  std::string text = feet > 0 ? fmt::format("{}' ", feet) : "";
  if (rest == 0) {
    text += fmt::format("{}\"", inches);
  } else if (inches > 0 || feet > 0) {
    text += fmt::format("{} {}/{}\"", inches, rest / common, denominator / common);
  } else {
    text += fmt::format("{}/{}\"", rest / common, denominator / common);
  }
  return with_sign(length_m < 0.0 && total > 0, std::move(text));
}

std::string show(double length_m, Style style) {
  if (style == Style::feet_inches) {
    return feet_inches(length_m);
  }
  const double mm = std::round(std::abs(length_m) * 1000.0);
  const bool is_negative = length_m < 0.0 && mm > 0.0;
  if (mm < 1000.0) {
    return with_sign(is_negative, fmt::format("{:.0f} mm", mm));
  }
  return with_sign(is_negative, fmt::format("{:.3f} m", mm / 1000.0));
}

}  // namespace ridgeward::units
