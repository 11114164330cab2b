#pragma once
// Drawing and changing outlines in plan with the mouse and typed lengths: pure, no window.

#include "model/outline_check.hpp"
#include "model/roof_model.hpp"
#include "units/length.hpp"

#include <glm/vec2.hpp>

#include <optional>
#include <string>
#include <vector>

namespace ridgeward::panels {

/// The plan on the screen: x to the right, y up.
struct PlanView {
  glm::dvec2 middle_px{0.0};
  glm::dvec2 middle_m{0.0};
  double px_per_m = 40.0;

  glm::dvec2 pixel(glm::dvec2 at) const;
  glm::dvec2 place(glm::dvec2 pixel) const;
};

/// What is under the pointer, or dragged.
struct PlanGrip {
  enum class What { nothing, corner, edge, ground };
  What what = What::nothing;
  std::string part;
  std::size_t index = 0;
  bool operator==(const PlanGrip&) const = default;
};

struct PlanDrag {
  PlanGrip grip;
  glm::dvec2 from_px{0.0};
  glm::dvec2 from_m{0.0};    ///< of the pointer
  glm::dvec2 corner_m{0.0};  ///< of the corner as it was, or of the edge's first one
  bool is_moving = false;    ///< further than a click
  bool operator==(const PlanDrag&) const = default;
};

struct PlanTool {
  glm::dvec2 middle_m{0.0};
  double px_per_m = 0.0;                 ///< 0: not fitted yet
  std::vector<glm::dvec2> drawn;         ///< corners of the outline being drawn
  std::string typed;                     ///< length of the side being drawn
  std::string trouble;                   ///< why the length or the outline was not taken
  std::vector<model::SidePair> meeting;  ///< sides of `drawn` that keep it from being closed
  PlanDrag drag;
  glm::dvec2 pointer_m{0.0};  ///< where it was last, not snapped
  bool is_keyed = false;      ///< put there by keys; the mouse takes it when it moves
  bool has_grid = true;

  bool operator==(const PlanTool&) const = default;
};

/// What a point was drawn to.
struct Snap {
  enum class To { nothing, grid, corner, extension, right_angle, closing };
  glm::dvec2 at{0.0};
  To to = To::nothing;
  std::optional<glm::dvec2> guide;  ///< the other end of a line that shows why
};
/// "on a corner", ...
const char* words_of(Snap::To to);

/// What points snap to.
struct SnapField {
  std::vector<glm::dvec2> corners;  ///< of other outlines
  std::optional<glm::dvec2> from;   ///< the corner before: right angles are measured there
  std::optional<glm::dvec2> first;  ///< of the outline being drawn: it closes there
  double reach_m = 0.15;            ///< how near is near
  double grid_m = 0.1524;           ///< 0: no grid
};

/// The place that a pointer at `at` means: the first corner, another corner, on the level or the
/// upright through the corner before and through other corners, on the grid.
Snap snapped(glm::dvec2 at, const SnapField& field);

/// 6 in or 10 cm, coarser when it would be too fine to see.
double grid_step_m(const PlanView& view, units::Style style);

/// The corner within 8 px of the pointer, else the edge within 6 px, of the part listed last first.
PlanGrip grip_at(const model::RoofModel& model, const PlanView& view, glm::dvec2 pixel);

/// A snap for a typed length: a way within 10 degrees of level or upright, or of along or square to
/// the side before, is turned there, since who types a length means a straight wall. Corners and
/// the closing of the outline stay as they are. The distance is kept.
Snap straightened(const PlanTool& tool, const Snap& snap);

/// Where the next corner goes for a typed length: from the corner before toward the pointer's
/// snapped place. None where the text is no length over nothing.
std::optional<glm::dvec2> typed_place(const PlanTool& tool, const Snap& snap,
                                      units::LengthUnit unit);

/// What to type instead of a length that can't be read.
const char* no_length(units::LengthUnit unit);
/// Why typed_place() gives none, for who typed it.
std::string typed_trouble(const PlanTool& tool, units::LengthUnit unit);

/// Whether what is drawn can be closed; else what meets where, and the words for it, go into the
/// tool, and the drawing stays.
PlanTool checked(PlanTool tool);
/// The pointer moved by keys: before the first corner by `step_m` to the next mark of that grid;
/// after it along `way` from the last corner, first by ten steps, then by one more or one less.
/// REQUIRES a `way` along an axis, of length 1.
PlanTool pointed(PlanTool tool, glm::dvec2 way, double step_m);
/// Another drawing, and no trouble with it yet.
PlanTool redrawn(PlanTool tool, std::vector<glm::dvec2> drawn);
/// Where two sides of an outline meet; of sides that lie on each other, one such place.
glm::dvec2 meeting_place(const std::vector<glm::dvec2>& outline, model::SidePair sides);

/// How far outward (square to it) the edge was dragged.
double dragged_out_m(const model::Part& part, std::size_t edge, glm::dvec2 by);

/// A view that shows all parts, or a house lot of 30 m where there is none.
PlanTool fitted_plan(PlanTool tool, const model::RoofModel& model, glm::dvec2 size_px);

}  // namespace ridgeward::panels
