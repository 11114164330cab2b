#pragma once
// Rafters and the bays between them. Value types only.

#include "base/ids.hpp"
#include "surface/surface.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <string>
#include <vector>

namespace ridgeward::framing {

enum class MemberKind { common, hip_jack, valley_jack, cripple_jack, hip, valley, ridge_board };
const char* word(MemberKind kind);

/// One piece of timber. Its top edge lies on the underside of the deck; `from` and `to` are the
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
  std::string stock;           ///< "2x8"
  double plumb_cut_rad = 0.0;  ///< between the member's length and a plumb cut, 90 deg - slope
  double side_cut_rad = 0.0;   ///< on its top face, off square; 0 for a square end
  double backing_rad = 0.0;    ///< hips: bevel of the top edge, greater of both sides
};

/// The clear space between two neighbouring members on one plane.
struct Bay {
  std::string id;  ///< "main/0/b3", counted along the eave
  PlaneId plane;
  MemberKind kind = MemberKind::common;  ///< by foot and head, as a rafter there would be
  MemberId left;                         ///< none at the plane's border
  MemberId right;
  double from_u_m = 0.0;  ///< clear, face to face
  double to_u_m = 0.0;
  double clear_width_m = 0.0;
  double length_m = 0.0;  ///< up the slope, at its middle
  LineId foot;
  LineId head;
  std::vector<glm::dvec2> outline;  ///< in plane coordinates, counter-clockwise
};

struct Framing {
  IndexedVector<MemberId, Member> members;
  IndexedVector<BayId, Bay> bays;
  std::vector<std::string> assumptions;
};

}  // namespace ridgeward::framing
