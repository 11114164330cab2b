#pragma once
// Vent products: generic entries as data (models/catalogues), in metres.

#include "base/fault.hpp"
#include "model/roof_model.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace ridgeward::model {

enum class VentKind {
  over_deck_intake,
  soffit_strip,
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

struct SlotGeometry {
  double lower_line_m = 0.0;     ///< up the slope from the drip edge (intake)
  double width_m = 0.0;          ///< of the slot; for ridge vents of the cut on each side
  double hold_back_m = 0.0;      ///< from gable-end walls
  double hold_back_hip_m = 0.0;  ///< from hips, valleys and walls, along the eave
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
