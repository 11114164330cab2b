#pragma once
// The single panels that screen.cpp puts together; private to the folder.

#include "panels/focus.hpp"
#include "panels/screen.hpp"
#include "panels/texts.hpp"

#include <imgui.h>

#include <optional>
#include <string>

namespace ridgeward::panels {

/// Notes the widget drawn last.
void note(Recorder& recorder, const std::string& id, const char* kind, const std::string& state);
/// A panel that can't be moved; end it with ImGui::End(). `height` 0: as tall as it needs to be.
void begin_panel(const char* id, ImVec2 at, float width, float height);
/// The current panel's rectangle, noted.
void note_panel(Recorder& recorder, const std::string& id);
/// Heading in bold.
void heading(const std::string& text);
/// How far long work is, `right` pixels short of the edge; empty where it is not known.
void progress_bar(const std::optional<double>& share, float right, const std::string& id,
                  Recorder& recorder);
/// Text on the left, value right-aligned.
void row(const Row& row);

/// A slider; its new value where mouse or keys changed it.
std::optional<double> slider(const Look& look, const SliderAbout& about, double value,
                             Recorder& recorder, Intents& intents);

/// Totals of at most `most` compartments, the worst first where they are not all shown or more than
/// five, which get a row each.
void totals_body(const Look& look, std::size_t most, Recorder& recorder, Intents& intents);
/// Lines, bays and marks that are on the drawing, with their strokes and colours.
void legend_body(const Look& look, Recorder& recorder);
/// Slanting stripes over a box, one way or both ways.
void hatch_box(ImDrawList& list, ImVec2 low, ImVec2 high, ImU32 colour, bool both);
/// Height of a panel that holds it, in pixels.
float legend_height(const Look& look);
/// What is selected.
void selection_body(const Look& look, Recorder& recorder, Intents& intents);
/// Findings, each a button that goes there; at most `most` of them.
void findings_body(const Look& look, std::size_t most, Recorder& recorder, Intents& intents);
/// Path field, layers, units, directions.
void controls_body(const Look& look, Recorder& recorder, Intents& intents);
/// The keys, over everything else.
void keys_panel(const Look& look, Recorder& recorder, Intents& intents);
/// Height of the row of tools under the drawing, in pixels.
double tools_height();
/// What was measured; nothing where nothing was.
void measured_body(const Look& look, Recorder& recorder, Intents& intents);
/// The tools under the drawing, which ends above them.
void sight_tools(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
                 Intents& intents);
/// The cutting plane and its handle.
void draw_cut(const Look& look, const scene::Viewport& viewport, Recorder& recorder);
/// Measured figures, what the pointer is on, the scale of flat pictures.
void draw_sight(const Look& look, const scene::Lens& lens, Recorder& recorder);
/// Labels, marks and the north arrow on the drawing.
void draw_labels(const Look& look, const scene::Viewport& viewport, Recorder& recorder);

/// The lesson's panel, and what it speaks of marked on the house. `is_slide`: no buttons.
void draw_lesson(const Look& look, const scene::Viewport& viewport, bool is_slide,
                 Recorder& recorder, Intents& intents);
/// Opens the lesson.
void lesson_button(const Look& look, Recorder& recorder, Intents& intents);
/// What is written over the house, and rings; the rest are marks_of().
void mark_lesson(const Look& look, const scene::Viewport& viewport);
/// The eaves unrolled, along the foot of the drawing; what is pointed at there is marked on the
/// house too.
void draw_ribbon(const Look& look, const scene::Viewport& viewport, bool is_picture,
                 Recorder& recorder, Intents& intents);

}  // namespace ridgeward::panels
