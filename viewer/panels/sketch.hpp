#pragma once
// Marks on the house: bays, slots, exhausts, and words over them.

#include "panels/screen.hpp"
#include "scene/marks.hpp"

#include <glm/vec3.hpp>

#include <vector>

namespace ridgeward::panels {

/// Gathers marks. Pure.
class Sketch {
 public:
  /// `shows_through`: as of the marks.
  Sketch(const State& state, const Assessment& assessment, bool shows_through)
      : state_(state), a_(assessment), shows_through_(shows_through) {}

  void bay(BayId id, glm::vec3 colour);
  void slot(SlotId id, glm::vec3 colour);
  /// A box along a plane, plane coordinates.
  void strip(PlaneId plane, glm::dvec2 low, glm::dvec2 high, glm::vec3 colour);
  /// One that is a line; mark_lesson() rings those that stand in one place.
  void exhaust(ExhaustId id, glm::vec3 colour);
  std::vector<scene::Mark> marks() && { return std::move(marks_); }

 private:
  void loop(PlaneId plane, const std::vector<glm::dvec2>& outline, glm::vec3 colour);

  const State& state_;
  const Assessment& a_;
  bool shows_through_;
  std::vector<scene::Mark> marks_;
};

}  // namespace ridgeward::panels
