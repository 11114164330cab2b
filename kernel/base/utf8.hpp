#pragma once
// Text as UTF-8 (RFC 3629).

#include <cstddef>
#include <string>
#include <string_view>

namespace ridgeward {

/// Length of the character at the front of `text`; 0 if it is none. REQUIRES text that is not
/// empty. Inline: importers share it, and link no kernel.
inline std::size_t utf8_length(std::string_view text) {
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

/// Position of the first byte that is not UTF-8; npos if all are.
std::size_t first_not_utf8(std::string_view text);

/// Words of somebody else for a person's eyes, on one line: what is no UTF-8 becomes "?", control
/// characters (also those from U+0080, which some terminals obey) become spaces.
std::string as_line(std::string_view words);

}  // namespace ridgeward
