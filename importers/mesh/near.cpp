#include "mesh/near.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <limits>
#include <optional>

namespace ridgeward::mesh {
namespace {

using importing::Point;

constexpr std::string_view blanks = " \t\r";

/// Where the corners stand in a text.
struct Layout {
  std::string_view word;  ///< before the three numbers; empty: nothing stands before them
  std::size_t first = 0;  ///< byte from which they are looked for
  std::size_t count = std::numeric_limits<std::size_t>::max();
};

/// The lines after the head of a PLY file whose corners come first and start with x, y and z.
std::optional<Layout> ply_layout(std::string_view bytes) {
  constexpr std::string_view end_words = "\nend_header";
  constexpr std::string_view vertex_words = "\nelement vertex ";
  const std::string_view head = bytes.substr(0, bytes.find(end_words));
  const std::size_t vertex = head.find(vertex_words);
  if (head.size() == bytes.size() || head.find("format ascii") == std::string_view::npos ||
      vertex == std::string_view::npos || head.find("\nelement ") != vertex) {
    return std::nullopt;
  }
  Layout layout;
  const char* digits = head.data() + vertex + vertex_words.size();
  std::from_chars(digits, head.data() + head.size(), layout.count);
  std::string_view left = head.substr(vertex + 1);
  for (const std::string_view ending : {" x", " y", " z"}) {
    left.remove_prefix(std::min(left.size(), left.find('\n') + 1));
    std::string_view line = left.substr(0, left.find('\n'));
    line = line.substr(0, line.find_last_not_of(blanks) + 1);
    if (!line.starts_with("property") || !line.ends_with(ending)) {
      return std::nullopt;
    }
  }
  layout.first = bytes.find('\n', head.size() + 1) + 1;
  return layout;
}

std::optional<Layout> layout_of(std::string_view bytes, const std::string& kind) {
  if (kind == "obj") {
    return Layout{"v"};
  }
  if (kind == "stl" && bytes.starts_with("solid")) {
    return Layout{"vertex"};
  }
  return kind == "ply" ? ply_layout(bytes) : std::nullopt;
}

/// The three numbers of a corner's line and where they stand in it.
struct Corner {
  Point at{};
  std::size_t begin = 0;
  std::size_t end = 0;
};

std::optional<Corner> corner_in(std::string_view line, std::string_view word) {
  std::size_t at = std::min(line.size(), line.find_first_not_of(blanks));
  if (line.substr(at, word.size()) != word) {
    return std::nullopt;
  }
  at += word.size();
  Corner corner;
  for (std::size_t k = 0; k < 3; ++k) {
    const std::size_t begin = line.find_first_not_of(blanks, at);
    if (begin == std::string_view::npos || (begin == at && !word.empty())) {
      return std::nullopt;
    }
    corner.begin = k == 0 ? begin : corner.begin;
    const char* last = line.data() + line.size();
    const auto [end, error] = std::from_chars(line.data() + begin, last, corner.at.at(k));
    if (error != std::errc{} || !std::isfinite(corner.at.at(k))) {
      return std::nullopt;
    }
    at = static_cast<std::size_t>(end - line.data());
  }
  corner.end = at;
  return corner;
}

/// Calls `take` with each line that is a corner and where it starts.
template <class Take>
void each_corner(std::string_view bytes, const Layout& layout, Take take) {
  std::size_t found = 0;
  for (std::size_t at = layout.first; at < bytes.size() && found < layout.count;) {
    const std::size_t end = std::min(bytes.size(), bytes.find('\n', at));
    if (const auto corner = corner_in(bytes.substr(at, end - at), layout.word)) {
      take(*corner, at);
      ++found;
    }
    at = end + 1;
  }
}

}  // namespace

Near brought_near(std::string_view bytes, const std::string& kind, double far) {
  Near near;
  const std::optional<Layout> layout = layout_of(bytes, kind);
  if (!layout) {
    return near;
  }
  constexpr double none = std::numeric_limits<double>::infinity();
  Point low{none, none, none};
  Point high{-none, -none, -none};
  each_corner(bytes, *layout, [&](const Corner& corner, std::size_t) {
    for (std::size_t k = 0; k < 3; ++k) {
      low.at(k) = std::min(low.at(k), corner.at.at(k));
      high.at(k) = std::max(high.at(k), corner.at.at(k));
    }
  });
  bool is_far = false;
  for (std::size_t k = 0; k < 3 && low.at(k) < none; ++k) {
    near.moved.at(k) = std::round(low.at(k) / 2.0 + high.at(k) / 2.0);
    // What is as large as its distance stays far from some origin.
    const double distance = std::abs(near.moved.at(k));
    is_far = is_far || (distance > far && distance > high.at(k) - low.at(k));
  }
  if (!is_far) {
    return {};
  }
  std::size_t done = 0;
  each_corner(bytes, *layout, [&](const Corner& corner, std::size_t start) {
    near.bytes += bytes.substr(done, start + corner.begin - done);
    std::array<char, 120> text{};
    for (std::size_t k = 0; k < 3; ++k) {
      const double value = corner.at.at(k) - near.moved.at(k);
      const auto [end, error] = std::to_chars(text.data(), text.data() + text.size(), value);
      near.bytes += k == 0 ? "" : " ";
      near.bytes.append(text.data(), error == std::errc{} ? end : text.data());
    }
    done = start + corner.end;
  });
  near.bytes += bytes.substr(done);
  return near;
}

}  // namespace ridgeward::mesh
