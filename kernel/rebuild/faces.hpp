#pragma once
// The polygons of one building on shared corners, each on its plane. Private to this folder.

#include "base/polygon.hpp"

#include "rebuild/planes.hpp"

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <cstdint>
#include <map>
#include <utility>
#include <vector>

namespace ridgeward::rebuild {

/// Newell: the normal of a loop, as long as its area.
glm::dvec3 newell(const std::vector<glm::dvec3>& loop);

/// z = height + dot(gradient, p).
struct Slope {
  glm::dvec2 gradient{0.0};  ///< rise per run, uphill
  double height_m = 0.0;     ///< over the origin of the plan
  double z(glm::dvec2 p) const { return height_m + glm::dot(gradient, p); }
  double rise_per_run() const { return glm::length(gradient); }
  bool is_level() const { return rise_per_run() < 0.005; }
  /// True length over a difference in height: cosine of the slope.
  double cosine() const { return 1.0 / glm::length(glm::dvec2(1.0, rise_per_run())); }
};

struct Face {
  std::vector<std::vector<std::uint32_t>> loops;  ///< corners; outer counter-clockwise, then holes
  polygon::Loops plan;                            ///< the same as points
  std::size_t plane = 0;
  double area_m2 = 0.0;  ///< true
};

using Group = std::vector<std::size_t>;  ///< faces, rising

/// Corners of the plan that lie closer than `snap_m` are one; a corner on another face's side is a
/// corner of that face too, so that neighbours share whole sides.
struct Faces {
  std::vector<glm::dvec2> corners;
  std::vector<Slope> planes;
  std::vector<Face> faces;
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::size_t> face_left_of;
  std::size_t upright = 0;    ///< polygons passed over: walls
  double unevenness_m = 0.0;  ///< farthest corner from the plane of its polygon

  const Slope& slope_of(std::size_t face) const { return planes[faces[face].plane]; }
  /// The face on the other side of a -> b, which has `face` on its left; -1 for none.
  std::ptrdiff_t across(std::uint32_t a, std::uint32_t b) const;
};

Faces faces_of(const Building& building, glm::dvec2 origin, double tolerance_m);

/// Pairs of faces of which one lies over the middle of the other. Stops counting past `most`.
std::size_t overlaps(const Faces& all, std::size_t most);

/// Where two faces meet.
struct Joint {
  std::uint32_t a = 0;  ///< the first face lies on the left of a -> b
  std::uint32_t b = 0;
  std::size_t left = 0;
  std::size_t right = 0;
  double step_m = 0.0;     ///< largest rise from left to right at its ends
  bool is_joined = false;  ///< both ends at one height
  bool is_valley = false;  ///< joined, and both planes rise away or fall toward it
};
/// All of them, each once from either side (left < right).
std::vector<Joint> joints_of(const Faces& all, double tolerance_m);

/// The faces of `group` that hang together over joints that `keeps`.
template <class Keeps>
std::vector<Group> connected(const Group& group, const std::vector<Joint>& joints, Keeps keeps) {
  std::map<std::size_t, std::size_t> leader;
  for (const std::size_t face : group) {
    leader[face] = face;
  }
  const auto find = [&](std::size_t face) {
    while (leader[face] != face) {
      face = leader[face] = leader[leader[face]];
    }
    return face;
  };
  for (const Joint& joint : joints) {
    if (leader.contains(joint.left) && leader.contains(joint.right) && keeps(joint)) {
      leader[find(joint.right)] = find(joint.left);
    }
  }
  // Groups in the order of their first faces.
  std::map<std::size_t, std::size_t> number;
  std::vector<Group> all;
  for (const std::size_t face : group) {
    const auto [at, is_new] = number.emplace(find(face), all.size());
    if (is_new) {
      all.emplace_back();
    }
    all[at->second].push_back(face);
  }
  return all;
}

}  // namespace ridgeward::rebuild
