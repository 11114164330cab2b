// How a plan and what goes with it lie in their frame.
#include "papers/plan_scale.hpp"

#include "base/polygon.hpp"
#include "papers/cairo.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace ridgeward::papers {

namespace {

constexpr double border_mm = 4.5;       ///< for labels beside the roof
constexpr double arrow_mm = 18.0;       ///< side of the square for the arrow to the north
constexpr double bar_high_mm = 6.0;     ///< the bar to measure by, with its words
constexpr double most_bar_share = 0.4;  ///< of the frame's width
constexpr double bar_text_mm = 2.6;
constexpr double key_text_mm = 2.4;
constexpr double least_key_mm = 40.0;

polygon::Box plan_box(const surface::Surface& s) {
  polygon::Box box;
  for (const glm::dvec3& node : s.nodes) {
    box.add(glm::dvec2(node));
  }
  return box;
}

/// Finds room in the frame for things beside the roof.
class FreeRoom {
 public:
  FreeRoom(const surface::Surface& surface, const PlanScale& scale) : frame_(scale.frame) {
    for (const surface::Plane& plane : surface.planes) {
      roof_.emplace_back();
      for (const surface::Loop& loop : plane.loops) {
        roof_.back().emplace_back();
        for (const glm::dvec3& corner : surface::corners(surface, loop)) {
          roof_.back().back().push_back(scale.at(glm::dvec2(corner)));
        }
      }
    }
  }
  /// Upper left corner of a free rectangle that touches the frame's border, which is then taken;
  /// `is_low`: at its foot and right first, else at its head and left.
  std::optional<glm::dvec2> take(glm::dvec2 size, bool is_low);

 private:
  bool is_free(const polygon::Box& box) const;

  Frame frame_;
  std::vector<polygon::Loops> roof_;
  std::vector<polygon::Box> taken_;
};

/// Whether a polygon covers the middle of a box or enters it.
bool reaches(const polygon::Loops& loops, const polygon::Box& box) {
  if (polygon::contains(loops, (box.low + box.high) / 2.0)) {
    return true;
  }
  return std::any_of(loops.begin(), loops.end(), [&](const polygon::Loop& loop) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      if (clipped(loop[i], loop[(i + 1) % loop.size()], box.low, box.high).size() == 2) {
        return true;
      }
    }
    return false;
  });
}

bool FreeRoom::is_free(const polygon::Box& box) const {
  const polygon::Box wide{box.low - border_mm, box.high + border_mm};
  return std::none_of(taken_.begin(), taken_.end(),
                      [&](const polygon::Box& other) { return other.touches(box); }) &&
         std::none_of(roof_.begin(), roof_.end(),
                      [&](const polygon::Loops& loops) { return reaches(loops, wide); });
}

std::optional<glm::dvec2> FreeRoom::take(glm::dvec2 size, bool is_low) {
  const glm::dvec2 room = frame_.size - size;
  constexpr int steps = 40;
  if (room.x < 0.0 || room.y < 0.0) {
    return std::nullopt;
  }
  std::vector<glm::dvec2> places;
  for (int k = 0; k <= steps; ++k) {
    const double share = static_cast<double>(k) / steps;
    for (const double side : {0.0, 1.0}) {
      places.emplace_back(share * room.x, side * room.y);
      places.emplace_back(side * room.x, share * room.y);
    }
  }
  const double sign = is_low ? -1.0 : 1.0;
  std::stable_sort(places.begin(), places.end(), [&](glm::dvec2 a, glm::dvec2 b) {
    return sign * (3 * a.y + a.x) < sign * (3 * b.y + b.x);
  });
  for (const glm::dvec2 place : places) {
    const polygon::Box box{frame_.low + place, frame_.low + place + size};
    if (is_free(box)) {
      taken_.push_back(box);
      return box.low;
    }
  }
  return std::nullopt;
}

/// Arrow, bar and key about the roof as it lies; whether all found room.
bool lay_about(const surface::Surface& surface, const std::vector<glm::dvec2>& keys,
               units::Style style, PlanScale& scale) {
  FreeRoom room(surface, scale);
  const double bar_mm = std::max(bar_of(scale, style).length_mm,
                                 text_width_mm(bar_words(scale, style), bar_text_mm, false));
  const auto bar = room.take({bar_mm + 2.0, bar_high_mm}, true);
  const auto arrow = room.take(glm::dvec2{arrow_mm}, false);
  if (!bar || !arrow) {
    return false;
  }
  scale.bar = *bar + glm::dvec2{bar_mm, bar_high_mm - 1.0};
  scale.arrow = *arrow + 0.5 * arrow_mm;
  for (const glm::dvec2 size : keys) {
    if (const auto key = room.take(size, true)) {
      scale.key = *key;
      scale.key_size = size;
      return true;
    }
  }
  return keys.empty();
}

/// The roof in the middle of the frame, or moved to one side; whether it fits with all that goes
/// with it.
bool lay(const surface::Surface& surface, const std::vector<glm::dvec2>& keys, units::Style style,
         PlanScale& scale) {
  const polygon::Box box = plan_box(surface);
  const glm::dvec2 size = box.high - box.low;
  const glm::dvec2 turned = scale.is_turned ? glm::dvec2{size.y, size.x} : size;
  const glm::dvec2 free = scale.frame.size - scale.mm_per_m * turned - 2 * border_mm;
  const glm::dvec2 middle = (box.low + box.high) / 2.0;
  const glm::dvec2 centre = scale.frame.low + scale.frame.size / 2.0;
  const glm::dvec2 origin = centre - scale.mm_per_m * scale.along(middle);
  scale.origin = origin;
  // What goes with it, should nothing fit: the roof comes first.
  scale.arrow = scale.frame.low + 0.5 * arrow_mm;
  scale.bar = scale.frame.low + scale.frame.size - 2.0;
  scale.key_size = keys.empty() ? glm::dvec2{0.0} : keys.back();
  scale.key = scale.frame.low + glm::dvec2{0.0, scale.frame.size.y - scale.key_size.y};
  if (free.x < 0.0 || free.y < 0.0) {
    return false;
  }
  for (const glm::dvec2 moved :
       {glm::dvec2{0.0}, glm::dvec2{0.0, -0.5}, glm::dvec2{0.0, 0.5}, glm::dvec2{-0.5, 0.0},
        glm::dvec2{0.5, 0.0}, glm::dvec2{-0.5}, glm::dvec2{0.5}}) {
    scale.origin = origin + moved * free;
    if (lay_about(surface, keys, style, scale)) {
      return true;
    }
  }
  scale.origin = origin;
  return false;
}

}  // namespace

Bar bar_of(const PlanScale& scale, units::Style style) {
  const bool in_feet = style == units::Style::feet_inches;
  const double unit_mm = scale.mm_per_m * (in_feet ? units::foot_m : 1.0);
  const double large = in_feet ? 20 : 5;
  const double small = in_feet ? 10 : 2;
  const double count = large * unit_mm > most_bar_share * scale.frame.size.x ? small : large;
  return {count, count * unit_mm};
}

std::string bar_words(const PlanScale& scale, units::Style style) {
  return fmt::format("{:.0f} {}   {}", bar_of(scale, style).count,
                     style == units::Style::feet_inches ? "ft" : "m", scale.words);
}

double key_wide_mm(const std::vector<KeyedName>& keyed) {
  double wide = least_key_mm;
  for (const KeyedName& one : keyed) {
    wide = std::max(wide, text_width_mm(one.name, key_text_mm, false) + 9.0);
  }
  return wide;
}

std::vector<glm::dvec2> key_sizes(const std::vector<KeyedName>& keyed) {
  std::vector<glm::dvec2> sizes;
  for (const std::size_t columns : {1U, 2U, 3U, 4U}) {
    const std::size_t rows = (keyed.size() + 2 + columns - 1) / columns;
    sizes.emplace_back(key_wide_mm(keyed) * static_cast<double>(columns),
                       key_row_mm * static_cast<double>(rows) + 1.0);
  }
  return sizes;
}

PlanScale fitting(const Assessment& a, const std::vector<glm::dvec2>& sizes, const Frame& frame,
                  units::Style style) {
  PlanScale scale;
  scale.frame = frame;
  for (const UsualScale& usual : plan_scales(style)) {
    scale.mm_per_m = usual.mm_per_m;
    scale.words = usual.words;
    for (const bool is_turned : {false, true}) {
      scale.is_turned = is_turned;
      if (lay(a.surface, sizes, style, scale)) {
        return scale;
      }
    }
  }
  scale.is_turned = false;
  lay(a.surface, sizes, style, scale);
  return scale;
}

PlanScale roof_to_fit(const Assessment& assessment, const Frame& frame, units::Style style) {
  return fitting(assessment, {}, frame, style);
}

}  // namespace ridgeward::papers
