#pragma once
// Roof pitch: rise over run. A type of its own because a bare 8 has three meanings.

#include "units/length.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace ridgeward::units {

/// Slope of a plane as rise per run (dimensionless, > 0 for a sloping plane).
class Pitch {
 public:
  Pitch() = default;
  static Pitch from_rise_run(double rise, double run) { return Pitch(rise / run); }
  static Pitch from_radians(double slope_rad);
  static Pitch from_degrees(double slope_deg);
  static Pitch from_percent(double percent) { return Pitch(percent / 100.0); }
  static Pitch from_tangent(double rise_per_run) { return Pitch(rise_per_run); }

  double tangent() const { return rise_per_run_; }
  /// Rise in 12 of run.
  double in_12() const { return rise_per_run_ * 12.0; }
  double radians() const;
  double degrees() const;
  /// Slope length over plan length, sqrt(1 + tangent^2).
  double slope_factor() const;
  bool operator==(const Pitch&) const = default;

 private:
  explicit Pitch(double rise_per_run) : rise_per_run_(rise_per_run) {}
  double rise_per_run_ = 0.0;
};

/// "8/12", "8:12", "8 in 12", "33.7 deg", "66.7 %"; none for anything else, also when not finite.
std::optional<Pitch> parse_pitch(std::string_view text);
/// "8/12" (at most two decimals: "7.25/12").
std::string show_pitch(Pitch pitch);
/// "8/12" in feet and inches, "33.7 deg" in metric (at most one decimal); "flat" for none.
std::string show_pitch(Pitch pitch, Style style);

}  // namespace ridgeward::units
