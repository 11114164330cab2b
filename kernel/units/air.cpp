#include "units/air.hpp"

#include "units/length.hpp"
#include "units/scan.hpp"

#include <array>
#include <string>
#include <utility>

namespace ridgeward::units {

namespace {

/// The conventional inch of water: 13.595 1 mm of mercury per 1 000 mm of water at 9.806 65 m/s2.
constexpr double inch_of_water_pa = 9806.65 * inch_m;
constexpr double cubic_foot_m3 = foot_m * foot_m * foot_m;

using Unit = std::pair<std::string_view, double>;

/// A plain number followed by one of `units`.
template <std::size_t N>
std::optional<double> number_in(std::string_view text, const std::array<Unit, N>& units) {
  const std::string plain = plain_ascii(text);
  Scan scan(trimmed(plain));
  const std::optional<double> number = scan.take_mixed();
  scan.skip_spaces();
  if (!number) {
    return std::nullopt;
  }
  for (const auto& [word, factor] : units) {
    Scan rest = scan;
    if (rest.take(word) && rest.at_end()) {
      return *number * factor;
    }
  }
  return std::nullopt;
}

}  // namespace

std::optional<double> parse_flow(std::string_view text) {
  return number_in(text, std::array<Unit, 7>{{{"cfm", cubic_foot_m3 / 60.0},
                                              {"ft3/min", cubic_foot_m3 / 60.0},
                                              {"cu ft/min", cubic_foot_m3 / 60.0},
                                              {"m3/s", 1.0},
                                              {"m3/h", 1.0 / 3600.0},
                                              {"m3/min", 1.0 / 60.0},
                                              {"l/s", 0.001}}});
}

std::optional<double> parse_pressure(std::string_view text) {
  return number_in(text, std::array<Unit, 5>{{{"pa", 1.0},
                                              {"kpa", 1000.0},
                                              {"in wg", inch_of_water_pa},
                                              {"in wc", inch_of_water_pa},
                                              {"in h2o", inch_of_water_pa}}});
}

}  // namespace ridgeward::units
