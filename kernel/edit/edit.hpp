#pragma once
// What a person can change in a model, as values. Lengths in metres, plan coordinates as in the
// model; parts, ceilings, vents and the like are named by their ids, edges and corners by their
// numbers in the part.

#include "model/roof_model.hpp"

#include <glm/vec2.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ridgeward::edit {

// The outline of a part. Corners and edges of the outline only; courtyards stay as they are.

/// Ceilings that have a corner at the same place keep it there.
struct MoveCorner {
  std::string part;
  std::size_t corner = 0;
  glm::dvec2 to{0.0};
};
/// Outwards by `out_m`, the sides beside it growing or shrinking in their own directions. Where a
/// side beside it runs in one line with it the corner moves straight out.
struct MoveEdge {
  std::string part;
  std::size_t edge = 0;
  double out_m = 0.0;
};
/// A new corner on edge `edge`; both halves are like the edge was.
struct InsertCorner {
  std::string part;
  std::size_t edge = 0;
  glm::dvec2 at{0.0};
};
/// The edge before the corner takes the place of both.
struct RemoveCorner {
  std::string part;
  std::size_t corner = 0;
};
/// The whole part, with the ceilings whose corners are all its own.
struct MovePart {
  std::string part;
  glm::dvec2 by{0.0};
};

// What stands about an edge or a part.

/// `edge` is numbered through the part: its outline, then its courtyards.
struct SetEdge {
  std::string part;
  std::size_t edge = 0;
  model::Edge value;
};
/// Plate, heel, deck, framing and all else of the part with this id but its outline, edges and
/// holes.
struct SetPart {
  model::Part value;
};
struct RenamePart {
  std::string part;
  std::string to;
};

/// Courtyard number `hole` of the part gets this outline, in either sense; the number after the
/// last one adds it, with edges like the part's first eave. Edges go on as they are where the
/// corners at their ends do.
struct PutHole {
  std::string part;
  std::size_t hole = 0;
  std::vector<glm::dvec2> outline;
};
struct RemoveHole {
  std::string part;
  std::size_t hole = 0;
};

// Whole parts.

/// A part of its own over an outline in either sense, an eave on each side; measures as those of
/// the first part.
struct DrawPart {
  std::vector<glm::dvec2> outline;
};
enum class PartKind {
  wing,         ///< gable roof at a right angle to a wall, its ridge running into the roof
  hipped_wing,  ///< the same with a hip at its end
  dormer,       ///< gable roof over a window in a roof plane
  shed_dormer,  ///< one low slope over windows in a roof plane
  lean_to       ///< one low slope against a wall
};
struct PartKindWords {
  PartKind kind;
  const char* word;   ///< "shed-dormer"
  const char* words;  ///< "Shed dormer"
};
const std::vector<PartKindWords>& part_kinds();
/// Attached to an edge of a part that bears a plane (a lean-to and a wing: to any edge). What is
/// not given is sensible (docs/editing.md); `middle_m` is along the edge from its left end seen
/// from outside.
struct AddPart {
  PartKind kind = PartKind::wing;
  std::string part;
  std::size_t edge = 0;
  std::optional<double> middle_m;
  std::optional<double> width_m;
  std::optional<double> depth_m;  ///< out from the wall; of dormers unused
};
/// With all that lies on it.
struct RemovePart {
  std::string part;
};

// Things by id: what has an id that is there already takes its place, else it is added.

struct PutCeiling {
  model::Ceiling value;
};
struct PutDivider {
  model::Divider value;
};
struct PutObstacle {
  model::Obstacle value;
};
struct PutIntake {
  model::IntakeRun value;
};
struct PutExhaust {
  model::ExhaustVent value;
};
enum class Thing { ceiling, divider, obstacle, intake, exhaust };
struct Remove {
  Thing thing = Thing::intake;
  std::string id;
};

// The whole.

struct SetName {
  std::string name;
};
/// The unit that the file is written in; nothing changes its size.
struct SetUnits {
  units::LengthUnit unit = units::LengthUnit::ft;
};
struct SetSite {
  model::Site value;
};
struct SetRoofing {
  model::Roofing value;
};
struct SetAir {
  model::Air value;
};

using Edit = std::variant<MoveCorner, MoveEdge, InsertCorner, RemoveCorner, MovePart, SetEdge,
                          SetPart, RenamePart, DrawPart, AddPart, RemovePart, PutCeiling,
                          PutDivider, PutObstacle, PutIntake, PutExhaust, Remove, SetName, SetUnits,
                          SetSite, SetRoofing, SetAir, PutHole, RemoveHole>;

}  // namespace ridgeward::edit
