#pragma once
// Puts the panels together. Every function takes a view of the state, draws with the panels'
// library and hands back what the person asked for; none changes the state.

#include "assess.hpp"

#include "panels/recorder.hpp"
#include "panels/state.hpp"
#include "scene/marks.hpp"

namespace ridgeward::panels {

/// All a panel may look at.
struct Look {
  const State& state;
  const Assessment& assessment;  ///< an empty one where there is no model
  const scene::Scene& scene;
  int width_px = 1280;
  int height_px = 800;
  const AirShow* air = nullptr;  ///< null: no air is shown
};

/// Where the house is drawn: the window less its panels. `has_controls` is true in the window and
/// false in a picture.
scene::Viewport house_viewport(int width_px, int height_px, const scene::Layers& layers,
                               bool has_controls);

/// The same in the window, less what stands at the foot of the drawing.
scene::Viewport window_viewport(int width_px, int height_px, const State& state);

/// Whether the window has room for the panel on its left beside house, totals and air. What stands
/// on it is found among all commands (Ctrl+P) too.
bool shows_controls(int width_px, const State& state);

/// What is pointed at on the house: bays and slots of the ribbon, or what the lesson speaks of.
std::vector<scene::Mark> marks_of(const State& state, const Assessment& assessment);

/// One frame of the window. REQUIRES an ImGui frame begun.
Intents draw_window(const Look& look, Recorder& recorder);
/// One frame of a picture: labels, north arrow, totals, legend, no controls.
void draw_picture(const Look& look, Recorder& recorder);

/// What opens the lesson at the step where it was left; nothing without a model.
Intents begin_lesson(const Look& look);
/// One picture of the lesson: the house with the lesson's words beside it, or without them.
void draw_slide(const Look& look, bool has_words, Recorder& recorder);

/// Notes what the window remembers: items of kind "state".
void note_state(const State& state, const Assessment& assessment, Recorder& recorder);

}  // namespace ridgeward::panels
