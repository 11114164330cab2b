#pragma once
// Rafters and the bays between them. Value types only.

#include "base/ids.hpp"
#include "surface/surface.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <cstdint>
#include <string>
#include <vector>

namespace ridgeward::framing {

enum class MemberKind {
  common,
  hip_jack,
  valley_jack,
  cripple_jack,
  hip,
  valley,
  ridge_board,
  header,           ///< across the slope, below or above an opening; cut rafters end at it
  trimmer,          ///< second ply of the rafter beside an opening, on which headers hang
  barge_rafter,     ///< under the outer edge of a rake's overhang
  lookout,          ///< from the gable-end rafter, or the one behind it, to the barge rafter
  blocking,         ///< between two rafters over the plate, full depth
  vented_blocking,  ///< the same with openings for air
  collar_tie,       ///< level, from one rafter to the one that meets it at the ridge
  valley_sleeper,   ///< board flat on the deck of an earlier part, under an overlaid valley
  common_truss,     ///< top chord of a truss that reaches the ridge
  girder_truss,     ///< of the first full truss behind a hip end, which carries the jacks
  step_down_truss,  ///< of a truss with a level top between girder and ridge; or that level top
  jack_truss,       ///< of a short truss from the eave towards a hip
  valley_truss      ///< of one of the set that stands on a main roof
};
const char* word(MemberKind kind);
/// Whether it is a top chord of a truss: no loose piece of timber.
bool is_truss(MemberKind kind);

/// How a member of rectangular section lies.
enum class Lie {
  under_deck,  ///< on edge, its top edge under the deck: depth square to the roof, or plumb
  /// Its wide face against the deck: `depth_m` across, `thickness_m` square to it. Lookouts lie
  /// under the deck, valley sleepers on it.
  flat,
  free  ///< on edge, plumb sides; `from` and `to` are the ends of its top edge itself
};

/// One piece of timber. Shortened lengths follow the framing square's rules (docs/framing.md): at a
/// ridge half the ridge's thickness, at a hip or valley half its slanting thickness, both level.
/// Its top edge lies on the underside of the deck; `from` and `to` are the
/// ends of its centre line carried up to the roof surface, after shortening, foot first.
struct Member {
  std::string id;  ///< "main/0/r3", "main/0|main/1/hip"
  MemberKind kind = MemberKind::common;
  std::size_t part = 0;  ///< that it belongs to, index into RoofModel::parts
  PlaneId plane;         ///< none for hips, valleys, ridge boards and what lies between planes
  LineId line;           ///< the line it lies under, for hips, valleys and ridge boards
  LineId foot_line;
  LineId head_line;
  glm::dvec3 from{0.0};
  glm::dvec3 to{0.0};
  double at_m = 0.0;           ///< u of its centre on the plane
  double line_length_m = 0.0;  ///< theoretical, from line to line
  double length_m = 0.0;       ///< along its centre line after shortening for ridge, hip, valley
  double thickness_m = 0.0;
  double depth_m = 0.0;
  std::string stock;               ///< "2x8"
  double plumb_cut_rad = 0.0;      ///< between the member's length and a plumb cut, 90 deg - slope
  double side_cut_rad = 0.0;       ///< at its head on the top face, off square; 0 for a square end
  double foot_side_cut_rad = 0.0;  ///< the same at its foot: valley and cripple jacks
  double head_shortening_m = 0.0;  ///< level, from the theoretical end; negative: made longer
  double foot_shortening_m = 0.0;  ///< likewise
  double backing_rad = 0.0;        ///< hips, valleys: bevel of the top edge, greater of both sides
  double backing_left_rad = 0.0;   ///< towards the plane on the left of its line
  double backing_right_rad = 0.0;  ///< towards the plane on the right
  double drop_m = 0.0;             ///< hips: how far an unbacked hip is lowered, plumb
  MemberId foot_header;            ///< rafters cut at an opening: the header that they start from
  MemberId head_header;            ///< likewise, that they end at
  std::string opening;             ///< headers, trimmers: id of the obstacle; several: "a, b"
  int plies = 1;                   ///< headers: 2 over 4 ft; `thickness_m` is that of all plies
  Lie lie = Lie::under_deck;
  double layout_m = 0.0;       ///< centre along the plate from the left end of the plane's wall
  double long_point_m = 0.0;   ///< from tip to tip of the slanting ends: the piece to cut it from
  double short_point_m = 0.0;  ///< between the inner corners of the ends
  double tail_m = 0.0;         ///< from the foot to the wall's outer face, along the member
  double overhang_m = 0.0;     ///< the same, level
  double heel_cut_m = 0.0;     ///< birdsmouth: plumb cut at the wall's outer face, up from the edge
  double seat_cut_m = 0.0;     ///< birdsmouth: level cut on the plate, not wider than the wall
  double over_plate_m = 0.0;   ///< raised heel: how far its lower edge passes over the plate there
  std::string truss;           ///< id of the truss whose top chord it is
  /// Set where a piece is seen in several strips of its plane: the member that has its whole
  /// length. Such a strip is no piece of its own.
  MemberId part_of;
  /// Rafters: the strip that it takes of its plane, plane coordinates, counter-clockwise.
  std::vector<glm::dvec2> outline;
};

/// What stands over the plate at the foot of a bay.
enum class AtPlate {
  none,    ///< the bay does not pass over a plate at its foot
  open,    ///< nothing
  vented,  ///< blocking with openings
  blocked  ///< solid blocking
};
const char* word(AtPlate at_plate);

/// A bay that lies along a bay's border, and where.
struct Across {
  BayId bay;
  LineId line;            ///< ridge, hip, valley or pitch break between the two
  double length_m = 0.0;  ///< shared, along the line
};

/// The clear space between two neighbouring members on one plane.
struct Bay {
  std::string id;  ///< "main/0/b3", counted along the eave
  PlaneId plane;
  MemberKind kind = MemberKind::common;  ///< by foot and head, as a rafter there would be
  MemberId left;                         ///< none at the plane's border
  MemberId right;
  double from_u_m = 0.0;  ///< clear, face to face, or to the plane's border
  double to_u_m = 0.0;
  double clear_width_m = 0.0;
  double length_m = 0.0;  ///< up the slope, at its middle
  LineId foot;            ///< none where it starts from a header
  LineId head;            ///< none where it ends at a header
  MemberId foot_header;
  MemberId head_header;
  double foot_width_m = 0.0;  ///< clear along its foot line or header, true length
  double head_width_m = 0.0;  ///< the same along its head line or header
  AtPlate at_plate = AtPlate::none;
  surface::WallLine wall;      ///< that carries it: beneath its eave, else its plane's
  std::vector<Across> across;  ///< bays of other planes, by line
  /// Bays on the far side of an opening that cuts this one short, along the eave.
  std::vector<BayId> beyond_opening;
  std::vector<glm::dvec2> outline;  ///< in plane coordinates, counter-clockwise
};

/// What an opening takes of its plane's members and bays: the upright rectangle about its clear
/// outline, as far as the plane goes.
struct Opening {
  std::string id;  ///< of the obstacle; several framed as one: "a, b"
  PlaneId plane;
  std::vector<glm::dvec2> outline;  ///< in plane coordinates, counter-clockwise
};

/// The members and bays of one plane, which lie together in Framing and run along the eave; headers
/// come after the other members.
struct PlaneFraming {
  std::uint32_t first_member = 0;
  std::uint32_t end_member = 0;
  std::uint32_t first_bay = 0;
  std::uint32_t end_bay = 0;
};

/// A truss, as it is ordered; its top chords are members.
struct Truss {
  std::string id;  ///< "main/t4", counted part by part, by direction, along the layout
  MemberKind kind = MemberKind::common_truss;
  std::size_t part = 0;
  double station_m = 0.0;        ///< along the layout, from its first wall end
  double span_m = 0.0;           ///< level, from foot to foot of its top chords, tails included
  double height_m = 0.0;         ///< from its lowest foot to its highest point, along the deck
  double flat_m = 0.0;           ///< level top; 0 where it comes to a point
  std::vector<MemberId> chords;  ///< from the low end across
};

/// Members: those of the planes, plane by plane, then those that no plane's strips hold: under
/// hips, valleys and ridges, at rakes and plates, collar ties.
struct Framing {
  IndexedVector<MemberId, Member> members;
  std::vector<Truss> trusses;
  IndexedVector<BayId, Bay> bays;
  IndexedVector<PlaneId, PlaneFraming> planes;
  std::vector<Opening> openings;  ///< framed ones, plane by plane
  std::vector<std::string> assumptions;
};

}  // namespace ridgeward::framing
