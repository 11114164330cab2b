#pragma once
// The roof as the user gives it, in metres, on the input grid, with defaults filled in.
// Field names follow the model file (docs/model.md); what each means stands there too.

#include "units/length.hpp"
#include "units/pitch.hpp"

#include <glm/vec2.hpp>

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace ridgeward::model {

enum class EdgeKind { eave, gable, gablet, half_hip, shed_top, wall };
/// Whether a roof plane rises from edges of this kind.
bool bears_plane(EdgeKind kind);

enum class Soffit { none, open, vented, closed };
enum class DrawnTo { wall, drip };
enum class Fascia { level, as_given };
enum class Valleys { framed, overlaid };
enum class Blocking { none, vented, solid };
enum class FramingKind { rafter, truss };
enum class CeilingKind { flat, sloped, open, unvented };
enum class ObstacleKind { chimney, skylight, pipe, solar };
/// "chimney", ... as in the model file.
const char* word(ObstacleKind kind);
enum class Position { eave, upslope };

/// Above `height_m` over the edge's own eave the plane goes on at `pitch` (gambrel, mansard).
struct Break {
  double height_m = 0.0;
  units::Pitch pitch;
  bool operator==(const Break&) const = default;
};

/// The side from outline[i] to outline[i + 1].
struct Edge {
  EdgeKind kind = EdgeKind::eave;
  units::Pitch pitch;       ///< of the plane that rises from it; unused for gable and shed_top
  double overhang_m = 0.0;  ///< horizontal, from the wall line to the drip line or rake
  Soffit soffit = Soffit::closed;
  double from_height_m = 0.0;  ///< half_hip: height above the plate at which the clipped end starts
  double wall_height_m = 0.0;  ///< gablet: height of the small gable on top
  std::vector<Break> breaks;
  bool operator==(const Edge&) const = default;
};

/// A courtyard: clockwise.
struct Hole {
  std::vector<glm::dvec2> outline;
  std::vector<Edge> edges;
};

/// What was measured along one edge, from its left end seen from outside.
struct MeasuredEdge {
  int edge = 0;
  std::vector<double> at_m;         ///< centres of members; none: they stand on the layout
  std::vector<double> stopped_m{};  ///< a place in each bay that is stopped up at its foot
};

/// Whether air gets past a member that a bay ends at: not at all; over it, because its top edge is
/// kept below the deck; or through holes.
enum class Way { tight, dropped, drilled };
/// "tight", ... as in the model file.
const char* word(Way way);

/// What the framing leaves open where bays end at it. Matters where each rafter space is by itself.
struct AirPast {
  Way hips = Way::tight;
  Way valleys = Way::tight;
  Way headers = Way::tight;
};

/// Level ties between rafters that meet at a ridge.
struct CollarTies {
  double height_m = 0.0;  ///< of their underside over the plate
  int every = 1;          ///< one at every pair of rafters, every second, ...
  std::string stock = "2x4";
};

struct Framing {
  FramingKind kind = FramingKind::rafter;
  double spacing_m = 24 * units::inch_m;
  std::string rafter = "2x8";
  std::string ridge = "2x10";
  std::string hip = "2x10";
  std::string valley = "2x10";
  double origin_m = 0.0;  ///< of the layout, from the left end of each wall seen from outside
  Blocking blocking = Blocking::none;
  bool lookouts = true;
  AirPast air_past;
  std::optional<CollarTies> collar_ties;
  std::vector<MeasuredEdge> measured;
};

struct Part {
  std::string id;
  std::vector<glm::dvec2> outline;  ///< counter-clockwise seen from above
  std::vector<Edge> edges;          ///< one for each side
  std::vector<Hole> holes;
  DrawnTo drawn_to = DrawnTo::wall;
  double wall_thickness_m = 6 * units::inch_m;
  double plate_m = 8 * units::foot_m;  ///< height of the top of the wall plate
  double heel_m = 0.0;                 ///< height of the deck above the plate at the wall line
  double deck_m = 0.5 * units::inch_m;
  Fascia fascia = Fascia::level;
  Valleys valleys = Valleys::framed;
  /// Overlaid parts: where the deck beneath is cut away, in plan, counter-clockwise.
  std::vector<std::vector<glm::dvec2>> deck_openings;
  /// Height above the plate at which the roof is cut off and closed by a flat deck.
  std::optional<double> flat_top_m;
  Framing framing;

  /// Edges are numbered through: the outline's first, then each hole's in turn.
  std::size_t edge_count() const;
  /// REQUIRES index < edge_count().
  const Edge& edge(std::size_t index) const;
};

struct Ceiling {
  std::string id;
  CeilingKind kind = CeilingKind::flat;
  std::vector<glm::dvec2> outline;
  double height_m = 0.0;
  double insulation_m = 0.0;
  bool baffles = false;
};

struct Divider {
  std::string id;
  glm::dvec2 from{0.0};
  glm::dvec2 to{0.0};
};

/// A cricket sheds the water behind a chimney.
enum class Cricket {
  where_needed,  ///< behind chimneys wider than 30 in across the slope (IRC R903.2.2)
  always,
  none
};

struct Obstacle {
  std::string id;
  ObstacleKind kind = ObstacleKind::chimney;
  std::vector<glm::dvec2> outline;  ///< in plan; empty when given on a plane
  std::string plane;
  glm::dvec2 at{0.0};    ///< along the eave, then up the slope
  glm::dvec2 size{0.0};  ///< likewise
  double clearance_m = 0.0;
  Cricket cricket = Cricket::where_needed;  ///< chimneys only
};

struct IntakeRun {
  std::string id;
  std::string product;
  std::string plane;
  Position position = Position::eave;
  double from_m = 0.0;  ///< along the eave from the plane's left end seen from outside
  double to_m = 0.0;
  bool whole = false;    ///< the whole eave; from_m and to_m are unused then
  double every_m = 0.0;  ///< soffit pieces: from centre to centre; 0: butted
};

struct ExhaustVent {
  std::string id;
  std::string product;
  std::string line;  ///< "main/0|main/2" for vents along a line
  bool whole = false;
  double from_m = 0.0;
  double to_m = 0.0;
  std::string plane;  ///< for vents set on a plane
  std::string wall;   ///< "main/1", part and edge: for louvres in a gable wall
  /// On a plane: along the eave, then up the slope. In a wall: its middle along the wall from its
  /// left end seen from outside, then up from the plate.
  glm::dvec2 at{0.0};
};

enum class IceBarrier { by_climate, required, none };
/// Which face of the wall an ice barrier reaches past.
enum class WallFace { inner, outer };

/// How the shingles are laid. Defaults: common practice, no source.
struct Roofing {
  double exposure_m = 5.625 * units::inch_m;  ///< of one course
  double starter_m = 0.5 * units::inch_m;  ///< how far starter and first course pass the drip edge
  IceBarrier ice_barrier = IceBarrier::by_climate;
  WallFace ice_barrier_from = WallFace::inner;
};

struct Site {
  double north_deg = 0.0;  ///< where north lies, clockwise from the plan's +y axis
  std::string code = "us-irc-2021";
  std::string climate_zone;
  bool snow = false;
  std::string exposure = "suburb";
  double winter_c = -10.0;
  double summer_c = 33.0;
};

/// How close other houses stand: it takes down the wind.
enum class Shelter { none, scattered, rows, close };
/// "none", ... as in the model file.
const char* word(Shelter shelter);

/// Weather and house of one airflow case.
struct AirCase {
  std::string name;
  double outside_c = 10.0;
  double inside_c = 20.0;
  std::optional<double> attic_c;  ///< taken as given; none: worked out from the heat
  double wind_ms = 0.0;           ///< as weather stations give it: 10 m up, open country
  double wind_from_deg = 0.0;     ///< compass direction that it comes from, clockwise from north
  double sun = 0.0;               ///< share of a clear summer noon's, 0 to 1
  bool clear_sky = false;         ///< at night: the roof loses heat to it
  double snow_m = 0.0;            ///< lying on the roof
  bool fans = false;              ///< whether powered vents run
};

/// What the airflow of the house needs to know beside the roof.
struct Air {
  double wind_ms = 4.0;            ///< of the standard wind cases; they are run at half of it too
  std::optional<Shelter> shelter;  ///< none: by the site's exposure
  double inside_winter_c = 20.0;
  double inside_summer_c = 24.0;
  double inside_humidity = 0.4;         ///< relative, of the rooms in winter
  double ceiling_leakage_cm2_m2 = 1.8;  ///< effective leakage area at 4 Pa, of each m2 of ceiling
  double house_leakage_cm2_m2 = 6.0;    ///< of the walls and below, for each m2 of ceiling
  double absorptance = 0.95;            ///< of the roofing for sun
  std::vector<AirCase> cases;           ///< the user's own, beside the standard ones
};

struct RoofModel {
  std::string name;
  units::LengthUnit unit = units::LengthUnit::ft;
  Site site;
  Roofing roofing;
  std::vector<Part> parts;
  std::vector<Ceiling> ceilings;
  std::vector<Divider> dividers;
  std::vector<Obstacle> obstacles;
  std::vector<IntakeRun> intake;
  std::vector<ExhaustVent> exhaust;
  std::map<std::string, double> prices;
  Air air;
  std::vector<std::string> assumptions;  ///< what the file left out and the reader assumed
};

}  // namespace ridgeward::model
