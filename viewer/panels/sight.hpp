#pragma once
// How the house is looked at: cut open, peeled, measured, lit, flat, in which colours. What a
// person may ask of that, and what it changes.

#include "scene/cut.hpp"
#include "scene/measure.hpp"
#include "scene/sun.hpp"

#include <optional>
#include <variant>
#include <vector>

namespace ridgeward::panels {

struct State;

/// A camera on its way.
struct Glide {
  scene::Camera from;
  scene::Camera to;
  double done = 0.0;  ///< share of the time
  double takes_s = 0.0;
};
inline constexpr double glide_s = 0.32;
/// From step to step of a lesson, so that a class can follow.
inline constexpr double lesson_glide_s = 0.9;

struct Sight {
  scene::Cut cut;
  scene::Sun sun;
  std::vector<PlaneId> peeled;  ///< planes without their deck
  scene::Measure measure;
  bool is_measuring = false;           ///< clicks measure from anywhere and select nothing
  std::optional<scene::Spot> pointed;  ///< what a click would take hold of
  glm::dvec2 pointed_px{0.0};
  bool is_dark = false;
  bool is_large = false;  ///< letters for a classroom
  bool is_still = false;  ///< the camera is at once where it is sent
  std::optional<Glide> glide;
};
/// By which letters grow for a classroom.
inline constexpr double large_type = 1.4;

struct SetFlat {
  bool on;
};
struct SetCut {
  scene::Cut cut;
};
/// The next of none, across, along, level, opened towards the eye.
struct NextCut {};
/// Cut open that way, in the middle, opened towards the eye.
struct CutOpen {
  scene::CutWay way;
};
struct MoveCut {
  double by_m;
};
struct SetSun {
  scene::Sun sun;
};
/// Takes the deck off the selected plane, or off all; puts it back where it was off.
struct Peel {};
struct SetMeasuring {
  bool on;
};
struct MeasureAt {
  scene::Spot spot;
};
struct ClearMeasure {};
struct PointAt {
  std::optional<scene::Spot> spot;
  glm::dvec2 at_px{0.0};
};
struct SetDark {
  bool on;
};
struct SetLarge {
  bool on;
};
/// Less motion: no glides, and air that stands until it is asked to move.
struct SetStill {
  bool on;
};
using SightIntent =
    std::variant<SetFlat, SetCut, NextCut, CutOpen, MoveCut, SetSun, Peel, SetMeasuring, MeasureAt,
                 ClearMeasure, PointAt, SetDark, SetLarge, SetStill>;

/// Does what was asked.
void apply(State& state, const SightIntent& intent, const scene::Scene& scene,
           const scene::Viewport& viewport);

/// Sends the camera to another place; it gets there by advance(), or at once where motion is not
/// wanted.
void glide_to(State& state, const scene::Camera& camera, double takes_s = glide_s);
/// Where the camera is going, or is.
const scene::Camera& goal(const State& state);
/// Stops on the way.
void stop_glide(State& state);
/// Moves the camera on by so many seconds; true while it is on its way.
bool advance(State& state, double by_s);
/// What is seen through.
scene::Lens lens_of(const State& state, const scene::Scene& scene, const scene::Viewport& viewport);

/// Drops what spoke of a house that is no longer shown.
void forget_house(State& state);

/// The next of none, across, along, level, opened towards the eye.
scene::Cut next_cut(const State& state, const scene::Scene& scene);

}  // namespace ridgeward::panels
