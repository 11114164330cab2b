#include "base/utf8.hpp"

namespace ridgeward {

std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80U) {
    return 1;
  }
  std::size_t length = 0;
  unsigned least_second = 0x80U;
  unsigned most_second = 0xBFU;
  if (first >= 0xC2U && first <= 0xDFU) {
    length = 2;
  } else if (first >= 0xE0U && first <= 0xEFU) {
    length = 3;
    least_second = first == 0xE0U ? 0xA0U : 0x80U;  // no overlong form
    most_second = first == 0xEDU ? 0x9FU : 0xBFU;   // no surrogate
  } else if (first >= 0xF0U && first <= 0xF4U) {
    length = 4;
    least_second = first == 0xF0U ? 0x90U : 0x80U;
    most_second = first == 0xF4U ? 0x8FU : 0xBFU;  // none over U+10FFFF
  }
  if (length == 0 || text.size() < length || byte(1) < least_second || byte(1) > most_second) {
    return 0;
  }
  for (std::size_t i = 2; i < length; ++i) {
    if (byte(i) < 0x80U || byte(i) > 0xBFU) {
      return 0;
    }
  }
  return length;
}

std::size_t first_not_utf8(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t length = utf8_length(text.substr(at));
    if (length == 0) {
      return at;
    }
    at += length;
  }
  return std::string_view::npos;
}

std::string as_line(std::string_view words) {
  std::string line;
  for (std::size_t at = 0; at < words.size();) {
    const std::size_t length = utf8_length(words.substr(at));
    const auto first = static_cast<unsigned char>(words[at]);
    const bool is_control = first < 0x20U || first == 0x7FU ||
                            (first == 0xC2U && static_cast<unsigned char>(words[at + 1]) < 0xA0U);
    if (length == 0) {
      line += '?';
    } else if (is_control) {
      line += ' ';
    } else {
      line += words.substr(at, length);
    }
    at += length == 0 ? 1 : length;
  }
  return line;
}

}  // namespace ridgeward
