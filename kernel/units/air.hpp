#pragma once
// Flow and pressure of air as makers of fans print them. Inside: cubic metres a second, pascals.

#include <optional>
#include <string_view>

namespace ridgeward::units {

/// "1000 cfm", "1000 ft3/min", "0.5 m3/s", "1700 m3/h", "470 l/s" in m3/s; none for anything else.
std::optional<double> parse_flow(std::string_view text);
/// "60 Pa", "0.06 kPa", "0.25 in wg" (inches of water) in Pa; none for anything else.
std::optional<double> parse_pressure(std::string_view text);

}  // namespace ridgeward::units
