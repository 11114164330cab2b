#pragma once
// What a crew measures: slots, vents and rafters from edges that a tape can hook on.

#include "assess.hpp"
#include "units/length.hpp"

#include <glm/vec2.hpp>

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::papers {

/// A rafter under a slot: its centre from both ends of the eave.
struct RafterMark {
  MemberId member;
  double from_left_m = 0.0;
  double from_right_m = 0.0;
};

/// A vent in a soffit, which is level: all measured level, square to the eave.
struct SoffitMarks {
  double from_edge_m = 0.0;  ///< its outer edge, from the outer edge of the eave
  double to_edge_m = 0.0;    ///< its inner edge, likewise
  double from_wall_m = 0.0;  ///< its inner edge, from the wall's outer face
  double wide_m = 0.0;       ///< the product's depth
};

/// Another part's roof that hangs over the end of an eave or ridge, where the plane is drawn to
/// end.
struct Overhang {
  std::string part;
  double to_wall_m = 0.0;  ///< level, from the end as drawn to that part's wall
  /// Whether the deck goes on to the wall with room above it, so that a tape hooks there; else what
  /// is measured from lies plumb below the drip line of that roof.
  bool goes_on = false;
};

/// Along the eave from its ends at the drip edge, which are what a tape hooks on; `left` and
/// `right` as seen from outside. Beneath another part's overhang an eave ends at that part's wall,
/// where the deck goes on to it. Law: each pair of distances sums to `eave_m`.
struct SlotMarks {
  std::string
      left_hook;  ///< what the eave ends at: "rake edge", "hip corner", "valley corner", ...
  std::string right_hook;  ///< likewise
  std::optional<Overhang> left_over;
  std::optional<Overhang> right_over;
  double hook_u_m = 0.0;  ///< of the left end, along the plane
  double eave_m = 0.0;    ///< from end to end
  double start_from_left_m = 0.0;
  double start_from_right_m = 0.0;
  double end_from_left_m = 0.0;
  double end_from_right_m = 0.0;
  double vent_from_left_m = 0.0;  ///< where the vent's longer edge starts; below 0: beyond the eave
  double vent_end_from_left_m = 0.0;
  double vent_high_m = 0.0;  ///< upper edge of the vent, up the slope from the drip edge
  double length_m = 0.0;     ///< of the slot
  double deck_m = 0.0;       ///< thickness of the deck: how deep the saw is set
  std::vector<RafterMark> rafters;
  std::optional<SoffitMarks> soffit;

  /// "LEFT rake edge": both ends of an eave may bear one name, so the side is told with it.
  std::string left_words() const { return "LEFT " + left_hook; }
  std::string right_words() const { return "RIGHT " + right_hook; }
};
/// REQUIRES a slot of the assessment.
SlotMarks marks_of(const Assessment& assessment, const vents::Slot& slot);

/// One side of a slot along a ridge or hip: square to the line, along the plane.
struct ChalkedSide {
  PlaneId plane;
  double near_m = 0.0;  ///< face of the ridge board or hip rafter, where the opening starts
  double far_m = 0.0;   ///< where the deck is cut
};

/// A vent along a ridge or hip, measured from the ends of the line.
struct RidgeMarks {
  std::string first_hook;  ///< what the line starts at: "rake edge", "hip", "valley", "wall", ...
  std::string last_hook;
  std::optional<Overhang> first_over;  ///< a ridge is measured as it is drawn all the same
  std::optional<Overhang> last_over;
  /// Which end it is, for one who stands there: "foot" and "top" of what rises, else by the compass
  /// and the model's north, "west end". Law: the two differ.
  std::string first_end;
  std::string last_end;
  double line_m = 0.0;
  double deck_m = 0.0;  ///< thickness of the deck, the thinner one of both sides
  double start_from_first_m = 0.0;
  double end_from_first_m = 0.0;
  double end_from_last_m = 0.0;
  std::vector<ChalkedSide> sides;

  /// "west end (rake edge)", "foot".
  std::string first_words() const;
  std::string last_words() const;
};
/// REQUIRES an exhaust along a line.
RidgeMarks marks_of(const Assessment& assessment, const vents::Exhaust& exhaust);

/// A vent set on a plane. `from_left_m`, `down_m`: its middle from the plane's leftmost corner,
/// level, and from its highest one down the slope; for drawings. For the tape: along the line that
/// bounds the plane above it (else below it), from that line's left end seen from outside, then
/// square to the line. Where neither lies there, from the plane's highest corner.
struct PlaceMarks {
  double from_left_m = 0.0;
  double down_m = 0.0;
  std::string hook;  ///< "LEFT (west) end of the ridge", "highest corner"
  LineId line;       ///< none at a corner
  glm::dvec2 hook_uv{0.0};
  double along_m = 0.0;
  double slope_m = 0.0;     ///< from the line down the slope, or up
  bool is_up = false;       ///< from an eave or a pitch break below
  bool is_to_left = false;  ///< of the hook; only at a corner
};
/// REQUIRES an exhaust on a plane.
PlaceMarks place_of(const Assessment& assessment, const vents::Exhaust& exhaust);

/// The strip of vent over a slot, with its mitred ends; plane coordinates.
std::vector<glm::dvec2> vent_strip(const vents::Slot& slot, const SlotMarks& marks);

/// "south-east": to what a direction in plan points, by the model's north.
std::string compass_words(const Assessment& assessment, glm::dvec2 direction);

/// A distance from a hook: `6" beyond` of what lies on the other side of it.
std::string mark_words(double from_hook_m, units::Style style);
/// "3' 0" from the LEFT wall", "6" beyond the LEFT valley corner".
std::string from_words(double from_hook_m, const std::string& hook, units::Style style);

/// What a crew must know of an end beneath another roof: where to hook, or from what to plumb down.
/// `end`: "On the left", "At the west end".
std::string over_words(const std::string& end, const Overhang& over, units::Style style);

/// A rafter's or bay's own number: "r3" of "main/0/r3".
std::string short_name(const std::string& id);

}  // namespace ridgeward::papers
