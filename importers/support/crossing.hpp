#pragma once
// What lies in an outline, and sides of it that cross: told where it was read, as the model that is
// made of it has lost the places of the file.

#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

namespace ridgeward::importing {

/// Whether a place lies within a closed outline of corners that have [0] and [1]; on its border
/// either may come.
template <class Corner>
bool contains(const std::vector<Corner>& corners, const Corner& p) {
  bool is_in = false;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Corner& a = corners[i];
    const Corner& b = corners[(i + 1) % corners.size()];
    if ((a[1] > p[1]) != (b[1] > p[1]) &&
        p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])) {
      is_in = !is_in;
    }
  }
  return is_in;
}

/// Larger outlines are left to the reader of models.
inline constexpr std::size_t most_sides_compared = 1000;

/// The first two sides, by the corners they start at, that cross at a point within both. Sides that
/// only touch are left to the reader of models. `x` and `y` give a corner's coordinates.
template <class Corner, class X, class Y>
std::optional<std::pair<std::size_t, std::size_t>> first_crossing(
    const std::vector<Corner>& corners, X x, Y y) {
  const std::size_t count = corners.size();
  if (count > most_sides_compared) {
    return std::nullopt;
  }
  const auto side_of = [&](std::size_t from, std::size_t to, std::size_t at) {
    const Corner& a = corners[from];
    const Corner& b = corners[to % count];
    const Corner& p = corners[at % count];
    return (x(b) - x(a)) * (y(p) - y(a)) - (y(b) - y(a)) * (x(p) - x(a));
  };
  const auto parts = [&](std::size_t from, std::size_t other) {
    const double one = side_of(from, from + 1, other);
    const double two = side_of(from, from + 1, other + 1);
    return (one > 0.0 && two < 0.0) || (one < 0.0 && two > 0.0);
  };
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t k = i + 2; k < count; ++k) {
      if (parts(i, k) && parts(k, i)) {
        return std::pair(i, k);
      }
    }
  }
  return std::nullopt;
}

}  // namespace ridgeward::importing
