#pragma once
// What stands written on a plan: names of planes, openings and obstacles, lengths of lines.

#include "papers/label_room.hpp"
#include "papers/plan_drawing.hpp"

#include <string>
#include <vector>

namespace ridgeward::papers {

/// A name that had no room where it belongs: a letter stands there instead.
struct KeyedName {
  std::string letter;  ///< "A", "B", ..., "AA"
  std::string name;
};

/// An opening's name: vents set piece by piece on one plane are told together.
struct OpeningName {
  std::string text;
  std::vector<std::string> ids;
  std::vector<glm::dvec3> at;  ///< places of which one is pointed at, the best first
  glm::dvec3 from{0.0};        ///< ends of a slot, of a vent along a line; else alike
  glm::dvec3 to{0.0};
};
std::vector<OpeningName> opening_names(const Assessment& assessment);

class PlanNames {
 public:
  /// Symbols and lines of the roof, and every text that is on the page, are kept clear of.
  PlanNames(const Assessment& assessment, const PlanScale& scale, units::Style style, Page& page);

  LabelRoom& room() { return room_; }
  /// Law: each plane that is no cricket has its name, or its letter, on a piece of it that is seen
  /// from above, or at the end of a line that starts on such a piece.
  void planes();
  void openings();
  void obstacles();
  void lengths();
  const std::vector<KeyedName>& keyed() const { return keyed_; }

 private:
  struct Face {
    polygon::Loops loops;  ///< on the page
    polygon::Box box;
  };
  glm::dvec2 at(glm::dvec3 p) const { return scale_.at(glm::dvec2(p)); }
  void block_symbols();
  bool is_seen(PlaneId plane, glm::dvec2 page) const;
  bool is_within(PlaneId plane, const Lines& label) const;
  std::vector<glm::dvec2> places_on(PlaneId plane) const;
  void plane(PlaneId id);
  bool beside(glm::dvec2 from, glm::dvec2 to, double away_mm, Text label, bool is_outer_first);
  bool is_over_roof(glm::dvec2 page) const;

  const Assessment& a_;
  const PlanScale& scale_;
  units::Style style_;
  LabelRoom room_;
  std::vector<Face> faces_;
  std::vector<KeyedName> keyed_;
};

}  // namespace ridgeward::papers
