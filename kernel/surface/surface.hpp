#pragma once
// The roof surface: planes that share lines that share nodes. Value types only.
//
// Coordinates: metres, right-handed, z up, z = 0 at the model's datum (plates are measured from
// it). The surface is the top of the deck.

#include "base/ids.hpp"
#include "model/roof_model.hpp"
#include "units/pitch.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <string>
#include <vector>

namespace ridgeward::surface {

enum class LineKind {
  eave,         ///< low level edge of a plane
  rake,         ///< sloping free edge
  ridge,        ///< level line, both planes fall away
  hip,          ///< sloping line, both planes fall away
  valley,       ///< sloping line, both planes fall towards it (level: dead valley)
  pitch_break,  ///< level line between two planes of one slope direction; the seam of planes in one
  shed_top,     ///< level free edge at the top of a plane
  headwall,     ///< a plane's top against a wall
  sidewall,     ///< a plane's side against a wall
  step_wall,    ///< a plane against a wall that steps up to a neighbouring plane of the same part
  wall_edge     ///< an edge of walls or of the underside only: not a line of the trade
};

/// "eave", "rake", ... as in the assessment.
const char* word(LineKind kind);

/// A face beside a line.
struct Side {
  enum class Of { nothing, plane, wall };
  Of of = Of::nothing;
  std::uint32_t index = 0;  ///< into planes or walls
};

/// A straight line from `from` to `to`. Seen from outside the solid, `left` is on the left hand.
struct Line {
  std::string
      id;  ///< "main/0|main/2", "main/0|main/2#2"; border lines "main/0|eave", "main/0|rake#2"
  LineKind kind = LineKind::wall_edge;
  NodeId from;
  NodeId to;
  Side left;
  Side right;
  double length_m = 0.0;
  double plan_length_m = 0.0;

  /// The planes beside it, none where a side is not a plane.
  PlaneId left_plane() const;
  PlaneId right_plane() const;
};

/// One step of a loop: a line run forward (from -> to) or backward.
struct LoopStep {
  LineId line;
  bool forward = true;
};
/// Closed run of lines, the face on the left hand seen from outside. The first loop of a face is
/// an outer one; a face may be in pieces, have holes, or touch itself in a node. No loop passes a
/// node twice.
using Loop = std::vector<LoopStep>;

/// Plane coordinates: u along the eave from the plane's left end seen from outside, v up the slope
/// from the eave (drip) line, both in metres.
struct Frame {
  glm::dvec3 origin{0.0};
  glm::dvec3 along{1.0, 0.0, 0.0};
  glm::dvec3 up{0.0, 1.0, 0.0};
  glm::dvec3 normal{0.0, 0.0, 1.0};  ///< outward (upward)

  glm::dvec3 at(glm::dvec2 uv) const { return origin + uv.x * along + uv.y * up; }
  glm::dvec2 uv(glm::dvec3 p) const;
};

/// One flat roof face.
struct Plane {
  std::string id;        ///< "main/0"; "main/0:b" and on where one edge bears more than one plane
  std::size_t part = 0;  ///< index into RoofModel::parts
  std::size_t edge = 0;  ///< of the part, numbered through outline and holes
  /// All edges from which it rises: those that go on in one line with `edge` and are like it, from
  /// left to right seen from outside.
  std::vector<std::size_t> run_edges;
  units::Pitch pitch;
  double azimuth_rad = 0.0;  ///< compass direction it faces (downslope), clockwise from north
  double area_m2 = 0.0;
  double plan_area_m2 = 0.0;
  std::vector<Loop> loops;
  Frame frame;
  double wall_line_v_m = 0.0;   ///< v at which the plane passes over the outer face of its wall
  double wall_start_u_m = 0.0;  ///< u of the left end of its wall (outline corner)
  double wall_end_u_m = 0.0;    ///< u of the right end of its wall
  std::string cricket;          ///< id of the chimney behind which it sheds the water; else empty
};

/// A vertical face (gable triangle, step between planes) or the level underside; no roof plane,
/// but a face of the closed solid.
struct WallFace {
  enum class Kind { gable, step, underside };
  Kind kind = Kind::gable;
  std::size_t part = 0;
  std::size_t edge = 0;
  std::vector<Loop> loops;
  glm::dvec3 normal{0.0};      ///< outward
  bool is_at_chimney = false;  ///< end of a cricket against its chimney
};

/// Where an obstacle stands on one plane. A chimney astride a ridge has a region on both planes.
struct Region {
  std::string id;  ///< of the obstacle
  model::ObstacleKind kind = model::ObstacleKind::chimney;
  std::size_t obstacle = 0;  ///< index into RoofModel::obstacles
  PlaneId plane;
  std::vector<glm::dvec2> outline_uv;  ///< plane coordinates, counter-clockwise
  /// Grown by the clearance, measured along the plane, as far as the plane goes.
  std::vector<glm::dvec2> clear_uv;
  bool is_opening = true;  ///< the deck is cut (chimney, skylight, pipe); solar lies on it
};

/// Deck of a plane beneath a part that is laid over it: it was there first and goes on below.
struct BlindDeck {
  /// The plane that goes on beneath; none where nothing of it is to be seen.
  PlaneId plane;
  std::size_t part = 0;  ///< index into RoofModel::parts: the overlaid part that stands on it
  std::string cricket;   ///< id of the chimney where a cricket stands on it, not a part; else empty
  Frame frame;           ///< of the plane
  std::vector<std::vector<glm::dvec2>> outline_uv;   ///< outer loops, then holes
  std::vector<std::vector<glm::dvec2>> openings_uv;  ///< where it is cut away, likewise
  double area_m2 = 0.0;                              ///< along the slope, openings not taken off
};

/// What of a plane goes on, out of sight from above, beneath another part's overhang: where a plane
/// hangs out past its own part's walls over the roof of a part that ends there, that roof goes on
/// up to the wall. Of several planes beneath the lowest does.
struct Sheltered {
  PlaneId plane;                              ///< that goes on here
  PlaneId above;                              ///< of another part, that hangs over it
  std::vector<std::vector<glm::dvec2>> plan;  ///< outer loop, then holes
  /// Headwalls and sidewalls at which the plane is drawn to end; at least one.
  std::vector<LineId> lines;
};

struct Surface {
  IndexedVector<NodeId, glm::dvec3> nodes;
  IndexedVector<LineId, Line> lines;
  IndexedVector<PlaneId, Plane> planes;
  std::vector<WallFace> walls;
  std::vector<Region> regions;         ///< in the order of the obstacles, then of the planes
  std::vector<BlindDeck> blind_decks;  ///< in the order of their parts, then of the planes beneath
  /// By the part beneath, the part that hangs over it, the plane above, the plane beneath.
  std::vector<Sheltered> sheltered_decks;
  /// In plan, outer loop counter-clockwise first, then holes clockwise; per part.
  std::vector<std::vector<std::vector<glm::dvec2>>> wall_outlines;
  std::vector<std::vector<std::vector<glm::dvec2>>> drip_outlines;
  /// How high each part's walls reach where eaves pass over them: plate and heel.
  std::vector<double> wall_tops_m;
  double base_m = 0.0;  ///< height of the underside of the solid: the lowest eave
  std::vector<std::string> assumptions;

  /// None if there is no such plane. Any edge of a plane's run names it: "main/1" may be "main/0".
  PlaneId plane_named(const std::string& id) const;
  LineId line_named(const std::string& id) const;  ///< either order of the two planes
};

/// Node sequence of a loop.
std::vector<glm::dvec3> corners(const Surface& surface, const Loop& loop);
/// The same in plane coordinates.
std::vector<glm::dvec2> corners_uv(const Surface& surface, const Frame& frame, const Loop& loop);
/// Where a plane passes over the outer face of a wall, and whose wall that is.
struct WallLine {
  double v_m = 0.0;
  std::size_t part = 0;  ///< index into RoofModel::parts
};
/// The wall that carries a plane up the slope from `drip_uv` on one of its eaves: the nearest of
/// its own part, or of another whose walls reach up to the plane there. A lower wing or porch
/// beneath the eave carries nothing. At the drip itself where that lies within such walls; the
/// plane's own line where no wall is met.
WallLine wall_line_at(const Surface& surface, const Plane& plane, glm::dvec2 drip_uv);

/// The loops of a plane seen from above.
std::vector<std::vector<glm::dvec2>> plan_of(const Surface& surface, const Plane& plane);
/// Loops in plane coordinates seen from above: the outline of a blind deck, its openings.
std::vector<std::vector<glm::dvec2>> plan_of(const Frame& frame,
                                             const std::vector<std::vector<glm::dvec2>>& loops_uv);
/// The other way round: loops of the plan in the coordinates of the plane that lies over or under
/// them. REQUIRES a plane that does not stand upright.
std::vector<std::vector<glm::dvec2>> on_plane(const Frame& frame,
                                              const std::vector<std::vector<glm::dvec2>>& plan);

}  // namespace ridgeward::surface
