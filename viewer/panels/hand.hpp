#pragma once
// The hand on vents and obstacles in space: puts them, drags them along eaves, lines and planes.
// Pure: no window; what it does to the model are wishes.

#include "panels/pointer.hpp"
#include "panels/screen.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace ridgeward::panels {

/// Something that can be taken hold of on the drawing.
struct Grip {
  enum class What { intake, exhaust, obstacle };
  enum class End { from, to, all };
  What what = What::intake;
  End end = End::all;
  std::string id;
  glm::dvec3 at{0.0};     ///< where it is taken hold of; of `all`, one end of its length ...
  glm::dvec3 until{0.0};  ///< ... and the other
};

/// What the hand is in the middle of.
struct Hand {
  std::optional<Grip> grip;
  bool is_new = false;     ///< a run that is being drawn
  bool is_moving = false;  ///< further than a click
  bool was_down = false;
  glm::dvec2 from_px{0.0};
  /// Where it was taken hold of, on its plane or wall; of a line along it; of an outline in plan.
  glm::dvec2 from_uv{0.0};
  std::string plane;     ///< of a run that is being drawn
  model::IntakeRun run;  ///< as it was before the drag
  model::ExhaustVent vent;
  model::Obstacle obstacle;
};

/// The outer face of a gable wall.
struct GableWall {
  std::string name;         ///< "main/1"
  glm::dvec3 start{0.0};    ///< left end seen from outside, at the top of the plate
  glm::dvec3 along{0.0};    ///< of unit length
  glm::dvec3 outward{0.0};  ///< likewise
  double length_m = 0.0;
  /// Where a line of sight meets it, along it and up from the plate; none from behind or beside it.
  std::optional<glm::dvec2> under(const scene::Ray& ray) const;
};
std::vector<GableWall> gable_walls(const Assessment& assessment);
/// GableWall::under of the wall of that name.
std::optional<glm::dvec2> under_wall(const Look& look, const std::string& name,
                                     const scene::Ray& ray);
/// The gable wall in sight under the pointer, and where on it.
std::optional<std::pair<std::string, glm::dvec2>> gable_under(const Look& look,
                                                              const scene::Lens& lens,
                                                              glm::dvec2 pixel);
/// Where a line of sight meets the level at a height, in plan.
std::optional<glm::dvec2> plan_under(double height_m, const scene::Ray& ray);

/// Everything that can be taken hold of, ends before wholes.
std::vector<Grip> grips(const Assessment& assessment);
/// Whether nothing hides it; an obstacle's own body does not.
bool is_in_sight(const Look& look, const scene::Lens& lens, const Grip& grip);
/// The one under the pointer and in sight.
std::optional<Grip> grip_under(const Look& look, const scene::Lens& lens, glm::dvec2 pixel);

/// What mouse and keys ask of editing. Takes out of `input` what is not to be taken for turning,
/// selecting or keys of the view besides.
Intents edit_input(Hand& hand, Input& input, const Look& look, const scene::Viewport& viewport);

/// Where something new is put: on a line, on a place of a plane, or of a gable wall.
struct Spot {
  const surface::Plane* plane = nullptr;
  LineId line;
  std::string wall;    ///< empty: none
  glm::dvec2 uv{0.0};  ///< on the plane; of a wall along it and up from the plate
};
/// Puts there what the tool in the hand puts; nothing where it has no place there.
Intents put_on(const Look& look, Tool tool, const Spot& spot);
/// The vent as it is, with ends where it takes a whole line. REQUIRES that the model has it.
model::ExhaustVent vent_with_ends(const Assessment& a, const std::string& id);

/// Adds what follows from selecting: the fields are about the plane's edge.
void follow_selection(const Look& look, Intents& intents);
/// Turns what keys asked for (keyed.hpp) into what it means on this roof, then follow_selection().
void follow_up(const Look& look, Intents& intents);

/// What was selected, on the roof as it is now: by its name.
scene::Picked again(const scene::Picked& before, const surface::Surface& then,
                    const surface::Surface& now);

}  // namespace ridgeward::panels
