#pragma once
// Vent products: generic entries as data (models/catalogues), in metres.

#include "base/fault.hpp"
#include "model/roof_model.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::model {

enum class VentKind {
  over_deck_intake,
  drip_edge_intake,  ///< at the deck's lower edge, behind the fascia
  soffit_strip,      ///< along the soffit of an eave's overhang
  soffit_piece,      ///< single grilles in such a soffit
  ridge_vent,
  hip_vent,
  box_vent,
  gable_louvre,
  turbine,
  powered
};

/// "over_deck_intake", ... as in the catalogue.
const char* word(VentKind kind);
/// Whether vents of this kind let air in low down; all others are exhaust.
bool is_intake(VentKind kind);
/// Whether they run along a line or an eave (free area per length) rather than by the piece.
bool runs_along(VentKind kind);
/// Whether they are set in the soffit under an overhang.
bool is_in_soffit(VentKind kind);
/// Whether they are set on a plane over a hole in its deck: box vents, turbines, powered vents.
bool stands_on_plane(VentKind kind);

struct SlotGeometry {
  double lower_line_m = 0.0;  ///< up the slope from the drip edge (eave position)
  /// Of the slot; for ridge and hip vents of the cut on each side; for vents set on a plane the
  /// side or diameter of the hole in the deck.
  double width_m = 0.0;
  double hold_back_m = 0.0;      ///< from gable-end walls; vents on a plane: from its border
  double hold_back_hip_m = 0.0;  ///< from hips, valleys and walls, along the eave
  /// From what obstacles need clear, along the eave; none: as from hips.
  std::optional<double> hold_back_obstacle_m;
  /// Up the slope from the butt of the row that is face-nailed (upslope position).
  double above_butt_m = 5 * units::inch_m;

  double hold_back_at_obstacle_m() const { return hold_back_obstacle_m.value_or(hold_back_hip_m); }
};

struct Product {
  std::string id;
  std::string what;  ///< plain words
  VentKind kind = VentKind::over_deck_intake;
  double free_area_per_length_m = 0.0;  ///< m2 per m
  double free_area_each_m2 = 0.0;
  double length_m = 0.0;  ///< of one piece
  double depth_m = 0.0;   ///< up the slope
  units::Pitch pitch_min;
  units::Pitch pitch_max;
  std::vector<Position> positions;
  SlotGeometry slot;
  double least_piece_m = 0.0;
  int nails_each = 0;
  double nail_length_m = 0.0;  ///< 0: not said
  /// Powered vents: the fan's flow without resistance, and the pressure difference across it at
  /// which nothing flows any more. Between the two the flow falls in a straight line.
  double fan_flow_m3s = 0.0;
  double fan_shut_pressure_pa = 0.0;
};

struct Catalogue {
  std::string name;
  std::map<std::string, Product> products;  ///< by id
  Faults warnings;                          ///< unknown keys and the like: the catalogue serves
};

/// Reads catalogue JSON (docs/catalogue.md); faults as model::read. Bare lengths are inches unless
/// the file says otherwise. Every product of the result has the free area its kind is measured by,
/// and a pitch range (all pitches where none is given).
Result<Catalogue> read_catalogue(std::string_view json);
Result<Catalogue> read_catalogue_file(const std::string& path);
std::string catalogue_schema();

}  // namespace ridgeward::model
