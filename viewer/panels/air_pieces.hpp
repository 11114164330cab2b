#pragma once
// How moving air is drawn; private to the folder.

#include "panels/pieces.hpp"

namespace ridgeward::panels {

/// Width that the panel takes off the drawing, in pixels; 0 where no air is shown.
float air_panel_width(const State& state);
/// Streams with their heads, still bays, the wind's arrow; over the house, under the panels.
void draw_air(const Look& look, const scene::Viewport& viewport, Recorder& recorder);
/// Weather, what the air does, what the marks mean. `intents` null: a picture, nothing to press.
void air_body(const Look& look, Recorder& recorder, Intents* intents);

}  // namespace ridgeward::panels
