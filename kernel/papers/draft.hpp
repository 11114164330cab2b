#pragma once
// What all drawings are made of: lines, areas, dimensions, labels that keep clear of each other,
// the usual scales.

#include "papers/drawing.hpp"
#include "surface/surface.hpp"
#include "units/length.hpp"

#include <span>
#include <string>
#include <vector>

namespace ridgeward::papers {

/// A rectangle of the page, in mm.
struct Frame {
  glm::dvec2 low{0.0};
  glm::dvec2 size{0.0};
};

/// Millimetres of the page for a metre of the house.
struct UsualScale {
  double mm_per_m;
  const char* words;  ///< "1/8 in = 1 ft (1:96)"
};
/// From large to small: inches to the foot, or round ratios. Of whole roofs and planes.
std::span<const UsualScale> plan_scales(units::Style style);
/// The same for details.
std::span<const UsualScale> detail_scales(units::Style style);
/// The largest of them at which `size_m` fits `room_mm`; the smallest where none does.
UsualScale largest_fitting(std::span<const UsualScale> scales, glm::dvec2 size_m,
                           glm::dvec2 room_mm);

/// How lines of each kind are drawn; told apart by width and dashes.
Stroke stroke_of(surface::LineKind kind);
/// A line of the roof in plan; ridges as two thin lines.
void draw_roof_line(Page& page, surface::LineKind kind, glm::dvec2 from, glm::dvec2 to);
/// A vent along a line: a band of black and white pieces.
void draw_vent_band(Page& page, glm::dvec2 from, glm::dvec2 to);

Path segment(glm::dvec2 from, glm::dvec2 to, const Stroke& stroke);
/// Filled, without a border.
Path area_of(std::vector<std::vector<glm::dvec2>> loops, double shade);
/// A round border, filled white.
Path ring_about(glm::dvec2 middle, double radius_mm);
/// A line with a filled head at its end.
void draw_arrow(Page& page, glm::dvec2 from, glm::dvec2 to, const Stroke& stroke);

/// Keeps the label where its box touches no other one; whether it did.
bool add_label(Page& page, Text text);
/// A label in the common size of drawings.
Text label_at(glm::dvec2 at, std::string text, Align align = Align::middle);

/// A dimension line from `from` to `to` with slanting ticks, and its text over its middle; where
/// another text is in the way, behind one of its ends. Whether the text found room.
bool draw_dimension(Page& page, glm::dvec2 from, glm::dvec2 to, const std::string& text);

/// A line from a slot's end to the edge on which the tape hooks, which gets a tick; an arrow where
/// that edge lies outside the drawing.
void draw_hook_line(Page& page, glm::dvec2 end, glm::dvec2 hook, bool is_hook_seen);

/// Where a tape's zero is: a ring with a letter or figure beside the place, joined to it.
void draw_tape_hook(Page& page, glm::dvec2 at, glm::dvec2 ring, const std::string& text);

/// A vent's number beside its middle where it has room; over other texts only where it has none
/// anywhere. `half_mm`: half of what is drawn of the vent.
void number_beside(Page& page, glm::dvec2 middle, double half_mm, const std::string& text);

/// An arrow to the north and an N; `north` is a unit vector on the page.
void draw_north(Page& page, glm::dvec2 middle, glm::dvec2 north);

/// Names beside lines of a drawing, moved apart so that all can be read; thin leaders go from each
/// line's own height to its name.
struct Rung {
  double y_mm = 0.0;
  std::string text;
  bool is_bold = false;
};
/// `line_x` is where the drawing ends, the names stand from `text_x` on to the right, none above
/// `top_y`.
void draw_ladder(Page& page, std::vector<Rung> rungs, double line_x, double text_x, double top_y);

/// The part of a line within a box; empty where none is.
std::vector<glm::dvec2> clipped(glm::dvec2 from, glm::dvec2 to, glm::dvec2 low, glm::dvec2 high);

}  // namespace ridgeward::papers
