#include "papers/label_room.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ridgeward::papers {

namespace {

constexpr double hair_mm = 0.05;
constexpr double around_mm = 0.3;   ///< that labels keep from symbols and texts
constexpr double line_step = 1.15;  ///< between the lines of one label, in ems

/// Corners of a line with some width.
polygon::Loop bar(glm::dvec2 from, glm::dvec2 to, double half_mm) {
  const glm::dvec2 d = to - from;
  const double length = glm::length(d);
  const glm::dvec2 along = length > 0.0 ? d / length : glm::dvec2{1.0, 0.0};
  const glm::dvec2 side = half_mm * glm::dvec2{-along.y, along.x};
  return {from - side, to - side, to + side, from + side};
}

/// Whether a line along one side of `one` parts the two.
bool is_parted_by(const polygon::Loop& one, const polygon::Loop& other) {
  for (std::size_t i = 0; i < one.size(); ++i) {
    const glm::dvec2 d = one[(i + 1) % one.size()] - one[i];
    const glm::dvec2 n{-d.y, d.x};
    double most = -1e300;
    for (const glm::dvec2 p : one) {
      most = std::max(most, glm::dot(n, p - one[i]));
    }
    const double side = most > hair_mm * glm::length(n) ? 1.0 : -1.0;
    double least = 1e300;
    for (const glm::dvec2 p : other) {
      least = std::min(least, -side * glm::dot(n, p - one[i]));
    }
    if (least > 0.0) {
      return true;
    }
  }
  return false;
}

}  // namespace

LabelRoom::Shape LabelRoom::shape_of(polygon::Loop corners) {
  const polygon::Box box = polygon::box_of(corners);
  return {std::move(corners), box};
}

bool LabelRoom::touch(const Shape& one, const Shape& other) {
  return one.box.touches(other.box) && !is_parted_by(one.corners, other.corners) &&
         !is_parted_by(other.corners, one.corners);
}

void LabelRoom::block(glm::dvec2 from, glm::dvec2 to, double half_mm) {
  symbols_.push_back(shape_of(bar(from, to, half_mm)));
}

void LabelRoom::block(polygon::Loop convex) { symbols_.push_back(shape_of(std::move(convex))); }

void LabelRoom::cross(glm::dvec2 from, glm::dvec2 to, double half_mm) {
  lines_.push_back(shape_of(bar(from, to, half_mm)));
}

void LabelRoom::read_texts() const {
  while (texts_.size() < page_.texts.size()) {
    texts_.push_back(shape_of(box_of(page_.texts[texts_.size()])));
  }
}

bool LabelRoom::is_clear(const Lines& label) const {
  read_texts();
  for (const Text& text : label) {
    const Shape shape = shape_of(box_around(text, around_mm));
    const auto is_hit = [&](const std::vector<Shape>& all) {
      return std::any_of(all.begin(), all.end(),
                         [&](const Shape& other) { return touch(shape, other); });
    };
    const glm::dvec2 far = frame_.low + frame_.size;
    if (shape.box.low.x < frame_.low.x || shape.box.low.y < frame_.low.y ||
        shape.box.high.x > far.x || shape.box.high.y > far.y || is_hit(symbols_) ||
        is_hit(texts_) || is_hit(leaders_)) {
      return false;
    }
  }
  return true;
}

bool LabelRoom::has_room(const Lines& label) const {
  for (const Text& text : label) {
    const Shape shape = shape_of(box_of(text));
    if (std::any_of(lines_.begin(), lines_.end(),
                    [&](const Shape& line) { return touch(shape, line); })) {
      return false;
    }
  }
  return is_clear(label);
}

void LabelRoom::put(const Lines& label) {
  page_.texts.insert(page_.texts.end(), label.begin(), label.end());
}

bool LabelRoom::place(const Lines& label) {
  if (!has_room(label)) {
    return false;
  }
  put(label);
  return true;
}

bool LabelRoom::is_leader_clear(glm::dvec2 from, glm::dvec2 to) const {
  read_texts();
  const Shape line = shape_of(bar(from, to, hair_mm));
  const auto is_hit = [&](const Shape& other) { return touch(line, other); };
  return std::none_of(texts_.begin(), texts_.end(), is_hit) &&
         std::none_of(leaders_.begin(), leaders_.end(), is_hit);
}

namespace {

/// Ends of leaders about a place, the short ones first.
std::vector<glm::dvec2> leader_ends(glm::dvec2 at, double farthest_mm) {
  constexpr int sides = 24;
  constexpr double nearest_mm = 4.0;
  constexpr double step_mm = 3.0;
  const int steps = static_cast<int>((farthest_mm - nearest_mm) / step_mm);
  std::vector<glm::dvec2> ends;
  for (int step = 0; step <= steps; ++step) {
    const double away = nearest_mm + step_mm * step;
    for (int k = 0; k < sides; ++k) {
      const double turned = 2 * k * std::numbers::pi / sides;
      ends.push_back(at + away * glm::dvec2{std::sin(turned), -std::cos(turned)});
    }
  }
  return ends;
}

/// The label beside, above or below the end of its leader.
Text beside_end(Text text, glm::dvec2 at, glm::dvec2 end) {
  const double width = glm::distance(box_of(text)[0], box_of(text)[1]);
  const double level = (end.x - at.x) / glm::distance(at, end);
  text.align = Align::left;
  double shift = width / 2;
  double drop = end.y < at.y ? -0.25 : 0.95;
  if (std::abs(level) > 0.3) {
    shift = level < 0.0 ? width + 0.8 : -0.8;
    drop = 0.35;
  }
  text.at = end + glm::dvec2{-shift, drop * text.size_mm};
  return text;
}

}  // namespace

bool LabelRoom::place_with_leader(glm::dvec2 at, const Text& label, double farthest_mm) {
  const std::vector<glm::dvec2> ends = leader_ends(at, farthest_mm);
  for (const bool keeps_off_lines : {true, false}) {
    for (const glm::dvec2 end : ends) {
      const Text text = beside_end(label, at, end);
      const bool is_free = keeps_off_lines ? has_room({text}) : is_clear({text});
      if (!is_free || !is_leader_clear(at, end)) {
        continue;
      }
      put({text});
      leaders_.push_back(shape_of(bar(at, end, hair_mm)));
      page_.paths.push_back(segment(at, end, {0.12, 0.0, {}}));
      page_.paths.push_back(area_of({ring_about(at, 0.35).loops.front()}, 0.0));
      return true;
    }
  }
  return false;
}

polygon::Loop box_around(const Text& text, double room_mm) {
  polygon::Loop box = box_of(text);
  const glm::dvec2 along{std::cos(text.turned_rad), std::sin(text.turned_rad)};
  const glm::dvec2 down{-along.y, along.x};
  box[0] += room_mm * (down - along);
  box[1] += room_mm * (down + along);
  box[2] += room_mm * (along - down);
  box[3] -= room_mm * (along + down);
  return box;
}

Lines lines_at(glm::dvec2 middle, const std::vector<std::string>& words, double size_mm,
               double turned_rad) {
  const glm::dvec2 down{-std::sin(turned_rad), std::cos(turned_rad)};
  const double step = line_step * size_mm;
  const double first = 0.36 * size_mm - 0.5 * step * static_cast<double>(words.size() - 1);
  Lines lines;
  for (std::size_t i = 0; i < words.size(); ++i) {
    Text text = label_at(middle + (first + static_cast<double>(i) * step) * down, words[i]);
    text.size_mm = size_mm;
    text.turned_rad = turned_rad;
    lines.push_back(std::move(text));
  }
  return lines;
}

double readable(double turned_rad) {
  const double quarter = 0.5 * std::numbers::pi;
  if (turned_rad > quarter - 1e-6 || turned_rad <= -quarter - 1e-6) {
    return turned_rad + (turned_rad > 0 ? -std::numbers::pi : std::numbers::pi);
  }
  return turned_rad;
}

}  // namespace ridgeward::papers
