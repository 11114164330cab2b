#include "mesh/near.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>
#include <optional>
#include <vector>

namespace ridgeward::mesh {
namespace {

using importing::Point;

constexpr std::string_view blanks = " \t\r";

/// Where the corners stand in a text, or in rows of bytes.
struct Layout {
  std::string_view word{};  ///< before the numbers of a line; empty: nothing stands before them
  std::size_t first = 0;    ///< byte from which they are looked for
  std::size_t count = std::numeric_limits<std::size_t>::max();
  /// Which number of a line is x, y and z; of rows of bytes where each begins.
  std::array<std::size_t, 3> columns{0, 1, 2};
  std::size_t row_size = 0;  ///< of rows of bytes; 0: lines of text
  bool is_big_endian = false;
};

std::vector<std::string_view> words_of(std::string_view line) {
  std::vector<std::string_view> words;
  for (std::size_t at = line.find_first_not_of(blanks); at != std::string_view::npos;) {
    const std::size_t end = std::min(line.size(), line.find_first_of(blanks, at));
    words.push_back(line.substr(at, end - at));
    at = line.find_first_not_of(blanks, end);
  }
  return words;
}

/// In bytes; 0 of a list and of what is no type of PLY.
std::size_t size_of(std::string_view type) {
  constexpr std::array<std::pair<std::string_view, std::size_t>, 16> sizes{{{"char", 1},
                                                                            {"int8", 1},
                                                                            {"uchar", 1},
                                                                            {"uint8", 1},
                                                                            {"short", 2},
                                                                            {"int16", 2},
                                                                            {"ushort", 2},
                                                                            {"uint16", 2},
                                                                            {"int", 4},
                                                                            {"int32", 4},
                                                                            {"uint", 4},
                                                                            {"uint32", 4},
                                                                            {"float", 4},
                                                                            {"float32", 4},
                                                                            {"double", 8},
                                                                            {"float64", 8}}};
  const auto* const at =
      std::find_if(sizes.begin(), sizes.end(), [&](const auto& one) { return one.first == type; });
  return at == sizes.end() ? 0 : at->second;
}

/// Of a PLY file whose corners come first, as text or with x, y and z as doubles.
class PlyHead {
 public:
  std::optional<Layout> read(std::string_view bytes) {
    constexpr std::string_view end_words = "\nend_header";
    const std::size_t end = bytes.find(end_words);
    if (end == std::string_view::npos) {
      return std::nullopt;
    }
    std::string_view left = bytes.substr(0, end + 1);
    for (std::size_t line = left.find('\n'); line != std::string_view::npos && is_good_;
         line = left.find('\n')) {
      take(words_of(left.substr(0, line)));
      left.remove_prefix(line + 1);
    }
    const std::size_t body = bytes.find('\n', end + 1);
    const bool has_all = std::none_of(layout_.columns.begin(), layout_.columns.end(),
                                      [](std::size_t at) { return at == nowhere; });
    if (!is_good_ || !has_all || body == std::string_view::npos || format_.empty()) {
      return std::nullopt;
    }
    layout_.first = body + 1;
    layout_.is_big_endian = format_ == "binary_big_endian";
    return layout_;
  }

 private:
  static constexpr std::size_t nowhere = std::numeric_limits<std::size_t>::max();

  void take(const std::vector<std::string_view>& words) {
    if (words.size() > 1 && words[0] == "format") {
      format_ = words[1];
    } else if (words.size() > 2 && words[0] == "element") {
      ++elements_;
      is_good_ = elements_ > 1 || words[1] == "vertex";
      if (elements_ == 1) {
        const std::string_view digits = words[2];
        std::from_chars(digits.data(), digits.data() + digits.size(), layout_.count);
        layout_.columns = {nowhere, nowhere, nowhere};
      }
    } else if (words.size() > 2 && words[0] == "property" && elements_ == 1) {
      property(words[1], words[2]);
    }
  }
  void property(std::string_view type, std::string_view name) {
    const bool is_text = format_ == "ascii";
    const std::size_t size = size_of(type);
    const std::size_t axis = name.size() == 1 ? std::string_view("xyz").find(name) : nowhere;
    if (axis < 3) {
      layout_.columns.at(axis) = is_text ? column_ : layout_.row_size;
    }
    is_good_ = size > 0 && (is_text || axis >= 3 || size == sizeof(double));
    ++column_;
    layout_.row_size += is_text ? 0 : size;
  }

  Layout layout_;
  std::string_view format_;
  std::size_t elements_ = 0;
  std::size_t column_ = 0;
  bool is_good_ = true;
};

std::optional<Layout> layout_of(std::string_view bytes, const std::string& kind) {
  if (kind == "obj") {
    return Layout{"v"};
  }
  if (kind == "stl" && bytes.starts_with("solid")) {
    return Layout{"vertex"};
  }
  return kind == "ply" ? PlyHead().read(bytes) : std::nullopt;
}

/// One number of a corner, and where it is written.
struct Written {
  double value = 0.0;
  std::size_t begin = 0;
  std::size_t end = 0;
};
using Corner = std::array<Written, 3>;

/// Of a line of text that starts at `start` of the bytes.
std::optional<Corner> corner_in(std::string_view line, const Layout& layout, std::size_t start) {
  std::size_t at = std::min(line.size(), line.find_first_not_of(blanks));
  if (line.substr(at, layout.word.size()) != layout.word) {
    return std::nullopt;
  }
  at += layout.word.size();
  Corner corner;
  const std::size_t last = *std::max_element(layout.columns.begin(), layout.columns.end());
  for (std::size_t column = 0; column <= last; ++column) {
    const std::size_t begin = line.find_first_not_of(blanks, at);
    if (begin == std::string_view::npos || (begin == at && !(layout.word.empty() && column == 0))) {
      return std::nullopt;
    }
    Written number{0.0, start + begin, 0};
    const auto [end, error] =
        std::from_chars(line.data() + begin, line.data() + line.size(), number.value);
    if (error != std::errc{} || !std::isfinite(number.value)) {
      return std::nullopt;
    }
    at = static_cast<std::size_t>(end - line.data());
    number.end = start + at;
    for (std::size_t k = 0; k < 3; ++k) {
      corner.at(k) = layout.columns.at(k) == column ? number : corner.at(k);
    }
  }
  return corner;
}

/// Of a row of bytes that starts at `start`.
std::optional<Corner> corner_at(std::string_view bytes, const Layout& layout, std::size_t start) {
  Corner corner;
  for (std::size_t k = 0; k < 3; ++k) {
    const std::size_t begin = start + layout.columns.at(k);
    std::uint64_t bits = 0;
    for (std::size_t i = 0; i < sizeof(double); ++i) {
      const std::size_t shift = 8 * (layout.is_big_endian ? sizeof(double) - 1 - i : i);
      bits |= std::uint64_t{static_cast<unsigned char>(bytes[begin + i])} << shift;
    }
    corner.at(k) = {std::bit_cast<double>(bits), begin, begin + sizeof(double)};
    if (!std::isfinite(corner.at(k).value)) {
      return std::nullopt;
    }
  }
  return corner;
}

/// Calls `take` with each corner, in the order in which they stand.
template <class Take>
void each_corner(std::string_view bytes, const Layout& layout, Take take) {
  std::size_t at = layout.first;
  if (layout.row_size > 0) {
    for (std::size_t i = 0; i < layout.count && bytes.size() - at >= layout.row_size; ++i) {
      if (const auto corner = corner_at(bytes, layout, at)) {
        take(*corner);
      }
      at += layout.row_size;
    }
    return;
  }
  for (std::size_t found = 0; at < bytes.size() && found < layout.count;) {
    const std::size_t end = std::min(bytes.size(), bytes.find('\n', at));
    if (const auto corner = corner_in(bytes.substr(at, end - at), layout, at)) {
      take(*corner);
      ++found;
    }
    at = end + 1;
  }
}

std::string written(double value, const Layout& layout) {
  if (layout.row_size == 0) {
    std::array<char, 40> text{};
    const auto [end, error] = std::to_chars(text.data(), text.data() + text.size(), value);
    return {text.data(), error == std::errc{} ? end : text.data()};
  }
  const auto bits = std::bit_cast<std::uint64_t>(value);
  std::string bytes;
  for (std::size_t i = 0; i < sizeof(double); ++i) {
    const std::size_t shift = 8 * (layout.is_big_endian ? sizeof(double) - 1 - i : i);
    bytes += static_cast<char>(static_cast<unsigned char>(bits >> shift));
  }
  return bytes;
}

}  // namespace

void Middle::add(const Point& p) {
  for (std::size_t k = 0; k < 3; ++k) {
    low_.at(k) = std::min(low_.at(k), p.at(k));
    high_.at(k) = std::max(high_.at(k), p.at(k));
  }
}

Point Middle::at() const {
  Point middle{};
  for (std::size_t k = 0; k < 3; ++k) {
    middle.at(k) = std::round(low_.at(k) / 2.0 + high_.at(k) / 2.0);
  }
  return middle;
}

bool Middle::is_beyond(double far) const {
  if (low_[0] > high_[0]) {
    return false;
  }
  const Point middle = at();
  bool is_far = false;
  for (std::size_t k = 0; k < 3; ++k) {
    const double distance = std::abs(middle.at(k));
    is_far = is_far || (distance > far && distance > high_.at(k) - low_.at(k));
  }
  return is_far;
}

Near brought_near(std::string_view bytes, const std::string& kind, double far) {
  if (kind == "glb" || kind == "gltf") {
    return scene_brought_near(bytes, kind == "glb", far);
  }
  const std::optional<Layout> layout = layout_of(bytes, kind);
  if (!layout) {
    return {};
  }
  Middle middle;
  each_corner(bytes, *layout, [&](const Corner& corner) {
    middle.add({corner[0].value, corner[1].value, corner[2].value});
  });
  if (!middle.is_beyond(far)) {
    return {};
  }
  Near near{{}, middle.at()};
  std::size_t done = 0;
  each_corner(bytes, *layout, [&](Corner corner) {
    for (std::size_t k = 0; k < 3; ++k) {
      corner.at(k).value -= near.moved.at(k);
    }
    std::sort(corner.begin(), corner.end(),
              [](const Written& a, const Written& b) { return a.begin < b.begin; });
    for (const Written& number : corner) {
      near.bytes += bytes.substr(done, number.begin - done);
      near.bytes += written(number.value, *layout);
      done = number.end;
    }
  });
  near.bytes += bytes.substr(done);
  return near;
}

}  // namespace ridgeward::mesh
