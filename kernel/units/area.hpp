#pragma once
// Areas and free areas as people write them, and back. Inside: square metres, square metres per
// metre (which is metres).

#include "units/length.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace ridgeward::units {

inline constexpr double square_inch_m2 = inch_m * inch_m;
inline constexpr double square_foot_m2 = foot_m * foot_m;

/// "50 in2", "320 cm2", "0.02 m2", "3 ft2", "20000 mm2" in m2; none if it is not an area.
std::optional<double> parse_area(std::string_view text);
/// "10 in2/ft", "200 cm2/m", "10000 mm2/m" in m2 per m; none if it is not an area per length.
std::optional<double> parse_area_per_length(std::string_view text);

/// "1,120.0 ft2" or "104.05 m2".
std::string show_area(double area_m2, Style style);
/// Vent openings: "360 in2" or "2 323 cm2".
std::string show_free_area(double area_m2, Style style);

}  // namespace ridgeward::units
