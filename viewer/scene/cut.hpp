#pragma once
// A house cut open by a plane that a person moves.

#include "base/fault.hpp"

#include "scene/camera.hpp"
#include "scene/scene.hpp"

#include <array>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

namespace ridgeward::scene {

enum class CutWay {
  none,
  across,  ///< upright, square to the longest eave
  along,   ///< upright, along the longest eave
  level
};

struct Cut {
  CutWay way = CutWay::none;
  double share = 0.5;       ///< of the house's extent, from its left, front or ground: 0 .. 1
  bool keeps_high = false;  ///< which half stays: false: that before the plane
  bool operator==(const Cut&) const = default;
};

/// "across", "along", "level"; an empty word for none.
const char* word(CutWay way);
/// "across", "along:0.3", "level:60%": a way and where, a share of the house's extent (half of it
/// when left out). Faults: cut.unknown.
Result<Cut> parse_cut(std::string_view text);

/// How far the house reaches along the cut's normal, from and to, in metres.
std::pair<double, double> extent(const Cut& cut, const Scene& scene);
/// The half that stays; none where nothing is cut.
std::optional<HalfSpace> half_that_stays(const Cut& cut, const Scene& scene);
/// The cut moved by metres along its plane's normal, away from where the extent begins.
Cut moved(Cut cut, double by_m, const Scene& scene);
/// The cut of which the half that faces the camera is taken away.
Cut opened_towards(Cut cut, const Camera& camera, const Scene& scene);

/// Of a loop, what lies in the half that stays; all where nothing is cut, empty where nothing of it
/// stays.
std::vector<glm::dvec3> kept(const std::vector<glm::dvec3>& loop,
                             const std::optional<HalfSpace>& half);
/// Corners of what stays: what a fitting camera must show.
std::vector<glm::dvec3> standing(const Cut& cut, const Scene& scene);

/// Corners of a rectangle on the cutting plane, a little larger than the house; the first two at
/// the bottom (level: at the front).
std::array<glm::dvec3, 4> sheet(const Cut& cut, const Scene& scene);
/// Where a hand takes hold of the plane: the middle of the sheet's far edge.
glm::dvec3 handle(const Cut& cut, const Scene& scene);

/// Whether a role stands for closed bodies, which show a face where they are cut.
bool is_body(FaceRole role);

/// Where the plane of `half` meets the triangles: one piece a triangle, laid end to end around each
/// body. Triangles that lie in the plane give none.
using Segment = std::pair<glm::dvec3, glm::dvec3>;
std::vector<Segment> section(const std::vector<Triangle>& triangles, const HalfSpace& half);

}  // namespace ridgeward::scene
