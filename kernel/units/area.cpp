#include "units/area.hpp"

#include "units/scan.hpp"

#include <fmt/format.h>

#include <cmath>

namespace ridgeward::units {

namespace {

/// Square metres in the area unit at the front of `scan` ("in2", "sq in"); 0 if there is none.
double take_area_unit(Scan& scan) {
  std::string_view word = scan.take_letters();
  bool is_square = false;
  if (word == "sq" || word == "square") {
    is_square = true;
    scan.take(".");
    scan.skip_spaces();
    word = scan.take_letters();
  }
  if (!is_square) {
    scan.take("^");
    if (!scan.take("2")) {
      return 0.0;
    }
  }
  if (word == "in" || word == "inch" || word == "inches") {
    return square_inch_m2;
  }
  if (word == "ft" || word == "foot" || word == "feet") {
    return square_foot_m2;
  }
  if (word == "m") {
    return 1.0;
  }
  if (word == "cm") {
    return 1.0e-4;
  }
  return word == "mm" ? 1.0e-6 : 0.0;
}

/// Metres in the length unit after the stroke of "in2/ft"; 0 if it is none.
double take_length_unit(Scan& scan) {
  const std::string_view word = scan.take_letters();
  if (word == "ft" || word == "foot") {
    return foot_m;
  }
  if (word == "in" || word == "inch") {
    return inch_m;
  }
  if (word == "m" || word == "metre" || word == "meter") {
    return 1.0;
  }
  if (word == "cm") {
    return 0.01;
  }
  return word == "mm" ? 0.001 : 0.0;
}

/// Number and area unit at the front of `scan`, in m2.
std::optional<double> take_area(Scan& scan) {
  const std::optional<double> number = scan.take_mixed();
  if (!number) {
    return std::nullopt;
  }
  scan.skip_spaces();
  const double unit = take_area_unit(scan);
  return unit > 0.0 ? std::optional(*number * unit) : std::nullopt;
}

/// Whole part in groups of three, `separator` between them.
std::string grouped(double value, int decimals, char separator) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  const std::size_t first = text.starts_with('-') ? 1 : 0;
  std::size_t at = text.find('.');
  at = at == std::string::npos ? text.size() : at;
  while (std::isfinite(value) && at > first + 3) {
    at -= 3;
    text.insert(at, 1, separator);
  }
  return text;
}

}  // namespace

std::optional<double> parse_area(std::string_view text) {
  const std::string plain = plain_ascii(text);
  Scan scan(trimmed(plain));
  const std::optional<double> area_m2 = take_area(scan);
  scan.skip_spaces();
  return scan.at_end() ? area_m2 : std::nullopt;
}

std::optional<double> parse_area_per_length(std::string_view text) {
  const std::string plain = plain_ascii(text);
  Scan scan(trimmed(plain));
  const std::optional<double> area_m2 = take_area(scan);
  scan.skip_spaces();
  if (!area_m2 || !(scan.take("/") || scan.take("per "))) {
    return std::nullopt;
  }
  scan.skip_spaces();
  const double unit_m = take_length_unit(scan);
  scan.take(".");
  scan.skip_spaces();
  if (unit_m <= 0.0 || !scan.at_end()) {
    return std::nullopt;
  }
  return *area_m2 / unit_m;
}

std::string show_area(double area_m2, Style style) {
  if (style == Style::feet_inches) {
    return grouped(area_m2 / square_foot_m2, 1, ',') + " ft2";
  }
  return grouped(area_m2, 2, ' ') + " m2";
}

std::string show_free_area(double area_m2, Style style) {
  if (style == Style::feet_inches) {
    return grouped(area_m2 / square_inch_m2, 0, ',') + " in2";
  }
  return grouped(area_m2 * 1.0e4, 0, ' ') + " cm2";
}

}  // namespace ridgeward::units
