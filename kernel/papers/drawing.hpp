#pragma once
// Pages as plain data: lines, areas, hatches and text, in millimetres from the upper left corner of
// the page. No PDF, no SVG: cairo.hpp draws them.

#include <glm/vec2.hpp>

#include <string>
#include <vector>

namespace ridgeward::papers {

/// A shade: 0 black, 1 white. Pages are made for black and white printers; shades, dashes and
/// hatches tell things apart.
struct Stroke {
  double width_mm = 0.2;
  double shade = 0.0;
  std::vector<double> dash_mm;  ///< on, off, on, off; empty: a whole line
};

/// Parallel lines over an area; none while the distance is 0.
struct Hatch {
  double distance_mm = 0.0;
  double turned_rad = 0.0;
  double shade = 0.0;
};

/// Straight lines: open or closed loops that are filled even-odd together.
struct Path {
  std::vector<std::vector<glm::dvec2>> loops;
  bool is_closed = false;
  Stroke stroke;
  bool is_filled = false;
  double fill_shade = 1.0;
  Hatch hatch;
};

enum class Align { left, middle, right };

/// One line of text; `at` is on its base line.
struct Text {
  glm::dvec2 at{0.0};
  std::string text;
  double size_mm = 3.0;  ///< of the letters' em
  bool is_bold = false;
  Align align = Align::left;
  double turned_rad = 0.0;  ///< clockwise on the page
  double shade = 0.0;
  bool has_halo = false;  ///< white behind the letters, for labels on drawings
};

/// A picture (PNG bytes) stretched over a box.
struct Picture {
  glm::dvec2 low{0.0};
  glm::dvec2 size{0.0};
  std::string png;
};

struct Page {
  std::vector<Picture> pictures;  ///< beneath all else
  std::vector<Path> paths;
  std::vector<Text> texts;  ///< over the paths
};

enum class Paper { letter, a4 };

struct Drawing {
  std::string title;
  glm::dvec2 size_mm{215.9, 279.4};
  std::vector<Page> pages;
};

/// Width and height in mm, upright: 8 1/2 x 11 in, or ISO 216 A4.
glm::dvec2 size_of(Paper paper);

/// The corners of a text's box, from its lower left; letters that reach below the base line too.
std::vector<glm::dvec2> box_of(const Text& text);

/// Whether the boxes of two texts share more than a hair.
bool overlap(const Text& one, const Text& other);
/// Pairs of texts of one page whose boxes overlap, in words; empty when all can be read.
std::vector<std::string> overlapping_texts(const Drawing& drawing);
/// Texts that reach beyond the page, in words.
std::vector<std::string> texts_off_page(const Drawing& drawing);

}  // namespace ridgeward::papers
