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
  header,  ///< across the slope, below or above an opening; cut rafters end at it
  trimmer  ///< second ply of the rafter beside an opening, on which headers hang
};
const char* word(MemberKind kind);

/// One piece of timber. Shortened lengths follow the framing square's rules (docs/framing.md): at a
/// ridge half the ridge's thickness, at a hip or valley half its slanting thickness, both level.
/// Its top edge lies on the underside of the deck; `from` and `to` are the
/// ends of its centre line carried up to the roof surface, after shortening, foot first.
struct Member {
  std::string id;  ///< "main/0/r3", "main/0|main/1/hip"
  MemberKind kind = MemberKind::common;
  PlaneId plane;  ///< none for hips, valleys and ridge boards
  LineId line;    ///< the line it lies under, for hips, valleys and ridge boards
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
  /// Rafters: the strip that it takes of its plane, plane coordinates, counter-clockwise.
  std::vector<glm::dvec2> outline;
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

struct Framing {
  IndexedVector<MemberId, Member> members;
  IndexedVector<BayId, Bay> bays;
  IndexedVector<PlaneId, PlaneFraming> planes;
  std::vector<Opening> openings;  ///< framed ones, plane by plane
  std::vector<std::string> assumptions;
};

}  // namespace ridgeward::framing
