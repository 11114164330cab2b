#pragma once
// Assessments made by hand, so that the viewer is tested apart from the stages that make real ones.

#include "assess.hpp"

#include <string>
#include <vector>

namespace ridgeward::test_support {

/// A face by its corners, counter-clockwise seen from outside, the left end of its eave first, the
/// eave's right end second. Holes run clockwise.
struct HandPlane {
  std::string id;
  std::vector<std::vector<glm::dvec3>> loops;
};

/// Planes that share corners exactly share lines. Lines with one plane are eaves where level, else
/// rakes; lines with two are ridges, hips or valleys.
surface::Surface surface_of(const std::vector<HandPlane>& planes);

/// A gable house of 12 m x 8 m with a gabled wing on its south side, pitch 8/12, overhangs, rafters
/// at 406 mm, two slots on the south and one on the north, a ridge vent, one finding of each
/// severity, one dead bay under a slot.
Assessment wing_house();

/// A hip roof over 10 m x 6 m at 6/12 without framing or vents.
Assessment hip_house();

}  // namespace ridgeward::test_support
