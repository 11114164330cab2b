#include "draw/image.hpp"

#include <stb/stb_image.h>
#include <stb/stb_image_write.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <memory>

namespace ridgeward::draw {
namespace {

constexpr std::size_t channels = 3;

const std::uint8_t* pixel(const Image& image, int x, int y) {
  return image.rgb.data() +
         channels * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) +
                     static_cast<std::size_t>(x));
}

bool alike(const std::uint8_t* a, const std::uint8_t* b, int fuzz) {
  return std::equal(a, a + channels, b, [fuzz](int p, int q) { return std::abs(p - q) <= fuzz; });
}

/// Whether a pixel of `one` is found at its place, or next to it, in `other`.
bool is_found(const Image& one, const Image& other, int x, int y, int fuzz) {
  const std::uint8_t* wanted = pixel(one, x, y);
  for (int v = std::max(0, y - 1); v <= std::min(other.height - 1, y + 1); ++v) {
    for (int u = std::max(0, x - 1); u <= std::min(other.width - 1, x + 1); ++u) {
      if (alike(wanted, pixel(other, u, v), fuzz)) {
        return true;
      }
    }
  }
  return false;
}

}  // namespace

std::string to_png(const Image& image) {
  std::string bytes;
  const auto append = [](void* context, void* data, int size) {
    static_cast<std::string*>(context)->append(static_cast<const char*>(data),
                                               static_cast<std::size_t>(size));
  };
  stbi_write_png_compression_level = 40;
  stbi_write_png_to_func(append, &bytes, image.width, image.height, static_cast<int>(channels),
                         image.rgb.data(), image.width * static_cast<int>(channels));
  return bytes;
}

Result<Image> read_png(const std::string& path) {
  Image image;
  int found_channels = 0;
  const std::unique_ptr<stbi_uc, void (*)(void*)> pixels(
      stbi_load(path.c_str(), &image.width, &image.height, &found_channels,
                static_cast<int>(channels)),
      stbi_image_free);
  if (!pixels) {
    return Fault{"picture.unreadable", path, "this is no picture that can be read",
                 "name a PNG file"};
  }
  image.rgb.assign(pixels.get(), pixels.get() + channels * static_cast<std::size_t>(image.width) *
                                                    static_cast<std::size_t>(image.height));
  return image;
}

namespace {

void make_pale(std::uint8_t* pixel_at) {
  std::transform(pixel_at, pixel_at + channels, pixel_at,
                 [](int c) { return static_cast<std::uint8_t>(160 + c * 95 / 255); });
}

void make_red(std::uint8_t* pixel_at) {
  pixel_at[0] = 220;
  pixel_at[1] = pixel_at[2] = 0;
}

}  // namespace

Difference compare(const Image& expected, const Image& found, int fuzz) {
  Difference difference;
  difference.marked = found;
  if (expected.width != found.width || expected.height != found.height || found.rgb.empty()) {
    return difference;
  }
  std::size_t off = 0;
  for (int y = 0; y < found.height; ++y) {
    for (int x = 0; x < found.width; ++x) {
      std::uint8_t* mark = difference.marked.rgb.data() + (pixel(found, x, y) - found.rgb.data());
      if (is_found(expected, found, x, y, fuzz) && is_found(found, expected, x, y, fuzz)) {
        make_pale(mark);
      } else {
        make_red(mark);
        ++off;
      }
    }
  }
  difference.share = static_cast<double>(off) / (static_cast<double>(found.width) * found.height);
  return difference;
}

}  // namespace ridgeward::draw
