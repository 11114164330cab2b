#pragma once
// Intake slots, exhaust vents, and what they open onto. Value types only.

#include "attic/attic.hpp"
#include "base/ids.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"

#include <glm/vec3.hpp>

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::vents {

/// What keeps a slot over the overhang from the space within the walls.
enum class Block { none, blocking, insulation, plate, closed_soffit };

/// The part of a slot over one bay.
struct SlotBay {
  BayId bay;
  double open_length_m = 0.0;  ///< clear of rafters
  double share_m = 0.0;        ///< length of vent that serves the bay, rafter centre to centre
  double free_area_m2 = 0.0;   ///< the smaller of vent and slot opening; counted only when live
  bool live = false;           ///< air goes on to an exhaust, and nothing blocks its way in
  Block block = Block::none;   ///< what shuts its way in
  /// Between insulation and deck, square to the deck, at the slot or, for a slot further out, over
  /// the inner face of the plate; none where the bay opens to no space.
  std::optional<double> space_over_insulation_m;
  /// Between the plate's outer edge and the deck, square to the deck: heel x cos(slope) - deck, 0
  /// where none is left. Of slots over the overhang where the heel of the bay's wall is given.
  std::optional<double> over_plate_m;

  /// The lesser of both: the least height under the deck on the way in. None where neither is.
  std::optional<double> least_open_m() const;
  /// Whether the two figures count for the slot and the code: the bay leads to an exhaust, and
  /// neither blocking nor a soffit shuts the way before insulation or plate could.
  bool is_judged() const;
};

/// Where a slot crosses a rafter: no conflict, but crews want to know.
struct Crossing {
  MemberId member;
  double at_m = 0.0;       ///< centre of the rafter from the slot's start
  double covered_m = 0.0;  ///< of the slot's length; less than its thickness at the slot's ends
};

/// Where the courses of shingles lie that the upslope position is counted from: row 1 is the first
/// course over the starter. All up the slope from the drip edge. Common practice, no source.
struct Courses {
  int wall_row = 1;  ///< whose exposure contains the outer wall line; the next is laid whole
  double exposure_m = 0.0;
  double wall_row_butt_m = 0.0;
  double whole_row_butt_m = 0.0;  ///< of the row above the wall row, which is laid and nailed whole
  double faced_row_butt_m = 0.0;  ///< of the next one, which is face-nailed; the vent stands here
  double face_nails_m = 0.0;      ///< line of the face nails on it
  double top_nails_below_m = 0.0;  ///< four more nails a shingle, this far below its top

  int whole_row() const { return wall_row + 1; }
  int faced_row() const { return wall_row + 2; }
};

/// How the strip of vent is cut where a valley or a hip crosses it.
struct Mitre {
  LineId line;
  bool is_valley = false;
  double plan_angle_rad = 0.0;   ///< between eave and line in plan, inside the plane
  double strip_angle_rad = 0.0;  ///< the same in the roof plane: atan(tan(plan angle) / cos(slope))
  /// Along the eave, from where the line meets the strip's lower edge to where it meets the upper
  /// one: depth / tan(strip angle). The longer edge is the upper one at a valley.
  double offset_m = 0.0;
};

/// One opening for intake: a slot cut in the deck, or a vent in the soffit.
struct Slot {
  std::string id;   ///< "south/1"
  std::string run;  ///< id of the run in the model
  std::string product;
  model::VentKind kind = model::VentKind::over_deck_intake;
  PlaneId plane;
  model::Position position = model::Position::eave;
  /// Up the slope from the drip edge; of a vent in the soffit, plumb over its outer edge.
  double lower_line_m = 0.0;
  /// The drip edge below it in plane coordinates: not 0 where a plane's eaves lie at two heights.
  double drip_v_m = 0.0;
  double wall_line_m = 0.0;    ///< of the wall beneath, up the slope from the drip edge
  std::size_t wall_part = 0;   ///< whose wall that is, index into RoofModel::parts
  double inner_face_m = 0.0;   ///< of that wall's plate, likewise
  double ice_barrier_m = 0.0;  ///< how far up the ice barrier reaches; 0 where none is asked for
  double width_m = 0.0;
  double start_m = 0.0;  ///< along the eave from the plane's left end seen from outside
  double end_m = 0.0;
  glm::dvec3 from{0.0};  ///< ends of the lower line
  glm::dvec3 to{0.0};
  CompartmentId compartment;  ///< of its first live bay; none when no bay is live
  double free_area_m2 = 0.0;  ///< sum over live bays
  std::vector<SlotBay> bays;
  std::vector<Crossing> crossings;
  double vent_length_m = 0.0;  ///< of vent laid over it, rake to rake or hip to hip
  double vent_from_m = 0.0;    ///< along the eave, of its longer edge
  double vent_to_m = 0.0;
  double vent_low_m =
      0.0;  ///< its lower edge, up the slope from the drip edge; eave: 1 in below it
  std::optional<Mitre> left_mitre;
  std::optional<Mitre> right_mitre;
  std::optional<Courses> courses;  ///< upslope position
  bool is_over_break = false;      ///< counted from a pitch break: the plane has no eave
  bool is_over_overhang = false;   ///< its upper line lies outside the wall line
  bool is_blocked = false;         ///< every bay that leads to an exhaust is: nothing of it counts
  Block block = Block::none;       ///< of such a slot, what blocks the first of them
  /// The least of its judged bays; none when it has none.
  std::optional<double> space_over_insulation_m;
  std::optional<double> over_plate_m;  ///< likewise

  /// The least height under the deck on the way in, over all judged bays.
  std::optional<double> least_open_m() const;
  /// Its lower line in plane coordinates.
  double lower_v_m() const { return drip_v_m + lower_line_m; }
  double upper_line_m() const { return lower_line_m + width_m; }
};

/// The part of an exhaust over one space, where it serves rafter spaces.
struct ExhaustShare {
  SpaceId space;
  BayId bay;  ///< none for an attic
  CompartmentId compartment;
  double open_length_m = 0.0;  ///< along its line, clear of rafters; 0 on a plane
  double free_area_m2 = 0.0;
  double low_m = 0.0;  ///< height of its lowest point
};

struct Exhaust {
  std::string id;
  std::string product;
  model::VentKind kind = model::VentKind::ridge_vent;
  LineId line;       ///< for vents along a line
  PlaneId plane;     ///< for vents on a plane
  std::string wall;  ///< for vents in a gable wall: its part and edge, "main/1"
  double length_m = 0.0;
  double from_m = 0.0;  ///< vents along a line: their ends from where the line is measured
  double to_m = 0.0;
  double free_area_m2 = 0.0;         ///< the smaller of the vent's own and the cut slot's
  CompartmentId compartment;         ///< none when it serves several, or nothing
  std::vector<ExhaustShare> shares;  ///< bay by bay; empty over attics
  glm::dvec3 from{0.0};
  glm::dvec3 to{0.0};          ///< equal to `from` for vents on a plane
  std::string vent;            ///< id of the vent in the model
  double open_length_m = 0.0;  ///< ridge and hip vents: clear of rafters, the shorter of both sides
  double slot_area_m2 = 0.0;   ///< ridge and hip vents: cut open between the rafters, both sides
  glm::dvec2 at_uv{0.0};       ///< vents on a plane: their place, plane coordinates
  double hole_m = 0.0;         ///< vents on a plane: side of the hole in the deck
};

/// Whether an exhaust serves a compartment, and with how much.
bool serves(const Exhaust& exhaust, CompartmentId compartment);
double free_area_over_m2(const Exhaust& exhaust, CompartmentId compartment);
/// Whether it serves anything at all.
bool serves_any(const Exhaust& exhaust);

/// One step of the air from space to space.
struct Step {
  JoinId join;
  SpaceId into;
};

struct BayState {
  bool live = false;
  std::string why;         ///< path to an exhaust, or the reason there is none
  std::vector<Step> path;  ///< from the space at its foot to that of `exhaust`
  ExhaustId exhaust;       ///< the first on the way out; none when not live
};

struct CompartmentTotals {
  double intake_m2 = 0.0;
  double exhaust_m2 = 0.0;
  /// Intake over both; 0 when there is neither.
  double intake_share() const;
};

struct Vents {
  IndexedVector<SlotId, Slot> slots;
  IndexedVector<ExhaustId, Exhaust> exhausts;
  IndexedVector<BayId, BayState> bays;
  IndexedVector<CompartmentId, CompartmentTotals> totals;
  std::vector<std::string> assumptions;
};

}  // namespace ridgeward::vents
