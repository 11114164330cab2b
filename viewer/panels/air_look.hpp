#pragma once
// The marks of moving air, on the drawing and in its legend alike; private to the folder.

#include "scene/air_path.hpp"

#include <glm/vec3.hpp>
#include <imgui.h>

#include <vector>

namespace ridgeward::panels {

struct AirLook {
  glm::vec3 colour{0.0F};
  float width_px = 1.6F;
  float alpha = 0.55F;  ///< of its line
  bool is_dotted = false;
  const char* words = "";
};
AirLook air_look_of(scene::AirRole role);
const char* words_of(scene::StillWhy why);

/// Where a head is, whither it points (length 1) and its half length.
struct HeadPlace {
  ImVec2 middle;
  ImVec2 way;
  float size = 5.0F;
};
/// Full for air that goes the right way, hollow and doubled for the wrong way, a diamond for air
/// from the rooms, an open chevron within an attic.
void draw_air_head(ImDrawList& list, const HeadPlace& place, scene::AirRole role, float fade);
void dotted_line(ImDrawList& list, const std::vector<ImVec2>& points, ImU32 colour, float width);

/// Bars for what is shut off, cross lines for what leads nowhere, slanting lines for what is open
/// and hardly moves.
void hatch_still(ImDrawList& list, const std::vector<ImVec2>& outline, scene::StillWhy why);
/// A square with a bar; a disc with a cross; a ring.
void draw_still_mark(ImDrawList& list, ImVec2 middle, float radius, scene::StillWhy why);

}  // namespace ridgeward::panels
