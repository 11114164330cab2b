#pragma once
// Pictures of the lesson, taken without a window or a display.

#include "assess.hpp"
#include "units/length.hpp"

#include "draw/image.hpp"
#include "panels/lesson.hpp"

#include <functional>
#include <string>
#include <vector>

namespace ridgeward::draw {

struct SlideOrder {
  int width_px = 1280;
  int height_px = 800;
  units::Style style = units::Style::feet_inches;
  bool has_words = true;  ///< false: the house alone, with what the step speaks of marked
  double letters = 1.0;   ///< how much larger than for a screen: pages show pictures small
  /// Called with the pictures done and all, after each.
  std::function<void(std::size_t, std::size_t)> tell{};
};

/// One picture to take: a house, and where the lesson on it stands.
struct Slide {
  const Assessment* house = nullptr;
  panels::LessonView lesson;
};

/// Steps as they stand in the lesson. Equal input gives equal pixels with one and the same driver.
/// Faults: graphics.none.
Result<std::vector<Image>> take_slides(const std::vector<Slide>& slides, const SlideOrder& order);

}  // namespace ridgeward::draw
