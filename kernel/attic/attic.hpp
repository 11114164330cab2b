#pragma once
// The air under the roof: spaces, what joins them, and the compartments that they make up. Value
// types only.

#include "base/ids.hpp"
#include "model/roof_model.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::attic {

/// The ceiling over the walls of one part, or one of several ceilings.
struct Level {
  static constexpr std::size_t any_part = static_cast<std::size_t>(-1);
  std::size_t part = 0;                          ///< index into RoofModel::parts, or any_part
  std::vector<std::vector<glm::dvec2>> outline;  ///< its walls in plan
  double height_m = 0.0;
};

enum class SpaceKind {
  attic,         ///< over a flat ceiling, or over a blind deck
  rafter_space,  ///< one bay over a sloped ceiling
  overhang,      ///< along one eave, outside the walls: no vented space, but a way in
  gap            ///< along a hip or valley that is dropped or drilled
};
/// "attic", "rafter_space", ... as in the assessment.
const char* word(SpaceKind kind);

/// One room of air: within it, air goes freely.
struct Space {
  SpaceKind kind = SpaceKind::attic;
  std::string id;                 ///< "loft"; "vault main/0/b3"; "overhang main/0|eave"; "gap a|b"
  CompartmentId compartment;      ///< none for overhangs, and for gaps that join nothing
  std::string ceiling;            ///< id of the ceiling under it; empty for overhangs and gaps
  std::size_t overlaid_part = 0;  ///< of spaces over blind decks: the part that stands on them
  PlaneId plane;                  ///< of rafter spaces and overhangs
  BayId bay;                      ///< of rafter spaces
  LineId line;                    ///< of overhangs and gaps
  std::vector<std::vector<glm::dvec2>> outline;  ///< in plan; rafter spaces: between the rafters
  double floor_area_m2 = 0.0;  ///< in plan; rafter spaces: to the middle of the rafters
  double volume_m3 = 0.0;      ///< attics: ceiling to deck; rafter spaces: insulation to deck
  double top_m = 0.0;          ///< highest point of the roof over it
  double bottom_m = 0.0;       ///< ceiling, the lowest of several; rafter spaces: roof at its foot
  double insulation_m = 0.0;
  bool baffles = false;       ///< keep an air space open between insulation and deck
  bool is_over_deck = false;  ///< an attic over blind decks, with no ceiling of its own
  double clear_m = 0.0;       ///< rafter spaces: between insulation and deck, square to the deck
  /// Of attics of several parts that are open to each other: ceilings part by part. Where the walls
  /// of two lie over each other, that of the part whose roof is on top holds, else the earlier's.
  /// Empty: one ceiling at `bottom_m`.
  std::vector<Level> levels;

  /// Height of the ceiling at a point in plan over which a plane of `part` lies.
  double ceiling_at(glm::dvec2 plan, std::size_t part) const;
};

enum class JoinKind {
  over_plate,    ///< overhang to what lies inside the wall, between insulation and deck
  bay_end,       ///< a rafter space runs out into an attic: over a knee wall, over collar ties
  goes_on,       ///< a rafter space carries on over the next sloped ceiling
  side_by_side,  ///< two attics with nothing between them
  pitch_break,   ///< a bay carries on above a pitch break
  line_gap,      ///< a bay, or a gap, opens into the gap at a hip or valley
  header,        ///< holes beside a header, into the next bay
  deck_opening   ///< an opening cut in a blind deck
};
/// "over_plate", ... as in the assessment.
const char* word(JoinKind kind);

/// A way for air between two spaces.
struct Join {
  JoinKind kind = JoinKind::over_plate;
  SpaceId one;  ///< over_plate: the overhang; bay_end, line_gap: the rafter space
  SpaceId other;
  BayId bay;             ///< through which it leads, none where it leads through none
  BayId other_bay;       ///< pitch_break, header: the bay that it leads into
  LineId line;           ///< hip, valley, pitch break, eave
  double area_m2 = 0.0;  ///< clear; gaps and holes, of which no size is known: 0
  glm::dvec3 at{0.0};    ///< on the roof surface
  bool is_open = true;   ///< false: blocked, or no height is left for air
};

/// Where a rafter space comes to a line at its plane's border, from left to right.
struct Contact {
  SpaceId space;
  BayId bay;
  LineId line;
  glm::dvec3 from{0.0};
  glm::dvec3 to{0.0};
};

/// Spaces that exchange air with each other and with no other, but for the overhangs.
struct Compartment {
  std::string id;  ///< the ceiling's, several with "+"; rafter spaces: "vault main/0/b3"
  std::vector<SpaceId> spaces;
  bool is_rafter_space = false;  ///< bays under a sloped ceiling, no attic among them
  std::vector<std::vector<glm::dvec2>> outline;  ///< in plan; loops of several spaces may touch
  double floor_area_m2 = 0.0;
  double volume_m3 = 0.0;
  double top_m = 0.0;         ///< highest point
  double bottom_m = 0.0;      ///< height of its ceiling; of the lowest where there are several
  double insulation_m = 0.0;  ///< of its first space
  bool baffles = false;       ///< likewise
  std::vector<Level> levels;  ///< as of its spaces

  /// Height of the ceiling at a point in plan over which a plane of `part` lies.
  double ceiling_at(glm::dvec2 plan, std::size_t part) const;
};

/// A stretch of a bay over one space.
struct Stretch {
  SpaceId space;
  double low_v_m = 0.0;
  double high_v_m = 0.0;
};

/// What lies under a bay where it comes in over the wall.
enum class Under {
  space,        ///< a vented space
  overhang,     ///< nothing but the overhang
  beyond_wall,  ///< a rake overhang
  no_ceiling,   ///< walls, but no ceiling
  no_height,    ///< a ceiling above which the roof does not rise
  open_room,    ///< a room open up to the deck
  foam,         ///< foam at the deck: no vent may be cut
  stopped,      ///< the bay is stopped up at its foot: model::MeasuredEdge::stopped_m
  blind_deck    ///< see BayPlace::why
};

/// Which space a bay opens to; none with the reason when it opens to none.
struct BayPlace {
  CompartmentId compartment;
  SpaceId space;  ///< that air coming in at its foot reaches first; the one of `compartment`
  std::vector<Stretch> stretches;  ///< all spaces under it, from below
  Under under = Under::space;
  std::string why;  ///< a foreman's words: "open to attic", "only over the overhang"
  /// Bays with their foot at an eave and a space inside: the clear height between insulation and
  /// deck at the plate, square to the deck; 0 where none is left.
  std::optional<double> throat_m;
  bool is_blocked = false;  ///< solid blocking stands on the plate
};

/// A ceiling with no vented space over it.
struct Sealed {
  std::string id;
  model::CeilingKind kind = model::CeilingKind::unvented;  ///< or open
  std::vector<std::vector<glm::dvec2>> outline;
};

struct Attic {
  IndexedVector<CompartmentId, Compartment> compartments;
  IndexedVector<SpaceId, Space> spaces;
  IndexedVector<JoinId, Join> joins;
  std::vector<Contact> contacts;        ///< of rafter spaces, bay by bay
  IndexedVector<BayId, BayPlace> bays;  ///< one for each bay of the framing
  std::vector<Sealed> sealed;
  std::vector<std::string> assumptions;

  /// The attic space just under the roof at a point in plan: over a blind deck the one above it.
  /// None when none lies there; on a border that two share, the first.
  SpaceId attic_under(glm::dvec2 plan) const;
  /// Its compartment.
  CompartmentId under(glm::dvec2 plan) const;
  /// The space under a place of a bay, in plane coordinates; none over none.
  SpaceId space_at(BayId bay, double v_m) const;
  /// The ceiling without vented space that holds the point in plan; null for none.
  const Sealed* sealed_under(glm::dvec2 plan) const;
};

}  // namespace ridgeward::attic
