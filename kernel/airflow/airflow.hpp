#pragma once
// Where the air goes: openings, bays and spaces, case by case. Value types only.
// docs/airflow.md tells how it is worked out and how far it can be trusted.

#include "base/ids.hpp"
#include "model/roof_model.hpp"

#include <glm/vec3.hpp>

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::airflow {

/// What an opening is there for: let air in low down, let it out high up, or nothing: leaks.
enum class Role { intake, exhaust, leak };
const char* word(Role role);

/// Part of an opening's flow that passes one bay.
struct BayShare {
  BayId bay;
  double share = 0.0;
};

/// One way in or out of one air space.
struct Way {
  std::string id;  ///< of the slot, of the exhaust; "ceiling of attic"
  Role role = Role::intake;
  SlotId slot;        ///< none but for intake slots
  ExhaustId exhaust;  ///< none but for exhausts
  CompartmentId compartment;
  double free_area_m2 = 0.0;
  glm::dvec3 at{0.0};
  /// Into which the air goes: under the slot, or, behind a boxed soffit, all along the eave. The
  /// shares sum to 1.
  std::vector<BayShare> bays;
  SpaceId overhang;     ///< the boxed soffit through which it goes; none where there is none
  bool is_fan = false;  ///< a powered vent
  /// No table covers the wind there: below a valley, beside a wall or a higher roof.
  bool is_wind_unsure = false;
};

/// Flows into the space are positive. Volumes at the density of the air that passes.
struct OpeningFlow {
  double flow_m3s = 0.0;     ///< net
  double mass_kgs = 0.0;     ///< net
  double in_kgs = 0.0;       ///< at least 0; differs from the net where air goes both ways
  double out_kgs = 0.0;      ///< at least 0
  double pressure_pa = 0.0;  ///< outside less inside, at the opening
  double speed_ms = 0.0;     ///< through the free area
  bool role_kept = true;  ///< no air, or air the right way, but for 2 % of what the space takes in
  /// Where the wind may press or draw at a vent up a slope, the net flow with both signs: the least
  /// and the most of three runs. Elsewhere both are `flow_m3s`.
  double least_m3s = 0.0;
  double most_m3s = 0.0;
  bool is_sign_unsure = false;  ///< the role is kept in one of these runs and not in another
};

/// Air that a slot lets into or out of a bay, or that flows along it.
struct BayFlow {
  BayId bay;
  double flow_m3s = 0.0;       ///< up the bay positive
  double speed_ms = 0.0;       ///< under the deck
  double temperature_c = 0.0;  ///< mean, of the air in it
};

/// One compartment in one case.
struct SpaceAir {
  CompartmentId compartment;
  double air_c = 0.0;
  double deck_c = 0.0;  ///< inner face of its coldest plane
  double in_kgs = 0.0;  ///< all that comes in
  double air_changes_per_h = 0.0;
  std::optional<double> neutral_level_m;  ///< where inside and outside press alike; calm cases
  double intake_share = 0.0;              ///< of what comes in: through intake
  double exhaust_fed_share = 0.0;         ///< through exhaust vents
  double house_share = 0.0;               ///< through the ceiling
  double deck_humidity = 0.0;   ///< relative, at the coldest deck; 1 and more: condensation
  double melt_kg_m2_day = 0.0;  ///< snow melted from beneath while it freezes outside
  /// Where the heat allows two answers: the other temperature.
  std::optional<double> other_air_c;
};

enum class CaseKind { winter, frost, summer, ice, wind, own };

struct CaseAir {
  model::AirCase conditions;
  CaseKind kind = CaseKind::own;
  std::vector<OpeningFlow> openings;  ///< as Airflow::openings
  std::vector<BayFlow> bays;          ///< bays that a slot opens onto
  IndexedVector<CompartmentId, SpaceAir> spaces;
  double house_pa = 0.0;           ///< in the rooms, at the ceiling, over the outside air there
  double air_changes_per_h = 0.0;  ///< of all compartments together
  /// The same over both signs of the wind, where a vent lies where it has two.
  double least_air_changes_per_h = 0.0;
  double most_air_changes_per_h = 0.0;
  bool has_two_signs = false;
  double attic_c = 0.0;                   ///< of the largest compartment
  std::optional<double> neutral_level_m;  ///< of the largest compartment
};

/// How an opening does over the standard winds.
struct WindRecord {
  int winds = 0;
  int kept = 0;    ///< winds under which it does what it is there for
  int unsure = 0;  ///< winds under which that hangs on the sign of the wind's pressure
  double share() const { return winds == 0 ? 1.0 : static_cast<double>(kept) / winds; }
};

struct Airflow {
  std::vector<Way> openings;
  std::vector<CaseAir> cases;
  std::vector<WindRecord> winds;  ///< by opening; leaks have none
  /// Index into `cases` of the standard wind under which the least air comes in through intake;
  /// none without vents.
  std::optional<std::size_t> worst_wind;
  std::vector<std::string> assumptions;
  std::vector<std::string> cautions;

  /// The first case of a kind; null when there is none.
  const CaseAir* first(CaseKind kind) const;
};

}  // namespace ridgeward::airflow
