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

/// The part of a slot over one bay.
struct SlotBay {
  BayId bay;
  double open_length_m = 0.0;  ///< clear of rafters
  double share_m = 0.0;        ///< length of vent that serves the bay, rafter centre to centre
  double free_area_m2 = 0.0;   ///< the smaller of vent and slot opening; counted only when live
  bool live = false;
};

/// Where a slot crosses a rafter: no conflict, but crews want to know.
struct Crossing {
  MemberId member;
  double at_m = 0.0;       ///< centre of the rafter from the slot's start
  double covered_m = 0.0;  ///< of the slot's length; less than its thickness at the slot's ends
};

/// One slot cut in the deck.
struct Slot {
  std::string id;   ///< "south/1"
  std::string run;  ///< id of the run in the model
  std::string product;
  PlaneId plane;
  model::Position position = model::Position::eave;
  double lower_line_m = 0.0;  ///< up the slope from the drip edge
  /// The drip edge below it in plane coordinates: not 0 where a plane's eaves lie at two heights.
  double drip_v_m = 0.0;
  double wall_line_m = 0.0;  ///< of the wall beneath, up the slope from the drip edge
  double width_m = 0.0;
  double start_m = 0.0;  ///< along the eave from the plane's left end seen from outside
  double end_m = 0.0;
  glm::dvec3 from{0.0};  ///< ends of the lower line
  glm::dvec3 to{0.0};
  CompartmentId compartment;  ///< of its first live bay; none when no bay is live
  double free_area_m2 = 0.0;  ///< sum over live bays
  std::vector<SlotBay> bays;
  std::vector<Crossing> crossings;
  double vent_length_m = 0.0;     ///< of vent laid over it, rake to rake or hip to hip
  bool is_over_overhang = false;  ///< its upper line lies outside the wall line
  bool is_blocked = false;        ///< over the overhang, with solid blocking on the plate
  /// Between insulation and deck, square to the deck, at the slot or, for a slot further out, over
  /// the inner face of the plate; none when the slot serves no compartment.
  std::optional<double> space_over_insulation_m;

  /// Its lower line in plane coordinates.
  double lower_v_m() const { return drip_v_m + lower_line_m; }
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
  LineId line;    ///< for vents along a line
  PlaneId plane;  ///< for vents on a plane
  double length_m = 0.0;
  double free_area_m2 = 0.0;         ///< the smaller of the vent's own and the cut slot's
  CompartmentId compartment;         ///< none when it serves several, or nothing
  std::vector<ExhaustShare> shares;  ///< bay by bay; empty over attics
  glm::dvec3 from{0.0};
  glm::dvec3 to{0.0};          ///< equal to `from` for vents on a plane
  std::string vent;            ///< id of the vent in the model
  double open_length_m = 0.0;  ///< ridge vents: clear of rafters, the shorter of both sides
  double slot_area_m2 = 0.0;   ///< ridge vents: cut open between the rafters, both sides
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
