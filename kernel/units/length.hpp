#pragma once
// Lengths as people write them, and back. With pitch.hpp and area.hpp the only home of inches.
//
// Inside the program every length is a double in metres. Read lengths are rounded to the input
// grid of 1/8 micrometre, in which 1/64 in (3175 steps) and 1 mm (8000 steps) are whole, so that
// both survive reading exactly and coordinates that were meant to agree do agree.

#include <optional>
#include <string>
#include <string_view>

namespace ridgeward::units {

enum class LengthUnit { ft, in, m, mm };
/// How lengths are shown to people.
enum class Style { feet_inches, metric };

inline constexpr double inch_m = 0.0254;
inline constexpr double foot_m = 0.3048;
inline constexpr double grid_m = 0.125e-6;

/// "ft", "in", "m", "mm"; none for anything else.
std::optional<LengthUnit> unit_named(std::string_view word);
/// How people who draw in `unit` read lengths and slopes.
Style style_of(LengthUnit unit);
/// Metres in one `unit`.
double metres_in(LengthUnit unit);
/// `length_m` moved to the nearest point of the input grid; REQUIRES a finite value.
double on_grid(double length_m);

/// Reads "28' 6 1/2\"", "28 ft 6.5 in", "9 1/4 in", "350 mm", "1.2 m", "3/4\"", "-2'"; a text
/// without unit is in `bare`. Result in metres, on the grid. None if the text is not a length.
std::optional<double> parse_length(std::string_view text, LengthUnit bare);

/// "28' 6 1/2\"", rounded to 1/`denominator` inch (a power of two); "0\"" for nothing, "-" before
/// negative ones. "9 1/4\"" below one foot.
std::string feet_inches(double length_m, int denominator = 8);
/// `style` decides between feet_inches() and "8.700 m" (metres) or "232 mm" (below one metre).
std::string show(double length_m, Style style);

}  // namespace ridgeward::units
