#pragma once
// What is drawn, as plain data: faces, strokes, labels, in metres, z up. No graphics here.
//
// The scene holds no rules of roofs: everything in it is taken from an Assessment. Only the house
// below the plates (walls down to the ground, trim) is made up for the eye.

#include "base/ids.hpp"
#include "surface/surface.hpp"

#include "scene/layers.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <array>
#include <string>
#include <vector>

namespace ridgeward::scene {

using Triangle = std::array<glm::dvec3, 3>;

enum class FaceRole {
  deck,       ///< closed bodies that show only where the house is cut open: sheathing ...
  wall_core,  ///< ... and walls
  floor,      ///< of the rooms, on the ground
  wall,
  obstacle,  ///< chimneys, pipes, skylights: closed bodies
  trim,      ///< fascia and rake boards
  ceiling,
  insulation,  ///< closed bodies
  timber,      ///< closed bodies
  air,         ///< of one compartment: closed bodies
  roof,
  bay_fed,      ///< a slot opens onto it and its air reaches an exhaust
  bay_idle,     ///< its air would reach an exhaust, but no slot feeds it
  bay_dead,     ///< leads nowhere
  bay_wasted,   ///< leads nowhere, and a slot opens onto it
  intake_vent,  ///< the vent laid over a slot
  slot,
  exhaust_vent
};

/// Flat piece of something.
struct Face {
  FaceRole role = FaceRole::wall;
  Layer layer = Layer::walls;
  glm::dvec3 normal{0.0, 0.0, 1.0};
  PlaneId plane;                ///< the roof plane it is, or lies on
  std::size_t compartment = 0;  ///< of air: index into Attic::compartments
  std::vector<Triangle> triangles;
};

enum class StrokeRole {
  eave,
  rake,
  ridge,
  hip,
  valley,
  pitch_break,
  shed_top,
  wall_line,  ///< headwall, sidewall, step wall
  member,
  slot,
  outline  ///< corners of walls
};

struct Stroke {
  StrokeRole role = StrokeRole::outline;
  Layer layer = Layer::lines;
  glm::dvec3 from{0.0};
  glm::dvec3 to{0.0};
  LineId line;
  MemberId member;
  std::array<PlaneId, 2> beside{};  ///< a line of the roof: the planes that it borders
};

/// Something worth a word on the drawing.
struct Label {
  enum class Of { line, plane };
  Of of = Of::line;
  StrokeRole role = StrokeRole::eave;  ///< of a line
  Layer layer = Layer::lengths;
  LineId line;
  PlaneId plane;
  std::array<PlaneId, 2> beside;  ///< a line: the planes that it borders
  glm::dvec3 from{0.0};           ///< for a plane both ends are its middle
  glm::dvec3 to{0.0};
  double length_m = 0.0;  ///< true length of a line
  std::string words;      ///< of a plane: its id
  units::Pitch pitch;     ///< likewise
  int rank = 0;           ///< lower is placed first
};

/// Where something stands in the way.
struct Marker {
  glm::dvec3 at{0.0};
  int number = 0;    ///< 1 for the first finding
  int severity = 0;  ///< 0 note, 1 warning, 2 error
};

struct Scene {
  std::string name;
  std::vector<Face> faces;
  std::vector<Stroke> strokes;
  std::vector<Label> labels;
  std::vector<Marker> markers;
  std::vector<glm::dvec3> corners;  ///< of roof and walls: what a fitting camera must show
  glm::dvec3 centre{0.0};
  double radius_m = 1.0;  ///< of a sphere around `centre` that holds all corners
  double ground_m = 0.0;
  double north_deg = 0.0;      ///< where north lies, clockwise from +y
  glm::dvec2 along{1.0, 0.0};  ///< in plan, of unit length: as the longest eave runs
  bool is_empty() const { return corners.empty(); }
};

StrokeRole role_of(surface::LineKind kind);

}  // namespace ridgeward::scene
