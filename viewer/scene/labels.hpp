#pragma once
// Finds room for labels and marks on the picture.

#include "scene/camera.hpp"
#include "scene/scene.hpp"

#include <functional>
#include <string>
#include <vector>

namespace ridgeward::scene {

/// Rectangle in pixels.
struct Box {
  glm::dvec2 low{0.0};
  glm::dvec2 high{0.0};
  bool overlaps(const Box& other) const {
    return low.x < other.high.x && other.low.x < high.x && low.y < other.high.y &&
           other.low.y < high.y;
  }
  bool is_within(const Box& other) const {
    return low.x >= other.low.x && low.y >= other.low.y && high.x <= other.high.x &&
           high.y <= other.high.y;
  }
};

struct PlacedLabel {
  const Label* label = nullptr;
  std::string text;
  Box box;
  glm::dvec2 anchor{0.0};  ///< what it speaks of
};

struct PlacedMarker {
  const Marker* marker = nullptr;
  Box box;
  glm::dvec2 anchor{0.0};
};

struct Lettering {
  std::function<std::string(const Label&)> text_of;
  std::function<glm::dvec2(const std::string&)> size_of;  ///< of a text with its margin, in pixels
  double gap_px = 4.0;                                    ///< between a label and its line
  double marker_px = 18.0;                                ///< side of a marker's box
};

struct Placed {
  std::vector<PlacedMarker> markers;
  std::vector<PlacedLabel> labels;
};

/// Greedy: markers first, then labels by rank, longer lines first; each at the first of a handful
/// of places beside what it speaks of where it is in sight, within the viewport, clear of `taken`
/// and of all that was placed before, preferring places that cover no line. What finds no room is
/// left out. Laws: no two boxes overlap; every box lies within the viewport; none overlaps `taken`.
Placed place_labels(const Scene& scene, const Lens& lens, const Layers& layers,
                    const std::vector<Box>& taken, const Lettering& lettering);

}  // namespace ridgeward::scene
