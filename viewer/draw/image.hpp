#pragma once
// Pictures in memory, as PNG, and how two of them differ.

#include "base/fault.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace ridgeward::draw {

/// Opaque picture, rows from the top, three bytes a pixel (red, green, blue).
struct Image {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgb;
};

/// PNG bytes; equal pictures give equal bytes.
std::string to_png(const Image& image);
/// Faults: picture.unreadable.
Result<Image> read_png(const std::string& path);

/// How two pictures differ to the eye.
struct Difference {
  double share = 1.0;  ///< of pixels whose colour is off by more than the fuzz; 1 if sizes differ
  Image marked;        ///< the second picture, pale, differing pixels in red
};
/// `fuzz` is the largest difference of a colour channel, 0..255, that counts as equal; a pixel may
/// also match any of its eight neighbours, so that an edge moved by less than a pixel is no
/// difference.
Difference compare(const Image& expected, const Image& found, int fuzz);

}  // namespace ridgeward::draw
