#pragma once
// What a tape is hooked on where an eave or ridge ends beneath another part's roof, and how
// distances from a hook are told.

#include "assess.hpp"
#include "units/length.hpp"

#include <glm/vec2.hpp>

#include <optional>
#include <string>

namespace ridgeward::papers {

/// Another part's roof that hangs over the end of an eave or ridge, where the plane is drawn to
/// end.
struct Overhang {
  std::string part;
  double to_wall_m = 0.0;  ///< level, from the end as drawn to that part's wall
  /// Whether the deck goes on to the wall with room above it, so that a tape hooks there; else what
  /// is measured from lies plumb below the drip line of that roof.
  bool goes_on = false;
};

/// A place at the border of a plane, and which ways the border and the plane go on from it; plane
/// coordinates, unit directions.
struct BorderEnd {
  PlaneId plane;
  glm::dvec2 uv{0.0};
  glm::dvec2 out{0.0};  ///< along the border and beyond its end
  glm::dvec2 in{0.0};   ///< into the plane
};

/// The overhang above an end whose `hook` is a wall, and the hook by its name where a tape can't
/// reach the wall or the border is not measured on to it. None where the wall itself stands there.
std::optional<Overhang> take_overhang(const Assessment& assessment, const BorderEnd& end,
                                      bool is_measured_on, std::string& hook);

/// A distance from a hook: `6" beyond` of what lies on the other side of it.
std::string mark_words(double from_hook_m, units::Style style);
/// "3' 0" from the LEFT wall", "6" beyond the LEFT valley corner".
std::string from_words(double from_hook_m, const std::string& hook, units::Style style);

/// What a crew must know of an end beneath another roof: where to hook, or from what to plumb down.
/// `end`: "On the left", "At the west end".
std::string over_words(const std::string& end, const Overhang& over, units::Style style);

}  // namespace ridgeward::papers
