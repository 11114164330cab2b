#pragma once
// The panels of editing; private to the folder.

#include "edit/stage.hpp"
#include "panels/commands.hpp"
#include "panels/pieces.hpp"

#include <optional>
#include <string>

namespace ridgeward::panels {

/// Height of the bar over the drawing, margins and all, in pixels.
float toolbar_height();
/// Files, steps, tools.
void toolbar(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
             Intents& intents);
/// Handles of what can be dragged in space, while one edits.
void draw_grips(const Look& look, const scene::Viewport& viewport, Recorder& recorder);
/// Fields of what is selected.
void edit_body(const Look& look, Recorder& recorder, Intents& intents);
/// The plan in the place of the drawing in space.
void plan_view(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
               Intents& intents);
/// The plan's ground, and at its foot how much a square and a bar of it are.
void plan_grid(ImDrawList& list, const PlanView& view, const scene::Viewport& viewport,
               units::Style style);
void plan_scale(ImDrawList& list, const PlanView& view, const scene::Viewport& viewport,
                units::Style style);
void mark_square(ImDrawList& list, glm::dvec2 middle, float half, ImU32 colour);
/// An outline that is being drawn, to where the next corner would come too.
void mark_drawn(ImDrawList& list, const PlanTool& tool, std::optional<glm::dvec2> next,
                const PlanView& view, units::Style style);
/// What a corner is drawn to: the line of the guide, and its words.
void mark_snap(ImDrawList& list, const Snap& snap, const PlanView& view);
/// The length of a side, beside it on its outer hand.
void mark_length(ImDrawList& list, glm::dvec2 a, glm::dvec2 b, const PlanView& view,
                 units::Style style);
/// What keeps a drawn outline from being closed: its two sides, numbered, and a cross.
void mark_meeting(ImDrawList& list, const PlanTool& tool, const PlanView& view);
/// What the last edit said or why it could not be done, what is worked at; the hint of the tool.
void messages(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
              Intents& intents);
/// What an import found, in the place of totals and fields; nothing where none is shown.
void import_body(const Look& look, Recorder& recorder, Intents& intents);
/// The planes of an imported file as they were given, over the roof.
void draw_given(const Look& look, const scene::Viewport& viewport);
/// On the empty window: files that were open lately, the newest first, each a button with name and
/// folder; those that are gone say so and can't be clicked.
void recent_files(const Look& look, const scene::Viewport& viewport, Recorder& recorder,
                  Intents& intents);
/// The same as rows of the panel at hand; the path of the one that was clicked.
std::optional<std::string> recent_rows(const Look& look, Recorder& recorder);
/// What comes after (`way` 1) or before (-1) a path among the recent files that are there: the
/// first after any other text, nothing before the first, the last after the last.
std::string recent_beside(const EditState& edit, const std::string& name, int way);
/// Palette, files, questions: over everything else.
void dialogs(const Look& look, Recorder& recorder, Intents& intents);

}  // namespace ridgeward::panels
