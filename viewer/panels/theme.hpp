#pragma once
// Fonts, colours and measures of the panels; private to the viewer.

#include "panels/texts.hpp"

#include <glm/vec3.hpp>
#include <imgui.h>

#include <string>

namespace ridgeward::panels {

/// `large`: for reading across a room.
enum class Font { text, bold, title, small_text, large };

/// Loads DejaVu Sans where it is installed, else the built-in font, and sets the style.
/// REQUIRES a current ImGui context. `scale` is that of the screen.
void set_theme(double scale, bool is_dark = false);
ImFont* font(Font which);
/// As given to set_theme().
float ui_scale();

ImU32 packed(glm::vec3 colour, float alpha = 1.0F);
glm::vec3 colour_of(Verdict verdict);
/// Ink or card, whichever is read more easily on that ground.
glm::vec3 words_on(glm::vec3 ground);
/// A verdict as a mark of its own shape: disc with tick, square with i, triangle, octagon with
/// cross.
void draw_mark(ImDrawList& list, ImVec2 middle, float radius, Verdict verdict);

/// The scale nearest to the one asked for at which the panels leave the house room in a window of
/// that size, in steps of 0.05; never less than 1, unless less is asked for.
double fitting_scale(double asked, int width_px, int height_px);
/// The text, with its end left out where it would be wider than `room`.
std::string elided(const std::string& text, float room);

/// The viewer's usual width of a panel, in pixels.
float panel_width();

}  // namespace ridgeward::panels
