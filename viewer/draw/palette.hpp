#pragma once
// Colours and stroke patterns. One table for drawing, legend and labels, so that they agree.
//
// The line colours are told apart under the common kinds of colour blindness, and every kind has a
// pattern or weight of its own besides. Blue goes with air coming in, orange with air going out.

#include "scene/scene.hpp"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace ridgeward::draw {

enum class Hatch { none, diagonal, cross };

struct FaceLook {
  glm::vec3 colour{0.5F};
  float alpha = 1.0F;
  Hatch hatch = Hatch::none;
  glm::vec3 hatch_colour{0.0F};
};

struct StrokeLook {
  glm::vec3 colour{0.0F};
  float width_px = 2.0F;
  glm::vec2 dash_px{0.0F};  ///< drawn, left out; zeros: unbroken
  const char* words = "";
};

FaceLook look_of(scene::FaceRole role);
StrokeLook look_of(scene::StrokeRole role);

inline constexpr glm::vec3 paper{0.941F, 0.949F, 0.953F};
inline constexpr glm::vec3 ground_shadow{0.360F, 0.410F, 0.470F};
inline constexpr float ground_shadow_alpha = 0.32F;
inline constexpr glm::vec3 ink{0.118F, 0.141F, 0.173F};
inline constexpr glm::vec3 faint_ink{0.372F, 0.407F, 0.450F};
inline constexpr glm::vec3 selected{0.980F, 0.760F, 0.110F};
inline constexpr glm::vec3 intake{0.055F, 0.400F, 0.690F};
inline constexpr glm::vec3 exhaust{0.820F, 0.370F, 0.050F};
inline constexpr glm::vec3 good{0.050F, 0.450F, 0.400F};
inline constexpr glm::vec3 caution{0.690F, 0.430F, 0.000F};
inline constexpr glm::vec3 bad{0.690F, 0.110F, 0.180F};

}  // namespace ridgeward::draw
