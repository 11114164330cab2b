#pragma once
// Lengths, areas and the order. Value types and the stage's one function.

#include "framing/framing.hpp"
#include "model/catalogue.hpp"
#include "model/roof_model.hpp"
#include "surface/surface.hpp"
#include "vents/vents.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::takeoff {

/// Lines and areas of one plane or of the whole roof, true lengths; lines between two planes count
/// once in the whole and for both planes beside them.
struct Lengths {
  double plan_area_m2 = 0.0;
  double area_m2 = 0.0;
  double eave_m = 0.0;
  double rake_m = 0.0;
  double ridge_m = 0.0;
  double hip_m = 0.0;
  double valley_m = 0.0;
  double wall_m = 0.0;  ///< headwall, sidewall and step wall
};

/// One line of the order.
struct OrderLine {
  std::string item;  ///< id in the catalogue, or a word of the trade: "drip edge", "nails"
  std::string unit;  ///< "section", "piece", "m", "m2"
  double quantity = 0.0;
  std::string for_what;               ///< the run, vent, plane, line or product that it is for
  std::optional<double> unit_price;   ///< from the model's `prices`, for one unit; none: no price
  std::optional<double> total_price;  ///< quantity at that price
};

/// The order in money; the currency is that of the model's prices.
struct Price {
  double sum = 0.0;       ///< over the lines that have a price
  int without_price = 0;  ///< lines that have none
};

/// Shingles of one plane, laid course by course.
struct ShingledPlane {
  PlaneId plane;
  int courses = 0;
  int whole = 0;             ///< laid uncut
  int cut = 0;               ///< pieces cut on the ground or on the roof
  int from_left_over = 0;    ///< of those, cut from a left-over
  int bought = 0;            ///< shingles opened for this plane
  double laid_m2 = 0.0;      ///< covered, openings taken off
  double waste_share = 0.0;  ///< bought exposures over what is covered, less 1
};

enum class CutKind {
  factory,  ///< as bought
  square,   ///< cut across
  mitre     ///< cut along a valley, a hip or another slanting border
};
/// "factory", ... as in the assessment.
const char* word(CutKind kind);

/// What a piece ends at.
enum class EndAt { joint, rake, valley, hip, wall, run_end };
const char* word(EndAt at);

/// One end of a piece of vent.
struct PieceEnd {
  CutKind kind = CutKind::square;
  EndAt at = EndAt::joint;
  /// Between the piece's edge and the cut, in the roof plane, the acute one: a right angle but at a
  /// mitre. At a valley or hip atan(tan(plan angle) / cos(slope)).
  double angle_rad = 0.0;
  /// Along the edge, from where the cut meets the lower edge to where it meets the upper one; 0 but
  /// at a mitre. The longer edge of the piece tells which way.
  double offset_m = 0.0;
};

/// A piece of vent in its place, from left to right seen from outside.
struct Piece {
  double length_m = 0.0;  ///< of its longer edge: what it takes of its section
  double lower_edge_m = 0.0;
  double upper_edge_m = 0.0;
  double from_m = 0.0;  ///< along the eave, or along the line, of its longer edge
  double to_m = 0.0;
  PieceEnd left;
  PieceEnd right;
  int section = 0;              ///< bought section, from 1 within its product
  double section_from_m = 0.0;  ///< where it lies in that section, from the section's left end
};

/// A strip of vent and the pieces that it is laid of.
struct SectionRun {
  std::string run;      ///< id of the run or vent in the model
  std::string over;     ///< id of the slot; for exhaust of the vent
  std::string product;  ///< id in the catalogue
  PlaneId plane;        ///< intake
  LineId line;          ///< exhaust
  double length_m = 0.0;
  std::vector<Piece> pieces;
  /// Underlayment over an intake vent, cut to `cover_width_m` from a strip of `cover_strip_m`; 0
  /// where none is laid, or the ice barrier of the plane goes over it.
  double cover_length_m = 0.0;
  double cover_width_m = 0.0;
  double cover_strip_m = 0.0;
};

/// What is bought of a product that is cut to length.
struct Purchase {
  std::string product;
  double section_m = 0.0;
  int bought = 0;
  int lower_bound = 0;    ///< no plan buys fewer
  bool is_least = false;  ///< proven: no plan under the rules of docs/takeoff.md buys fewer
  double laid_m = 0.0;    ///< sum of the strips
  double waste_m = 0.0;   ///< bought, less what is laid
};

struct Takeoff {
  IndexedVector<PlaneId, Lengths> planes;
  Lengths totals;
  std::vector<OrderLine> order;
  std::vector<SectionRun> sections;     ///< intake in the order of its slots, then exhaust
  std::vector<Purchase> purchases;      ///< by product
  std::vector<ShingledPlane> shingles;  ///< by plane, crickets left out
  Price price;
};

Takeoff count(const model::RoofModel& model, const model::Catalogue& catalogue,
              const surface::Surface& surface, const vents::Vents& vents);

}  // namespace ridgeward::takeoff
