#pragma once
// Marks drawn over the house where it is seen: bays, slots, exhausts.

#include "panels/screen.hpp"

#include <glm/vec3.hpp>

#include <vector>

namespace ridgeward::panels {

/// Draws on the sheet behind all panels. What lies on a plane that is turned away is left out.
class Sketch {
 public:
  Sketch(const Look& look, const scene::Viewport& viewport);

  void bay(BayId id, glm::vec3 colour) const;
  void slot(SlotId id, glm::vec3 colour) const;
  /// A box along a plane, plane coordinates.
  void strip(PlaneId plane, glm::dvec2 low, glm::dvec2 high, glm::vec3 colour) const;
  /// A label over a place of a plane.
  void words(PlaneId plane, glm::dvec2 at, const std::string& words) const;
  void exhaust(ExhaustId id, glm::vec3 colour) const;

 private:
  void loop(PlaneId plane, const std::vector<glm::dvec2>& outline, glm::vec3 colour) const;

  const Look& look_;
  scene::Lens lens_;
};

}  // namespace ridgeward::panels
