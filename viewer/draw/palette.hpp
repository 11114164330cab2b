#pragma once
// Colours and stroke patterns. One table for drawing, legend and labels, so that they agree.
//
// The line colours are told apart under the common kinds of colour blindness, and every kind has a
// pattern or weight of its own besides. Blue goes with air coming in, orange with air going out.
// There are two themes, light and dark; the names below stand for the one that is set.

#include "scene/scene.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace ridgeward::draw {

/// Numbered as the face program has them.
enum class Hatch { none, diagonal, cross, rising, level, upright, dense, wool, dots };

struct FaceLook {
  glm::vec3 colour{0.5F};
  float alpha = 1.0F;
  Hatch hatch = Hatch::none;
  glm::vec3 hatch_colour{0.0F};
};

/// Of the face that a body shows where it is cut.
struct CapLook {
  glm::vec3 colour{0.9F};
  Hatch hatch = Hatch::none;
  glm::vec3 hatch_colour{0.3F};
};

struct StrokeLook {
  glm::vec3 colour{0.0F};
  float width_px = 2.0F;
  glm::vec2 dash_px{0.0F};  ///< drawn, left out; zeros: unbroken
  const char* words = "";
};

FaceLook look_of(scene::FaceRole role);
StrokeLook look_of(scene::StrokeRole role);
/// Of a compartment's air: told apart by colour and by hatch; the sixth looks like the first.
FaceLook air_look(std::size_t compartment);
/// REQUIRES a body's role; `compartment` of air.
CapLook cap_look(scene::FaceRole role, std::size_t compartment);

/// Colours of a theme.
struct Inks {
  glm::vec3 paper, ground_shadow, ink, faint_ink, selected, intake, exhaust, good, caution, bad;
  glm::vec3 card;   ///< behind labels and panels
  glm::vec3 track;  ///< of bars
  glm::vec3 frame;  ///< around panels
  glm::vec3 cut_line;
  float light_share = 1.0F;  ///< of the light on the house
};
void set_dark(bool on);
bool is_dark();
const Inks& inks();
/// Share of the light on the house.
float light_share();

inline const glm::vec3& paper = inks().paper;
inline const glm::vec3& ground_shadow = inks().ground_shadow;
inline constexpr float ground_shadow_alpha = 0.32F;
inline const glm::vec3& ink = inks().ink;
inline const glm::vec3& faint_ink = inks().faint_ink;
inline const glm::vec3& selected = inks().selected;
inline const glm::vec3& intake = inks().intake;
inline const glm::vec3& exhaust = inks().exhaust;
inline const glm::vec3& good = inks().good;
inline const glm::vec3& caution = inks().caution;
inline const glm::vec3& bad = inks().bad;
inline const glm::vec3& card = inks().card;
inline const glm::vec3& cut_line = inks().cut_line;

}  // namespace ridgeward::draw
