#pragma once
// Where a drawing has room for labels: clear of its symbols, its lines and its other texts.

#include "base/polygon.hpp"
#include "papers/draft.hpp"

#include <optional>
#include <vector>

namespace ridgeward::papers {

/// Lines of one label, which stand or fall together.
using Lines = std::vector<Text>;

/// Texts of the page count by themselves; symbols and lines are told with block() and cross().
/// Law: what place() took covers no symbol, no text that was there, and nothing outside the frame.
class LabelRoom {
 public:
  LabelRoom(Page& page, const Frame& frame) : page_(page), frame_(frame) {}

  /// A symbol that no label may touch: a line of some width, or an area (convex).
  void block(glm::dvec2 from, glm::dvec2 to, double half_mm);
  void block(polygon::Loop convex);
  /// A line that labels keep clear of, and only leaders may cross.
  void cross(glm::dvec2 from, glm::dvec2 to, double half_mm);

  /// Whether the label covers neither symbol nor text, and no line.
  bool has_room(const Lines& label) const;
  /// The same, but for lines.
  bool is_clear(const Lines& label) const;
  /// Puts the label on the page if it has room; whether it had.
  bool place(const Lines& label);
  /// The label within `farthest_mm` of a place, with a thin line from there to it; beside lines of
  /// the roof if that can be had, over them else. Whether there was room.
  bool place_with_leader(glm::dvec2 at, const Text& label, double farthest_mm);

 private:
  struct Shape {
    polygon::Loop corners;
    polygon::Box box;
  };
  static Shape shape_of(polygon::Loop corners);
  static bool touch(const Shape& one, const Shape& other);
  bool is_leader_clear(glm::dvec2 from, glm::dvec2 to) const;
  void put(const Lines& label);
  void read_texts() const;

  Page& page_;
  Frame frame_;
  std::vector<Shape> symbols_;
  std::vector<Shape> lines_;
  mutable std::vector<Shape> texts_;  ///< of the page, as far as they were read
  std::vector<Shape> leaders_;
};

/// A label of one line, or of two above each other, about its middle.
Lines lines_at(glm::dvec2 middle, const std::vector<std::string>& words, double size_mm,
               double turned_rad);

/// The box of a text with some room around.
polygon::Loop box_around(const Text& text, double room_mm);

/// Turned so that it reads from below or from the right.
double readable(double turned_rad);

}  // namespace ridgeward::papers
