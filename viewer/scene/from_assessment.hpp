#pragma once
// Makes the scene of an assessed roof.

#include "assess.hpp"

#include "scene/scene.hpp"

namespace ridgeward::scene {

/// Everything drawable of `assessment`, all layers. Pure. Works as far as the assessment goes: a
/// roof without framing or vents gives planes, lines and walls.
Scene from_assessment(const Assessment& assessment);

/// A bay's state as drawn.
FaceRole bay_role(const Assessment& assessment, BayId bay);

}  // namespace ridgeward::scene
