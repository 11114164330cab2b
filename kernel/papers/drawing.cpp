#include "papers/drawing.hpp"

#include "base/polygon.hpp"
#include "papers/cairo.hpp"

#include <fmt/format.h>

#include <cmath>

namespace ridgeward::papers {

namespace {

// Of the em, as the letters of the sheets have them.
constexpr double above_base = 0.76;
constexpr double below_base = 0.22;
constexpr double touching_mm2 = 0.02;

}  // namespace

glm::dvec2 size_of(Paper paper) {
  return paper == Paper::letter ? glm::dvec2{215.9, 279.4} : glm::dvec2{210.0, 297.0};
}

std::vector<glm::dvec2> box_of(const Text& text) {
  const double width = text_width_mm(text.text, text.size_mm, text.is_bold);
  double left = 0.0;
  if (text.align != Align::left) {
    left = text.align == Align::middle ? -width / 2 : -width;
  }
  const glm::dvec2 along{std::cos(text.turned_rad), std::sin(text.turned_rad)};
  const glm::dvec2 down{-along.y, along.x};
  const auto at = [&](double x, double y) {
    return text.at + (left + x) * along + y * text.size_mm * down;
  };
  return {at(0, below_base), at(width, below_base), at(width, -above_base), at(0, -above_base)};
}

namespace {

/// Counter-clockwise in the plane's sense; the page's y runs down.
polygon::Loop turned_box(const Text& text) {
  polygon::Loop box = box_of(text);
  if (polygon::area(box) < 0.0) {
    std::swap(box[1], box[3]);
  }
  return box;
}

bool overlap(const polygon::Loop& a, const polygon::Loop& b) {
  return polygon::box_of(a).touches(polygon::box_of(b)) &&
         polygon::area(polygon::overlap(a, b)) > touching_mm2;
}

}  // namespace

bool overlap(const Text& one, const Text& other) {
  return !one.text.empty() && !other.text.empty() && overlap(turned_box(one), turned_box(other));
}

namespace {

void find_overlaps(const Page& page, std::size_t number, std::vector<std::string>& found) {
  // Measured once: pages hold hundreds of texts.
  std::vector<polygon::Loop> boxes;
  boxes.reserve(page.texts.size());
  for (const Text& text : page.texts) {
    boxes.push_back(turned_box(text));
  }
  for (std::size_t b = 1; b < boxes.size(); ++b) {
    for (std::size_t a = 0; a < b; ++a) {
      const bool are_there = !page.texts[a].text.empty() && !page.texts[b].text.empty();
      if (are_there && overlap(boxes[a], boxes[b])) {
        found.push_back(fmt::format("page {}: \"{}\" and \"{}\"", number, page.texts[a].text,
                                    page.texts[b].text));
      }
    }
  }
}

}  // namespace

std::vector<std::string> overlapping_texts(const Drawing& drawing) {
  std::vector<std::string> found;
  for (std::size_t p = 0; p < drawing.pages.size(); ++p) {
    find_overlaps(drawing.pages[p], p + 1, found);
  }
  return found;
}

std::vector<std::string> texts_off_page(const Drawing& drawing) {
  std::vector<std::string> found;
  for (std::size_t p = 0; p < drawing.pages.size(); ++p) {
    for (const Text& text : drawing.pages[p].texts) {
      const polygon::Box box = polygon::box_of(box_of(text));
      if (box.low.x < 0 || box.low.y < 0 || box.high.x > drawing.size_mm.x ||
          box.high.y > drawing.size_mm.y) {
        found.push_back(fmt::format("page {}: \"{}\"", p + 1, text.text));
      }
    }
  }
  return found;
}

}  // namespace ridgeward::papers
