#include "units/pitch.hpp"

#include "units/scan.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace ridgeward::units {

namespace {

constexpr double rad_per_deg = std::numbers::pi / 180.0;

std::optional<Pitch> finite(Pitch pitch) {
  return std::isfinite(pitch.tangent()) ? std::optional(pitch) : std::nullopt;
}

/// The run after the sign between rise and run: the rest of the text.
std::optional<double> take_run(Scan& scan) {
  scan.skip_spaces();
  const std::optional<double> run = scan.take_mixed();
  scan.skip_spaces();
  return scan.at_end() ? run : std::nullopt;
}

}  // namespace

Pitch Pitch::from_radians(double slope_rad) { return Pitch(std::tan(slope_rad)); }

Pitch Pitch::from_degrees(double slope_deg) {
  // 45 degrees is 12/12 exactly, though the tangent of the nearest double isn't.
  return slope_deg == 45.0 ? Pitch(1.0) : Pitch(std::tan(slope_deg * rad_per_deg));
}

double Pitch::radians() const { return std::atan(rise_per_run_); }
double Pitch::degrees() const { return std::atan(rise_per_run_) / rad_per_deg; }
double Pitch::slope_factor() const { return std::hypot(1.0, rise_per_run_); }

std::optional<Pitch> parse_pitch(std::string_view text) {
  const std::string plain = plain_ascii(text);
  Scan scan(trimmed(plain));
  const double sign = scan.take("-") ? -1.0 : 1.0;
  // "8/12" must not be taken as the fraction two thirds, "7 1/2 in 12" must.
  Scan as_mixed = scan;
  const std::optional<double> rise = scan.take_decimal();
  scan.skip_spaces();
  if (rise && scan.take("/")) {
    const std::optional<double> run = take_run(scan);
    return run ? finite(Pitch::from_rise_run(sign * *rise, *run)) : std::nullopt;
  }
  const std::optional<double> number = as_mixed.take_mixed();
  if (!number) {
    return std::nullopt;
  }
  const double value = sign * *number;
  as_mixed.skip_spaces();
  if (as_mixed.take(":") || as_mixed.take("in ")) {
    const std::optional<double> run = take_run(as_mixed);
    return run ? finite(Pitch::from_rise_run(value, *run)) : std::nullopt;
  }
  const bool is_percent = as_mixed.take("%");
  const std::string_view word = is_percent ? "" : as_mixed.take_letters();
  as_mixed.skip_spaces();
  if (!as_mixed.at_end()) {
    return std::nullopt;
  }
  if (is_percent || word == "percent") {
    return finite(Pitch::from_percent(value));
  }
  if (word == "deg" || word == "degree" || word == "degrees") {
    // Past the plumb line the tangent comes back with small values: hold it there.
    const double held = std::abs(value) < 90.0 ? value : std::copysign(90.0, value);
    return finite(Pitch::from_degrees(held));
  }
  return std::nullopt;
}

std::string show_pitch(Pitch pitch) {
  std::string text = fmt::format("{:.2f}", pitch.in_12());
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) {
      text.pop_back();
    }
  }
  return text + "/12";
}

std::string show_pitch(Pitch pitch, Style style) {
  if (pitch.tangent() <= 0.0) {
    return "flat";
  }
  return style == Style::metric ? fmt::format("{:g} deg", std::round(10.0 * pitch.degrees()) / 10.0)
                                : show_pitch(pitch);
}

}  // namespace ridgeward::units
